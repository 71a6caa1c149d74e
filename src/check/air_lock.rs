//! Reports air trapped at a high point of a run that throttles or stops the flow.

use super::never_primes;
use super::state_view::{PipedRun, StateView, TRICKLE_M3_S};
use super::wording::{finding, flow, head, height, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::states::report::RunAir;
use crate::units::Quantity;

/// Share of the full-pipe flow below which trapped air is reported.
const LEAST_SHARE: f64 = 0.9;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    seen.runs
        .iter()
        .filter_map(|run| of_run(seen, run))
        .collect()
}

/// Returns whether this rule reports the run.
pub(super) fn reports(seen: &StateView<'_>, run: &PipedRun<'_>) -> bool {
    of_run(seen, run).is_some()
}

/// Only for air that is shut in: where air can get in or out, the high point acts as a weir.
fn of_run(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Finding> {
    let air = run.here.air.filter(|air| !air.primed && air.shut_in)?;
    let (passes, full) = (run.here.flow_m3_s.abs(), air.full_flow_m3_s.abs());
    // A siphon that never primes is reported by `never_primes`.
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

/// Returns the joint at which the high point is; none where it is a corner.
fn joint<'a>(run: &PipedRun<'a>, air: &RunAir) -> Option<&'a Id> {
    /// Distance from an end of the run within which the high point counts as at that end, metres.
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

/// Returns the words for the position of the high point, for the middle of a sentence.
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
