//! Whether water can reach a node at all.

use super::{Check, Link, Network, Node};
use petgraph::Direction;
use petgraph::graph::{EdgeIndex, NodeIndex};
use petgraph::visit::EdgeRef;
use std::collections::HashSet;

/// The supply of a node.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Supply {
    /// Whether an open path leads there from a level, or from a joint with an external inflow; the path may be dry.
    pub comes: bool,
    /// The shut links upstream of it, in the order in which they were met.
    pub shut: Vec<usize>,
}

/// The supply of `node`; `without`: a link that is ignored.
pub fn supply(network: &Network, node: usize, without: usize) -> Supply {
    let without = EdgeIndex::new(without);
    let (mut seen, mut next) = (HashSet::new(), vec![NodeIndex::new(node)]);
    let mut found = Supply::default();
    while let Some(node) = next.pop() {
        match network.node_weight(node) {
            Some(Node::Joint { source_m3_s }) if *source_m3_s <= 0.0 => {}
            Some(_) => {
                found.comes = true;
                continue;
            }
            None => continue,
        }
        if !seen.insert(node) {
            continue;
        }
        let into = network.edges_directed(node, Direction::Incoming);
        let into = into.map(|edge| (edge, edge.source(), Check::BackwardOnly));
        let out = network.edges_directed(node, Direction::Outgoing);
        let out = out.map(|edge| (edge, edge.target(), Check::ForwardOnly));
        let ways = into.chain(out).filter(|(edge, ..)| edge.id() != without);
        for (edge, other, barred) in ways {
            if is_shut(edge.weight()) {
                found.shut.push(edge.id().index());
            } else if lets(edge.weight(), barred) {
                next.push(other);
            }
        }
    }
    found
}

/// Whether a run passes water in neither direction.
fn is_shut(link: &Link) -> bool {
    matches!(link, Link::Run(law) if law.check == Check::Shut)
}

/// Whether water may pass a link in the direction that a valve set to `barred` would block. A running pump passes it
/// in its pumping direction.
fn lets(link: &Link, barred: Check) -> bool {
    match link {
        Link::Run(law) => {
            let backward = barred == Check::ForwardOnly;
            let pushed = law
                .pump
                .as_ref()
                .is_none_or(|pump| pump.backward == backward);
            pushed && law.check != barred
        }
        Link::Rim(_) => false,
    }
}
