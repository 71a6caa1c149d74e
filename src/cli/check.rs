//! `check`: the levels in every state, and what is wrong.

use super::args::Check;
use super::{EXIT_PROBLEM, Failure, NO_ANSWER, NOTHING_WRONG, Outcome, json, services};
use super::{report_json, report_text};
use crate::evaluate::Evaluation;
use crate::finding::Severity;
use crate::layout::Layout;
use crate::state::State;
use std::path::Path;

/// Reads the layout, solves it and reports.
pub(super) fn check(asked: &Check) -> Outcome {
    let told = services::read(&asked.file).map(|mut layout| {
        if let Some(units) = asked.units {
            layout.units = units.into();
        }
        let evaluation = services::evaluate(&layout, &states(asked.state));
        (layout, evaluation)
    });
    match (told, asked.json) {
        (Ok((layout, evaluation)), true) => report_as_json(&layout, &evaluation, &asked.file),
        (Ok((layout, evaluation)), false) => {
            report_as_text(&layout, &evaluation, Some(&asked.file))
        }
        (Err(failure), true) => Outcome::failed_json(&failure),
        (Err(failure), false) => Outcome::failed(&failure),
    }
}

/// The output of `check` for a file, or for the demo.
pub(super) fn without_window(file: Option<&Path>) -> Outcome {
    let layout = match file {
        Some(file) => services::read(file),
        None => services::demo(),
    };
    match layout {
        Ok(layout) => report_as_text(&layout, &services::evaluate(&layout, &State::ALL), file),
        Err(failure) => Outcome::failed(&failure),
    }
}

/// All states, unless one is asked for.
fn states(asked: Option<State>) -> Vec<State> {
    asked.map_or_else(|| State::ALL.to_vec(), |state| vec![state])
}

/// The report for people; a state that could not be solved or did not settle is also reported on standard error.
fn report_as_text(layout: &Layout, evaluation: &Evaluation, file: Option<&Path>) -> Outcome {
    let failure = no_answer(evaluation, file);
    Outcome {
        out: report_text(layout, evaluation, layout.units),
        err: failure.map_or(String::new(), |one| format!("{}\n", one.line_text())),
        code: exit_code(evaluation),
    }
}

/// The report for scripts, with an `error` key where a state could not be solved or did not settle.
fn report_as_json(layout: &Layout, evaluation: &Evaluation, file: &Path) -> Outcome {
    let mut report = report_json(layout, evaluation);
    if let (Some(failure), Some(object)) =
        (no_answer(evaluation, Some(file)), report.as_object_mut())
    {
        object.insert("error".to_owned(), failure.error());
    }
    Outcome {
        out: json::print(&report),
        err: String::new(),
        code: exit_code(evaluation),
    }
}

/// The first state that could not be solved, as a failure.
pub(super) fn not_converged(evaluation: &Evaluation, file: Option<&Path>) -> Option<Failure> {
    let (state, parts) = evaluation.unsolved.first()?;
    let failure = Failure {
        part: parts.first().map(|id| id.as_str().to_owned()),
        ..Failure::not_converged(state.word())
    };
    Some(in_file(failure, file))
}

/// The failure of [`not_converged`], else the first state that did not settle.
fn no_answer(evaluation: &Evaluation, file: Option<&Path>) -> Option<Failure> {
    let unsettled = || {
        let state = evaluation.unsettled().next()?;
        Some(in_file(Failure::unsettled(state.word()), file))
    };
    not_converged(evaluation, file).or_else(unsettled)
}

fn in_file(failure: Failure, file: Option<&Path>) -> Failure {
    match file {
        Some(file) => failure.in_file(file),
        None => failure,
    }
}

/// The exit code: 2 where a state could not be solved or did not settle, 1 where there is a problem, else 0.
pub fn exit_code(evaluation: &Evaluation) -> i32 {
    let otherwise = evaluation.variants.iter().flat_map(|one| &one.findings);
    let mut findings = evaluation.findings.iter().chain(otherwise);
    if !evaluation.unsolved.is_empty() || evaluation.unsettled().next().is_some() {
        NO_ANSWER
    } else if findings.any(|one| one.severity == Severity::Problem) {
        EXIT_PROBLEM
    } else {
        NOTHING_WRONG
    }
}
