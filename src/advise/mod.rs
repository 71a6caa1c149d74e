//! Computes cures: what to change, and to how much, so that a finding goes away.
//!
//! A search tries each change on a quick preview of the running state; what it finds is then solved and checked as a
//! whole before it is offered. What cannot be cured is left without a cure.
//!
//! Invariant: does not change the layout of the caller; never fails; does a bounded amount of work.

mod air;
mod band;
mod bench;
mod course;
mod direct;
mod drain;
mod drawing;
mod guess;
mod less_flow;
mod lower;
mod rim;
mod search;
mod silent;
mod size;
mod spill;
mod step;

use crate::catalogue::Catalogue;
use crate::evaluate::{Evaluation, Previewed};
use crate::finding::{Code, Cure, Finding, Piece, Sentence};
use crate::layout::Layout;
use crate::lower::problem::Problem;
use crate::state::State;
pub use band::{Band, Beyond, band};
use bench::Bench;
use drawing::DrawingCures;
pub use guess::{Duty, Guess, guess};

/// Most findings that cures are searched for, worst first.
const MOST_SEARCHES: usize = 12;
/// Most runs of a layout in which cures are searched for: with more, a preview takes too long to repeat often.
const MOST_RUNS: usize = 2000;

/// Returns the evaluation with the cures of the drawing alone, which need no search.
pub fn with_cures_of_drawing(layout: &Layout, mut evaluation: Evaluation) -> Evaluation {
    add_known(layout, &evaluation.problems, &mut evaluation.findings);
    for variant in &mut evaluation.variants {
        add_known(layout, &variant.problems, &mut variant.findings);
    }
    evaluation
}

/// As [`with_cures_of_drawing`], for a preview.
pub fn preview_with_cures_of_drawing(layout: &Layout, mut preview: Previewed) -> Previewed {
    add_known(layout, &preview.problems, &mut preview.findings);
    preview
}

fn add_known(layout: &Layout, problems: &[Problem], findings: &mut [Finding]) {
    let known = DrawingCures::new(layout, problems);
    for found in findings.iter_mut().filter(|found| found.cures.is_empty()) {
        found.cures = known.of(found);
    }
}

/// Returns the evaluation with cures added to the findings that have none, best first.
///
/// Takes at most about 60 previews and a dozen full solutions per finding.
pub fn with_cures(layout: &Layout, catalogue: &Catalogue, evaluation: Evaluation) -> Evaluation {
    with_cures_while(layout, catalogue, &evaluation, &|| true).unwrap_or(evaluation)
}

/// As [`with_cures`], asking `go_on` before each finding; none as soon as it returns false.
pub fn with_cures_while(
    layout: &Layout,
    catalogue: &Catalogue,
    evaluation: &Evaluation,
    go_on: &dyn Fn() -> bool,
) -> Option<Evaluation> {
    let evaluation = with_cures_of_drawing(layout, evaluation.clone());
    let findings = cured(layout, catalogue, &evaluation, go_on)?;
    Some(Evaluation {
        findings,
        ..evaluation
    })
}

fn cured(
    layout: &Layout,
    catalogue: &Catalogue,
    evaluation: &Evaluation,
    go_on: &dyn Fn() -> bool,
) -> Option<Vec<Finding>> {
    let mut searches = if layout.runs.len() > MOST_RUNS {
        0
    } else {
        MOST_SEARCHES
    };
    let cured = evaluation.findings.iter().map(|found| {
        if !go_on() {
            return None;
        }
        let mut found = found.clone();
        if found.cures.is_empty() {
            let bench = Bench::new(layout, catalogue, evaluation);
            found.cures = if takes_a_search(&found) && searches > 0 {
                searches -= 1;
                searched(&bench, &found)
            } else {
                let on_the_way = course::cures(&bench, &found);
                if on_the_way.is_empty() {
                    direct::cures(&bench, &found)
                } else {
                    on_the_way
                }
            };
        }
        Some(found)
    });
    cured.collect()
}

fn takes_a_search(found: &Finding) -> bool {
    let by_level = matches!(found.code, Code::Spills | Code::LittleFreeboard);
    let by_drain = matches!(found.code, Code::DrainTooSmall | Code::LittleReserve);
    let by_air = matches!(found.code, Code::AirLock | Code::MayNeverPrime);
    found.state == State::Running && (by_level || by_drain || by_air)
}

fn searched(bench: &Bench<'_>, found: &Finding) -> Vec<Cure> {
    match found.code {
        Code::Spills | Code::LittleFreeboard => spill::cures(bench, found),
        Code::AirLock | Code::MayNeverPrime => air::cures(bench, found),
        _ => drain::cures(bench, found),
    }
}

/// Returns a cure in words alone.
fn advice(text: Vec<Piece>) -> Cure {
    Cure {
        text: Sentence(text),
        changes: Vec::new(),
    }
}
