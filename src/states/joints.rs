//! Joints in a state.

use super::NO_FLOW_M3_S;
use super::report::JointReport;
use super::runs::crest;
use crate::layout::Layout;
use crate::lower::{Lowered, RunFacts};
use crate::network::{Link, Node, RunLaw, Sense};
use crate::solve::NetworkState;

/// The joints, in the order of the layout. A joint that no water reaches has no head.
pub(super) fn reports(layout: &Layout, lowered: &Lowered, end: &NetworkState) -> Vec<JointReport> {
    let wet = wet_nodes(lowered, end);
    let weight = lowered.water.density_kg_m3 * layout.coefficients.gravity_m_s2;
    let nodes = &lowered.origin.joints;
    layout
        .joints
        .iter()
        .zip(nodes)
        .map(|(part, &node)| {
            let head_m = wet
                .get(node)
                .copied()
                .unwrap_or(false)
                .then(|| end.head_m[node]);
            JointReport {
                id: part.id.clone(),
                elevation_m: part.elevation_m,
                head_m,
                pressure_pa: head_m.map(|head| weight * (head - part.elevation_m)),
            }
        })
        .collect()
}

/// Nodes at the level of some water: vessels, fixed levels, and every joint that water flows through or stands
/// in. The head of any other is undetermined: the pipe has drained there, or a check valve retains what is in it.
fn wet_nodes(lowered: &Lowered, end: &NetworkState) -> Vec<bool> {
    let network = &lowered.network;
    let mut wet: Vec<bool> = network
        .node_weights()
        .map(|node| !matches!(node, Node::Joint { .. }))
        .collect();
    loop {
        let mut spread = false;
        for (&link, facts) in lowered.origin.runs.iter().zip(&lowered.origin.run_facts) {
            let edge = (link as u32).into();
            let Some((source, target)) = network.edge_endpoints(edge) else {
                continue;
            };
            let Some(Link::Run(run)) = network.edge_weight(edge) else {
                continue;
            };
            let (a, b) = (source.index(), target.index());
            if wet[a] == wet[b] {
                continue;
            }
            let (from, sense) = if wet[a] {
                (a, Sense::Forward)
            } else {
                (b, Sense::Backward)
            };
            let flows = end.flow_m3_s[link].abs() >= NO_FLOW_M3_S;
            if flows || reaches((run, facts), sense, end.head_m[from]) {
                wet[a] = true;
                wet[b] = true;
                spread = true;
            }
        }
        if !spread {
            return wet;
        }
    }
}

/// Whether water at a level reaches the joint at the far end of a run without flow.
fn reaches((run, facts): (&RunLaw, &RunFacts), sense: Sense, level_m: f64) -> bool {
    let side = usize::from(sense == Sense::Backward);
    let lip_m = run.ends[side].lip_m;
    if run.check.stops(sense) || level_m <= lip_m {
        return false;
    }
    let stands_m = level_m + run.gain_at_rest_m(sense);
    run.primed || stands_m > facts.highest_m.max(crest(run))
}
