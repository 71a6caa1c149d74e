//! Reports a gravity run with a corner above the level that feeds it, where air gathers.

use super::state_view::{PipedRun, SAME_HEIGHT_M, StateView};
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::layout::Id;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let gravity = seen
        .runs
        .iter()
        .filter(|run| !run.pumped && !run.has_shut_valve());
    gravity.filter_map(|run| of_run(seen, run)).collect()
}

fn of_run(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Finding> {
    // Trapped air and siphons that never prime are reported by their own rules.
    if run.here.air.is_some_and(|air| !air.primed) {
        return None;
    }
    let corners = run.drawn.route.iter().map(|corner| corner.z_m);
    let highest_m = corners.reduce(f64::max)?;
    let (feed, level_m) = feed(seen, run)?;
    if highest_m <= level_m + SAME_HEIGHT_M {
        return None;
    }
    let id = &run.drawn.id;
    let text = vec![
        id.into(),
        " climbs to ".into(),
        height(highest_m),
        ", over the level of ".into(),
        feed.into(),
        " that feeds it at ".into(),
        height(level_m),
        when(seen.report.state).into(),
        ": air gathers there and can stop the flow.".into(),
    ];
    let kind = (Code::RunClimbs, Severity::Warning);
    let found = finding(seen, kind, &[id, feed], text);
    Some(with_limit(found, Quantity::Height, (highest_m, level_m)))
}

/// Returns the part that feeds a run, with its level: the upstream one, or the higher one where nothing flows.
fn feed<'a>(seen: &StateView<'a>, run: &PipedRun<'a>) -> Option<(&'a Id, f64)> {
    let level = |part: &'a Id| Some((part, seen.head_m(part)?));
    if run.flows() {
        return level(run.source());
    }
    match (level(run.end(0)), level(run.end(1))) {
        (Some(a), Some(b)) => Some(if b.1 > a.1 { b } else { a }),
        (a, b) => a.or(b),
    }
}
