//! A high point of a gravity run above the grade: air that gathers there is not pressed on.

use super::line;
use super::seen::{Piped, SAME_M, Seen};
use super::tell::{finding, height, held_to, when};
use crate::finding::{Code, Finding, Severity};
use crate::states::report::{Control, Regime};
use crate::units::Quantity;

pub(super) fn find(seen: &Seen<'_>) -> Vec<Finding> {
    seen.runs
        .iter()
        .filter_map(|run| of_run(seen, run))
        .collect()
}

/// Only of a run by gravity that counts as full; over a raised crest stands the air of its vent, and a run
/// that climbs over what feeds it is told of as that.
fn of_run(seen: &Seen<'_>, run: &Piped<'_>) -> Option<Finding> {
    let full = run.here.control == Control::Outlet && run.here.regime == Regime::Full;
    if run.pumped || !full || run.facts.rise.is_some() || !run.flows() {
        return None;
    }
    let feed_m = seen.head_m(run.source())?;
    let corners: Vec<(f64, f64)> = line::corners(seen, run).collect();
    let (top_m, grade_m) = high_points(&corners)
        .filter(|(top_m, grade_m)| *top_m > grade_m + SAME_M && *top_m <= feed_m + SAME_M)
        .max_by(|a, b| (a.0 - a.1).total_cmp(&(b.0 - b.1)))?;
    let id = &run.drawn.id;
    let text = vec![
        "Air locks in ".into(),
        id.into(),
        ": its high point at ".into(),
        height(top_m),
        " stands above the grade at ".into(),
        height(grade_m),
        when(seen.report.state).into(),
        ", and air that gathers there takes head from the flow.".into(),
    ];
    let found = finding(seen, (Code::AirLock, Severity::Warning), &[id], text);
    Some(held_to(found, Quantity::Height, (top_m, grade_m)))
}

/// Corners between the ends that lie higher than something before and something behind them.
fn high_points(corners: &[(f64, f64)]) -> impl Iterator<Item = (f64, f64)> + '_ {
    let lowest = |some: &[(f64, f64)]| some.iter().map(|at| at.0).fold(f64::INFINITY, f64::min);
    corners.iter().enumerate().filter_map(move |(place, at)| {
        let before_m = lowest(corners.get(..place)?);
        let behind_m = lowest(corners.get(place + 1..)?);
        (at.0 > before_m + SAME_M && at.0 > behind_m + SAME_M).then_some(*at)
    })
}
