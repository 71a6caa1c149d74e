//! Air shut in at a high point of a run, which takes head from the flow or stops it.

use super::never_primes;
use super::state_view::{PipedRun, StateView, TRICKLE_M3_S};
use super::wording::{finding, flow, head, height, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::states::report::RunAir;
use crate::units::Quantity;

/// Share of what the run would pass full below which its air is told of.
const LEAST_SHARE: f64 = 0.9;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    seen.runs
        .iter()
        .filter_map(|run| of_run(seen, run))
        .collect()
}

/// Air that is shut in holds back a run, and it is told of as that.
pub(super) fn reports(seen: &StateView<'_>, run: &PipedRun<'_>) -> bool {
    of_run(seen, run).is_some()
}

/// Only of air that can get neither in nor out: where it can, the high point is a weir.
fn of_run(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Finding> {
    let air = run.here.air.filter(|air| !air.primed && air.shut_in)?;
    let (passes, full) = (run.here.flow_m3_s.abs(), air.full_flow_m3_s.abs());
    // A vent is the end of a siphon: that is told of as what it is.
    if full <= TRICKLE_M3_S || run.has_shut_valve() || never_primes::reports(seen, run) {
        return None;
    }
    let stopped = passes <= TRICKLE_M3_S;
    if !stopped && passes >= LEAST_SHARE * full {
        return None;
    }
    let (id, place) = (&run.drawn.id, place(run, &air));
    let mut text: Vec<Piece> = vec!["Air is trapped at the high point of ".into(), id.into()];
    text.extend(place);
    text.extend([
        " at ".into(),
        height(air.high_m),
        when(seen.report.state).into(),
    ]);
    if stopped {
        text.extend([
            ": nothing passes, where ".into(),
            flow(full),
            " would if it were full. To start, ".into(),
            head(air.missing_head_m),
            " of head is missing".into(),
        ]);
    } else {
        text.extend([
            ": it passes ".into(),
            flow(passes),
            ", where ".into(),
            flow(full),
            " would pass if it were full. The air costs ".into(),
            head(air.missing_head_m),
            " of head".into(),
        ]);
    }
    text.push("; it needs a vent there.".into());
    let severity = if stopped {
        Severity::Problem
    } else {
        Severity::Warning
    };
    let found = finding(seen, (Code::AirLock, severity), &about(run, &air), text);
    Some(with_limit(found, Quantity::Flow, (passes, full)))
}

/// The joint at which the high point is; none where it is a corner.
fn joint<'a>(run: &PipedRun<'a>, air: &RunAir) -> Option<&'a Id> {
    /// The high point stands at the end of the run, metres.
    const AT_END_M: f64 = 1e-6;
    if air.distance_m <= AT_END_M {
        return Some(run.end(0));
    }
    (air.distance_m >= run.here.length_m - AT_END_M).then(|| run.end(1))
}

fn about<'a>(run: &PipedRun<'a>, air: &RunAir) -> Vec<&'a Id> {
    std::iter::once(&run.drawn.id)
        .chain(joint(run, air))
        .collect()
}

/// Where it is, in the middle of a sentence.
pub(super) fn place(run: &PipedRun<'_>, air: &RunAir) -> Vec<Piece> {
    match joint(run, air) {
        Some(joint) => vec![" in ".into(), joint.into()],
        None => vec![
            ", ".into(),
            Piece::Number(Quantity::Length, air.distance_m),
            " from ".into(),
            run.end(0).into(),
            ",".into(),
        ],
    }
}
