//! Reports a run that flows against the direction in which it was drawn.

use super::state_view::{StateView, TRICKLE_M3_S};
use super::wording::{finding, flow, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    // A run with a running pump is left to the rules of the pumps.
    let back = seen
        .runs
        .iter()
        .filter(|run| run.here.flow_m3_s < -TRICKLE_M3_S && !run.facts.pump_on);
    let told = back.map(|run| {
        let flow_m3_s = run.here.flow_m3_s;
        let text = vec![
            (&run.drawn.id).into(),
            " flows backward".into(),
            when(seen.report.state).into(),
            ": ".into(),
            flow(-flow_m3_s),
            " go from ".into(),
            run.source().into(),
            " to ".into(),
            run.target().into(),
            ".".into(),
        ];
        let about = [&run.drawn.id, run.source(), run.target()];
        let found = finding(seen, (Code::FlowsBackward, Severity::Warning), &about, text);
        with_limit(found, Quantity::Flow, (flow_m3_s, 0.0))
    });
    told.collect()
}
