//! Capacity of a run with the vessel that it drains at its rim.

use super::runs::RunBetweenLevels;
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::network::{Link, Network, Node};
use crate::solve::{NetworkState, System, steady_state};
use std::collections::HashMap;

/// Capacity of a run with the vessel it drains at its rim, m³/s; none where it drains no vessel.
///
/// Heads of joints adjust; all other vessels and the fixed levels stay where they are.
pub(super) fn at_rim(
    layout: &Layout,
    (lowered, end): (&Lowered, &NetworkState),
    here: &RunBetweenLevels<'_>,
) -> Option<f64> {
    let node = here.upstream_node();
    if !matches!(weight(lowered, node), Some(Node::Vessel { .. })) {
        return None;
    }
    let vessel = lowered.origin.vessels.iter().position(|at| *at == node)?;
    let rim_m = layout.vessels.get(vessel)?.rim_m;
    let is_joint = |node: usize| matches!(weight(lowered, node), Some(Node::Joint { .. }));
    if here.nodes.into_iter().any(is_joint) {
        return through_joints((lowered, end), here, (node, rim_m));
    }
    let levels = if here.nodes[0] == node {
        [rim_m, here.levels[1]]
    } else {
        [here.levels[0], rim_m]
    };
    Some(here.law.flow(levels[0], levels[1], here.flow).abs())
}

fn weight(lowered: &Lowered, node: usize) -> Option<&Node> {
    lowered.network.node_weight((node as u32).into())
}

/// The same for a run that ends at a joint: its chain alone, between fixed levels.
fn through_joints(
    (lowered, end): (&Lowered, &NetworkState),
    here: &RunBetweenLevels<'_>,
    (drained, rim_m): (usize, f64),
) -> Option<f64> {
    let mut alone = Network::new();
    let mut known = HashMap::new();
    let mut wanted = None;
    let origin = &lowered.origin;
    for (&link, facts) in origin.runs.iter().zip(&origin.run_facts) {
        if facts.chain != here.facts.chain {
            continue;
        }
        let edge = (link as u32).into();
        let (source, target) = lowered.network.edge_endpoints(edge)?;
        let Link::Run(law) = lowered.network.edge_weight(edge)? else {
            continue;
        };
        let [from, to] = [source.index(), target.index()].map(|node| {
            *known.entry(node).or_insert_with(|| {
                alone.add_node(match weight(lowered, node) {
                    Some(Node::Joint { source_m3_s }) => Node::Joint {
                        source_m3_s: *source_m3_s,
                    },
                    _ if node == drained => Node::Fixed { level_m: rim_m },
                    _ => Node::Fixed {
                        level_m: end.head_m.get(node).copied().unwrap_or(rim_m),
                    },
                })
            })
        });
        let added = alone.add_edge(from, to, Link::Run(law.clone()));
        if std::ptr::eq(&**law, here.law) {
            wanted = Some(added.index());
        }
    }
    let system = System::new(&alone);
    let (solved, _) = steady_state(&system, &system.start()).ok()?;
    Some(solved.flow_m3_s.get(wanted?)?.abs())
}
