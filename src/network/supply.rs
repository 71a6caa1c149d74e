//! Whether water can come to a node at all.

use super::{Check, Link, Network, Node};
use petgraph::Direction;
use petgraph::graph::{EdgeIndex, NodeIndex};
use petgraph::visit::EdgeRef;
use std::collections::HashSet;

/// Whether an open way leads to `node` from a level, or from a joint that is fed from outside.
///
/// `without`: a link that counts as none. Levels are not asked: a way that is open may stand dry.
pub fn has_supply(network: &Network, node: usize, without: usize) -> bool {
    let without = EdgeIndex::new(without);
    let (mut seen, mut next) = (HashSet::new(), vec![NodeIndex::new(node)]);
    while let Some(node) = next.pop() {
        match network.node_weight(node) {
            Some(Node::Joint { source_m3_s }) if *source_m3_s <= 0.0 => {}
            Some(_) => return true,
            None => continue,
        }
        if !seen.insert(node) {
            continue;
        }
        let into = network.edges_directed(node, Direction::Incoming);
        let into = into.filter(|edge| lets(edge.weight(), Check::BackwardOnly));
        let out = network.edges_directed(node, Direction::Outgoing);
        let out = out.filter(|edge| lets(edge.weight(), Check::ForwardOnly));
        let into = into.map(|edge| (edge.id(), edge.source()));
        let ways = into.chain(out.map(|edge| (edge.id(), edge.target())));
        next.extend(
            ways.filter(|(edge, _)| *edge != without)
                .map(|(_, node)| node),
        );
    }
    false
}

/// Whether water may pass a link the way that a valve set to `barred` would bar. A running pump lets it pass the way
/// that it pushes.
fn lets(link: &Link, barred: Check) -> bool {
    match link {
        Link::Run(law) => {
            let backward = barred == Check::ForwardOnly;
            let pushed = law
                .pump
                .as_ref()
                .is_none_or(|pump| pump.backward == backward);
            pushed && law.check != Check::Shut && law.check != barred
        }
        Link::Rim(_) => false,
    }
}
