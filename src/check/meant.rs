//! Reports a flow so large that a number behind it may be in the wrong unit.

use super::state_view::{PipedRun, StateView};
use super::wording::{finding, flow, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::units::Quantity;

/// Largest flow of a run that passes without a note, m³/s: a choice, beyond what is built by hand.
const FLOW_M3_S: f64 = 0.5;

/// Returns one note for all runs, since what flows through one flows through the next.
pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let size = |run: &PipedRun<'_>| run.here.flow_m3_s.abs();
    let mut large: Vec<&PipedRun<'_>> = seen
        .runs
        .iter()
        .filter(|run| size(run) > FLOW_M3_S)
        .collect();
    large.sort_by(|a, b| size(b).total_cmp(&size(a)));
    let Some(run) = large.first() else {
        return Vec::new();
    };
    let text = vec![
        (&run.drawn.id).into(),
        " carries ".into(),
        flow(size(run)),
        when(seen.report.state).into(),
        ". Is this meant?".into(),
    ];
    let about: Vec<_> = large.iter().map(|run| &run.drawn.id).collect();
    let found = finding(seen, (Code::IsThisMeant, Severity::Note), &about, text);
    vec![with_limit(found, Quantity::Flow, (size(run), FLOW_M3_S))]
}
