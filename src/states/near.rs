//! A report converted back to a network state: the initial guess for a nearby state.

use super::report::StateReport;
use crate::lower::Lowered;
use crate::solve::NetworkState;

/// `start` with the levels, heads and flows of `report`, as far as its lists fit those of the layout.
///
/// It is only an initial guess: an error in it costs iterations, never accuracy.
pub(super) fn point(lowered: &Lowered, start: &NetworkState, report: &StateReport) -> NetworkState {
    let mut point = start.clone();
    let origin = &lowered.origin;
    let levels = report.vessels.iter().map(|vessel| vessel.level_m);
    let heads = report.joints.iter().map(|joint| joint.head_m);
    let nodes = origin.vessels.iter().zip(levels);
    for (&node, known) in nodes.chain(origin.joints.iter().zip(heads)) {
        if let (Some(head), Some(known)) = (point.head_m.get_mut(node), known) {
            *head = known;
        }
    }
    let runs = origin.runs.iter().zip(&origin.run_facts);
    for ((&link, facts), run) in runs.zip(&report.runs) {
        if let Some(flow) = point.flow_m3_s.get_mut(link) {
            // Drawn with or against its link: the same conversion works in both directions.
            *flow = facts.as_drawn(run.flow_m3_s);
        }
    }
    point
}
