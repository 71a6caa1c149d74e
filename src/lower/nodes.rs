//! Lowering of vessels, joints and fixed levels to nodes.

use super::problem::Problem;
use super::{vessel, weather};
use crate::layout::{Fixed, Id, Joint, Layout, Vessel};
use crate::network::{FloatInflow, Network, Node, Source};
use petgraph::graph::NodeIndex;
use std::collections::{HashMap, HashSet};

/// The part at a node.
#[derive(Clone, Copy)]
pub(super) enum Part<'a> {
    Vessel(&'a Vessel),
    Joint(&'a Joint),
    Fixed(&'a Fixed),
}

/// A part with its node.
#[derive(Clone, Copy)]
pub(super) struct PlacedNode<'a> {
    pub node: NodeIndex,
    pub part: Part<'a>,
}

/// The nodes of a layout.
pub(super) struct Nodes<'a> {
    pub vessels: Vec<NodeIndex>,
    pub joints: Vec<NodeIndex>,
    pub fixed: Vec<NodeIndex>,
    by_id: HashMap<&'a Id, PlacedNode<'a>>,
    nowhere: Option<NodeIndex>,
}

impl<'a> Nodes<'a> {
    /// Adds a node per part, vessels first, then joints, then fixed levels.
    pub fn add(layout: &'a Layout, network: &mut Network) -> Nodes<'a> {
        let mut nodes = Nodes {
            vessels: Vec::new(),
            joints: Vec::new(),
            fixed: Vec::new(),
            by_id: HashMap::new(),
            nowhere: None,
        };
        for vessel in &layout.vessels {
            let node = network.add_node(vessel_node(layout, vessel));
            nodes.vessels.push(node);
            nodes.remember(&vessel.id, node, Part::Vessel(vessel));
        }
        for joint in &layout.joints {
            let node = network.add_node(Node::Joint {
                source_m3_s: joint.make_up_m3_s,
            });
            nodes.joints.push(node);
            nodes.remember(&joint.id, node, Part::Joint(joint));
        }
        for fixed in &layout.fixed {
            let node = network.add_node(Node::Fixed {
                level_m: fixed.level_m,
            });
            nodes.fixed.push(node);
            nodes.remember(&fixed.id, node, Part::Fixed(fixed));
        }
        nodes
    }

    fn remember(&mut self, id: &'a Id, node: NodeIndex, part: Part<'a>) {
        self.by_id.entry(id).or_insert(PlacedNode { node, part });
    }

    /// The part with this id.
    pub fn place(&self, id: &Id) -> Option<PlacedNode<'a>> {
        self.by_id.get(id).copied()
    }

    /// Adds a node for the ends of runs that end at no part, if there are such runs.
    pub fn add_nowhere(&mut self, layout: &Layout, network: &mut Network) {
        let mut ends = layout.runs.iter().flat_map(|run| [&run.from, &run.to]);
        if ends.any(|end| self.place(&end.at).is_none()) {
            self.nowhere = Some(network.add_node(Node::Fixed { level_m: 0.0 }));
        }
    }

    /// The node of a part; that for missing parts where the id names none.
    pub fn node(&self, id: &Id) -> NodeIndex {
        match self.place(id) {
            Some(place) => place.node,
            None => self.nowhere.unwrap_or_default(),
        }
    }
}

fn vessel_node(layout: &Layout, vessel: &Vessel) -> Node {
    let float = vessel.float_valve.map(|valve| FloatInflow {
        shut_m: valve.shut_m,
        open_m: valve.open_m,
        flow_m3_s: valve.flow_m3_s.max(0.0),
    });
    Node::Vessel {
        storage: vessel::storage(vessel),
        level_m: vessel.fill_m,
        source: Source {
            constant_m3_s: vessel.make_up_m3_s + weather::rain_m3_s(layout, vessel),
            float,
        },
    }
}

/// A problem for every vessel and joint that no run reaches.
pub(super) fn not_reached(layout: &Layout, out: &mut Vec<Problem>) {
    let ends = layout.runs.iter();
    let reached: HashSet<&Id> = ends.flat_map(|run| [&run.from.at, &run.to.at]).collect();
    let vessels = layout.vessels.iter().map(|vessel| &vessel.id);
    let joints = layout.joints.iter().map(|joint| &joint.id);
    let alone = vessels.chain(joints).filter(|id| !reached.contains(id));
    out.extend(alone.cloned().map(Problem::NotReached));
}
