//! Sums of flows at nodes.

use super::report::FixedReport;
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::network::Node;
use crate::solve::NetworkState;

/// Net inflow to a node through its links, m³/s; external inflow included.
pub(super) fn into_node(lowered: &Lowered, end: &NetworkState, node: usize) -> f64 {
    source(lowered, end, node) + signed_inflows(lowered, end, node).sum::<f64>()
}

/// Total inflow to a node, m³/s; outflows are left out.
pub(super) fn inflow(lowered: &Lowered, end: &NetworkState, node: usize) -> f64 {
    let source = match lowered.network.node_weight((node as u32).into()) {
        Some(Node::Vessel { .. }) => source(lowered, end, node).max(0.0),
        _ => 0.0,
    };
    source
        + signed_inflows(lowered, end, node)
            .filter(|flow| *flow > 0.0)
            .sum::<f64>()
}

/// External inflow to a vessel, m³/s; negative: a draw-off.
fn source(lowered: &Lowered, end: &NetworkState, node: usize) -> f64 {
    match lowered.network.node_weight((node as u32).into()) {
        Some(Node::Vessel {
            source, storage, ..
        }) => source.at(end.head_m[node], storage.floor_m()).value,
        _ => 0.0,
    }
}

/// The flow of every link at a node, positive into it, m³/s.
fn signed_inflows<'a>(
    lowered: &'a Lowered,
    end: &'a NetworkState,
    node: usize,
) -> impl Iterator<Item = f64> + 'a {
    lowered.network.edge_indices().flat_map(move |edge| {
        let ends = lowered.network.edge_endpoints(edge);
        let flow = end.flow_m3_s[edge.index()];
        let (source, target) =
            ends.map_or((usize::MAX, usize::MAX), |(a, b)| (a.index(), b.index()));
        let out = (source == node).then_some(-flow);
        let into = (target == node).then_some(flow);
        [out, into].into_iter().flatten()
    })
}

/// The fixed levels with the flows that they supply.
pub(super) fn fixed_reports(
    layout: &Layout,
    lowered: &Lowered,
    end: &NetworkState,
) -> Vec<FixedReport> {
    let nodes = &lowered.origin.fixed;
    layout
        .fixed
        .iter()
        .zip(nodes)
        .map(|(part, &node)| FixedReport {
            id: part.id.clone(),
            level_m: part.level_m,
            flow_m3_s: -signed_inflows(lowered, end, node).sum::<f64>(),
        })
        .collect()
}
