//! Joints in a state.

use super::report::JointReport;
use super::runs::{NO_FLOW_M3_S, crest};
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::network::{Check, Link, Node};
use crate::solve::Point;

/// The joints, in the order of the layout. A joint that no water reaches has no head.
pub(super) fn reports(layout: &Layout, lowered: &Lowered, end: &Point) -> Vec<JointReport> {
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

/// Nodes whose level is that of some water: vessels, fixed levels, and every joint that water
/// flows through or stands in.
fn wet_nodes(lowered: &Lowered, end: &Point) -> Vec<bool> {
    let network = &lowered.network;
    let mut wet: Vec<bool> = network
        .node_weights()
        .map(|node| !matches!(node, Node::Joint { .. }))
        .collect();
    loop {
        let mut spread = false;
        for edge in network.edge_indices() {
            let Some((source, target)) = network.edge_endpoints(edge) else {
                continue;
            };
            let Link::Run(run) = &network[edge] else {
                continue;
            };
            let (a, b) = (source.index(), target.index());
            if run.check == Check::Shut || wet[a] == wet[b] {
                continue;
            }
            let (from, side) = if wet[a] { (a, 0) } else { (b, 1) };
            let stands = end.head_m[from] > run.ends[side].lip_m.max(crest(run));
            let flows = end.flow_m3_s[edge.index()].abs() >= NO_FLOW_M3_S;
            if flows || stands {
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
