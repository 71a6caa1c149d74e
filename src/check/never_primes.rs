//! Reports a siphon that was never primed: it climbs above the water that feeds it, and passes nothing until it is
//! full.

use super::state_view::{PipedRun, SAME_HEIGHT_M, StateView, TRICKLE_M3_S};
use super::wording::{finding, flow, height, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let gravity = seen
        .runs
        .iter()
        .filter(|run| !run.pumped && !run.has_shut_valve());
    gravity.filter_map(|run| of_run(seen, run)).collect()
}

/// Returns whether this rule reports the run.
pub(super) fn reports(seen: &StateView<'_>, run: &PipedRun<'_>) -> bool {
    !run.pumped && !run.has_shut_valve() && of_run(seen, run).is_some()
}

/// A problem where the vessel that it would drain spills, whatever the run does once it is primed; else a warning.
fn of_run(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Finding> {
    let air = run.here.air.filter(|air| !air.primed)?;
    let full = air.full_flow_m3_s;
    if full.abs() <= TRICKLE_M3_S {
        return None;
    }
    let source = run.end(usize::from(full < 0.0));
    let level_m = seen.head_m(source);
    let rim_m = seen.vessel(source).map(|held| held.here.rim_m);
    // A run that flows while its vessel is brim full is a weir, which the level already shows.
    let climbs = |from_m: f64| air.high_m > from_m + SAME_HEIGHT_M;
    let spills = spills(seen, source);
    let over_rim = rim_m.is_some_and(climbs);
    if !(over_rim && spills || level_m.is_some_and(climbs) && !run.flows()) {
        return None;
    }
    let id = &run.drawn.id;
    let mut text: Vec<Piece> = vec![
        id.into(),
        " climbs to ".into(),
        height(air.high_m),
        ", over the water of ".into(),
        source.into(),
        when(seen.report.state).into(),
        ": it is a siphon that nobody has filled, and passes nothing by itself".into(),
    ];
    if spills {
        text.extend([". Without it ".into(), source.into(), " spills".into()]);
    } else {
        text.extend([
            ", where ".into(),
            flow(full.abs()),
            " would pass if it were full".into(),
        ]);
    }
    text.push(".".into());
    let severity = if spills {
        Severity::Problem
    } else {
        Severity::Warning
    };
    let kind = (Code::MayNeverPrime, severity);
    let found = finding(seen, kind, &[id, source], text);
    let stands_m = rim_m.filter(|_| spills).or(level_m)?;
    Some(with_limit(found, Quantity::Height, (air.high_m, stands_m)))
}

fn spills(seen: &StateView<'_>, part: &Id) -> bool {
    seen.vessel(part).is_some_and(|held| seen.floods(held))
}
