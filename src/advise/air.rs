//! Cures of trapped air: a vent, a pipe laid without the high point, a siphon primed by hand.
//!
//! Each is tried on the layout, solved and checked as a whole, before it is offered.

use super::advice;
use super::bench::{Bench, SAME_HEIGHT_M, level_of};
use super::step::{down, up};
use crate::evaluate::Evaluation;
use crate::finding::{Change, Code, Cure, Finding, Piece, Sentence};
use crate::layout::RunField;
use crate::layout::{Id, Layout, Run, RunEnd};
use crate::states::report::{RunAir, RunReport};
use crate::units::Quantity;

/// Smallest flow that counts as flow, m³/s.
const NO_FLOW_M3_S: f64 = 1e-7;
/// Height of the top of a vent above the grade there, metres, so that a swing of the grade does not spill. Common
/// practice, no source.
const OVER_GRADE_M: f64 = 0.1;

/// Returns the cures, best first. A vent would break a siphon, which is primed by hand instead.
pub(super) fn cures(bench: &Bench<'_>, found: &Finding) -> Vec<Cure> {
    let Some(here) = RunWithAir::of(bench, found) else {
        return Vec::new();
    };
    let lower = lay_lower(bench, &here);
    let cures = match found.code {
        Code::AirLock => [vent(bench, &here), lower],
        _ => [lower, fill_by_hand(bench, &here)],
    };
    cures.into_iter().flatten().collect()
}

/// A run with air at its high point.
struct RunWithAir<'a> {
    found: &'a Finding,
    run: &'a Run,
    report: &'a RunReport,
    air: RunAir,
    /// Joint at the high point; none where it is a corner.
    joint: Option<&'a Id>,
}

impl<'a> RunWithAir<'a> {
    fn of(bench: &Bench<'a>, found: &'a Finding) -> Option<RunWithAir<'a>> {
        let run = bench.layout.run(found.about.first()?)?;
        let mut runs = bench.report(found)?.runs.iter();
        let report = runs.find(|one| one.id == run.id)?;
        let second = found.about.get(1);
        let joints = &bench.layout.joints;
        Some(RunWithAir {
            found,
            run,
            report,
            air: report.air?,
            joint: second.filter(|id| joints.iter().any(|joint| joint.id == **id)),
        })
    }

    /// Returns the end that water would come from.
    fn upper(&self) -> RunEnd {
        match self.air.full_flow_m3_s < 0.0 {
            true => RunEnd::To,
            false => RunEnd::From,
        }
    }

    /// Returns the words for the position of the high point, for the middle of a sentence.
    fn place(&self) -> Vec<Piece> {
        let mut place: Vec<Piece> = match self.joint {
            Some(joint) => vec![joint.into()],
            None => vec![
                (&self.run.id).into(),
                ", ".into(),
                Piece::Number(Quantity::Length, self.air.distance_m),
                " from ".into(),
                (&self.run.from.at).into(),
            ],
        };
        place.extend([
            ", at ".into(),
            Piece::Number(Quantity::Height, self.air.high_m),
        ]);
        place
    }

    /// Returns whether the finding is gone and water flows.
    fn cured(&self, bench: &Bench<'_>, solved: &Evaluation) -> bool {
        let report = solved.state(self.found.state);
        let mut runs = report.into_iter().flat_map(|report| &report.runs);
        let run = runs.find(|one| one.id == self.run.id);
        let flows = run.is_some_and(|run| run.flow_m3_s.abs() > NO_FLOW_M3_S);
        flows && bench.cures(solved, self.found)
    }
}

/// Adds a vent at the high point, with its top above the grade there.
fn vent(bench: &Bench<'_>, here: &RunWithAir<'_>) -> Option<Cure> {
    let mut layout = bench.layout.clone();
    open(&mut layout, here, None)?;
    let solved = bench.solve_layout(&layout)?;
    let spills = |one: &&Finding| one.code == Code::VentSpills;
    let grades = solved.findings.iter().filter(spills);
    let grade_m = grades.filter_map(|one| one.measured).reduce(f64::max);
    let top_m = grade_m.map(|grade_m| up(grade_m + OVER_GRADE_M, bench.layout.units));
    let solved = match top_m {
        Some(_) => {
            open(&mut layout, here, top_m)?;
            bench.solve_layout(&layout)?
        }
        None => solved,
    };
    if !here.cured(bench, &solved) {
        return None;
    }
    let mut text: Vec<Piece> = vec!["Fit a vent to ".into()];
    text.extend(here.place());
    if let Some(top_m) = top_m {
        text.extend([
            ", and take it up to ".into(),
            Piece::Number(Quantity::Height, top_m),
            " or higher".into(),
        ]);
    }
    text.push(".".into());
    Some(advice(text))
}

/// Vents the corner or the joint at the high point; none where there is neither.
fn open(layout: &mut Layout, here: &RunWithAir<'_>, top_m: Option<f64>) -> Option<()> {
    if let Some(id) = here.joint {
        let joint = layout.joints.iter_mut().find(|joint| joint.id == *id)?;
        (joint.vented, joint.vent_top_m) = (true, top_m.or(joint.vent_top_m));
        return Some(());
    }
    let run = layout.runs.iter_mut().find(|run| run.id == here.run.id)?;
    let mut found = None;
    for corner in &mut run.route {
        if (corner.z_m - here.air.high_m).abs() < SAME_HEIGHT_M {
            (corner.vented, corner.vent_top_m) = (true, top_m.or(corner.vent_top_m));
            found = Some(());
        }
    }
    found
}

/// Lays the same pipe with no corner above [`highest_m`].
fn lay_lower(bench: &Bench<'_>, here: &RunWithAir<'_>) -> Option<Cure> {
    if here.run.already_built || here.joint.is_some() {
        return None;
    }
    let to = down(highest_m(bench, here)?, bench.layout.units);
    let corners = here.run.route.iter().enumerate();
    let over = corners.filter(|(_, corner)| corner.z_m > to + SAME_HEIGHT_M);
    let changes: Vec<Change> = over
        .map(|(index, corner)| Change {
            part: here.run.id.clone(),
            field: RunField::CornerZ(index).into(),
            from: corner.z_m,
            to,
            quantity: Quantity::Height,
        })
        .collect();
    if changes.is_empty() || !here.cured(bench, &bench.solve(&changes)?) {
        return None;
    }
    let text = vec![
        "Lay ".into(),
        (&here.run.id).into(),
        " without the high point: nowhere over ".into(),
        Piece::Number(Quantity::Height, to),
        ".".into(),
    ];
    Some(Cure {
        text: Sentence(text),
        changes,
    })
}

/// Highest elevation that the corners may have, metres: for a siphon, the water (or the rim, if lower) less one bore;
/// else the crest of the end that the pipe falls from, or that its pump lifts to.
fn highest_m(bench: &Bench<'_>, here: &RunWithAir<'_>) -> Option<f64> {
    let pumped = here.run.pump.is_some();
    let upper = here.run.end(here.upper());
    if here.found.code == Code::MayNeverPrime {
        let level_m = level_of(bench.report(here.found)?, &upper.at)?;
        let rim_m = bench.layout.vessel(&upper.at)?.rim_m;
        return Some(level_m.min(rim_m) - here.report.bore_m);
    }
    let end = match (pumped, here.upper()) {
        (false, _) => upper,
        (true, RunEnd::From) => &here.run.to,
        (true, RunEnd::To) => &here.run.from,
    };
    end.opening.as_ref()?.crest_m()
}

/// Primes a siphon by hand, where it then stays full.
fn fill_by_hand(bench: &Bench<'_>, here: &RunWithAir<'_>) -> Option<Cure> {
    let mut layout = bench.layout.clone();
    let run = layout.runs.iter_mut().find(|run| run.id == here.run.id)?;
    run.starts_primed = true;
    let solved = bench.solve_layout(&layout)?;
    here.cured(bench, &solved).then(|| {
        advice(vec![
            "Fill ".into(),
            (&here.run.id).into(),
            " with water by hand before use, and say so in the layout (starts_primed).".into(),
        ])
    })
}
