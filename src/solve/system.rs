//! A network flattened for the solver, and the network state.

use super::gauss_seidel;
use super::jagged_array::JaggedArray;
use super::joint::{self, BEYOND_M};
use super::line_fill::{LineFill, LineFills, RetainedEnds};
use super::matrix::Matrix;
use super::pressurised::PressurisedRuns;
use super::step_limit::{FARTHEST_IN_A_TRY_M, FARTHEST_M};
use super::work::StepBuffers;
use crate::network::{Link, Network, Node};
use petgraph::visit::EdgeRef;
use std::cell::Cell;

/// One link with its nodes. All links are traversed several times in a step: they are kept small.
pub(crate) struct FlatLink<'n> {
    ends: [u32; 2],
    pub law: &'n Link,
}

impl FlatLink<'_> {
    /// The indices of the nodes at its source and its target.
    pub fn ends(&self) -> [usize; 2] {
        self.ends.map(|node| node as usize)
    }

    /// Whether it leads from a node to itself.
    pub fn is_ring(&self) -> bool {
        self.ends[0] == self.ends[1]
    }

    /// The levels at its source and target.
    pub fn levels(&self, head_m: &[f64]) -> [f64; 2] {
        self.ends.map(|node| head_m[node as usize])
    }
}

/// A flattened network, with the sparse pattern of its equations.
pub struct System<'n> {
    pub(crate) nodes: Vec<&'n Node>,
    pub(crate) links: Vec<FlatLink<'n>>,
    /// The prepared laws of the runs between two joints.
    pub(crate) drowned: PressurisedRuns,
    /// For each node, the links that touch it (a link from a node to itself once).
    touching: JaggedArray,
    /// For each node its row in the equations; none where the level is fixed.
    pub(crate) row: Vec<Option<usize>>,
    /// For each row its node.
    pub(crate) node_of: Vec<usize>,
    /// The nodes that hold water.
    pub(crate) vessels: Vec<usize>,
    /// External inflow of every joint, m³/s, limited to what its runs can carry; 0 at other nodes.
    joint_m3_s: Vec<f64>,
    /// The links that are not between two joints.
    pub(crate) with_lips: Vec<usize>,
    pub(crate) matrix: Matrix,
    /// Head of a joint below which its draw-off fades out, and above which its inflow does, metres.
    bounds_m: [f64; 2],
    /// Limit on the change of a level in one step of a trial solve, metres.
    pub(crate) farthest_in_a_try_m: f64,
    /// Runs that fill.
    pub(super) line_fills: LineFills,
    /// Inflow to each node from runs that empty, m³/s; the list is empty where there are none.
    emptied_m3_s: Vec<f64>,
    /// Workspace, lent to one step at a time.
    pub(crate) bench: Cell<StepBuffers>,
}

/// Velocity at which the search for the flows of a network without vessels starts, m/s. A choice: the value between
/// 0.05 and 0.6 that needed the fewest steps.
const START_M_S: f64 = 0.1;

/// Network state: levels, flows and volumes at one moment, by node and link index.
#[derive(Clone, Debug, PartialEq)]
pub struct NetworkState {
    /// Level or head of every node, metres.
    pub head_m: Vec<f64>,
    /// Flow of every link, m³/s.
    pub flow_m3_s: Vec<f64>,
    /// Water in every vessel as integrated from the flows, m³; 0 elsewhere.
    pub volume_m3: Vec<f64>,
}

impl<'n> System<'n> {
    /// Flattens `network`.
    pub fn new(network: &'n Network) -> System<'n> {
        let nodes: Vec<&Node> = network.node_weights().collect();
        let links: Vec<FlatLink> = network
            .edge_references()
            .map(|edge| FlatLink {
                ends: [edge.source(), edge.target()].map(|node| node.index() as u32),
                law: edge.weight(),
            })
            .collect();
        let drowned = PressurisedRuns::of(&links);
        let touching = JaggedArray::of_pairs(
            nodes.len(),
            links.iter().enumerate().flat_map(|(index, link)| {
                let [source, target] = link.ends();
                let once = if link.is_ring() { 1 } else { 2 };
                [(source, index), (target, index)].into_iter().take(once)
            }),
        );
        let mut row = vec![None; nodes.len()];
        let mut node_of = Vec::new();
        for (index, node) in nodes.iter().enumerate() {
            if !matches!(node, Node::Fixed { .. }) {
                row[index] = Some(node_of.len());
                node_of.push(index);
            }
        }
        let pairs = links.iter().map(|link| {
            let [source, target] = link.ends();
            (row[source], row[target])
        });
        let levels = || nodes.iter().map(|node| start_level(node));
        let bounds_m = [
            levels().fold(0.0, f64::min) - BEYOND_M,
            levels().fold(0.0, f64::max) + BEYOND_M,
        ];
        let joint_m3_s: Vec<f64> = (0..nodes.len())
            .map(|node| match joint_inflow(nodes[node]) {
                0.0 => 0.0,
                wanted_m3_s => {
                    let ways = touching.of(node).iter().map(|&link| &links[link as usize]);
                    joint::limited_to_directions(wanted_m3_s, (node, ways), bounds_m)
                }
            })
            .collect();
        // A prescribed inflow or draw-off may require any head.
        let farthest_in_a_try_m = if joint_m3_s.iter().all(|inflow| *inflow == 0.0) {
            FARTHEST_IN_A_TRY_M.max(bounds_m[1] - bounds_m[0] - 2.0 * BEYOND_M)
        } else {
            FARTHEST_M
        };
        let matrix = Matrix::new(node_of.len(), pairs);
        let is_vessel = |node: &usize| matches!(nodes[*node], Node::Vessel { .. });
        let has_lips = |link: &usize| !drowned.is(*link);
        System {
            vessels: (0..nodes.len()).filter(is_vessel).collect(),
            joint_m3_s,
            with_lips: (0..links.len()).filter(has_lips).collect(),
            nodes,
            links,
            drowned,
            touching,
            row,
            node_of,
            matrix,
            bounds_m,
            farthest_in_a_try_m,
            line_fills: LineFills::default(),
            emptied_m3_s: Vec::new(),
            bench: Cell::default(),
        }
    }

    /// The same with runs that fill, and with the water from runs that empty: vessels, and the inflow to each, m³/s.
    pub fn with_lines(mut self, fills: Vec<LineFill>, emptied: &[(usize, f64)]) -> System<'n> {
        self.line_fills = LineFills::new(fills, self.links.len());
        if !emptied.is_empty() {
            self.emptied_m3_s = vec![0.0; self.nodes.len()];
        }
        for &(node, flow_m3_s) in emptied {
            if let Some(sum) = self.emptied_m3_s.get_mut(node) {
                *sum += flow_m3_s;
            }
        }
        self
    }

    /// The initial state: fill levels, no flow, joints at a level between those of the vessels they connect.
    pub fn start(&self) -> NetworkState {
        self.start_from(|_| None)
    }

    /// Total inflow from runs that empty, m³/s.
    pub(super) fn emptied_m3_s(&self) -> f64 {
        self.emptied_m3_s.iter().sum()
    }

    fn at_rest_with(&self, mut head_m: Vec<f64>) -> NetworkState {
        self.spread_to_joints(&mut head_m);
        let volume_m3 = (0..self.nodes.len())
            .map(|node| self.volume(node, head_m[node]))
            .collect();
        NetworkState {
            head_m,
            flow_m3_s: vec![0.0; self.links.len()],
            volume_m3,
        }
    }

    /// The initial state with given levels: one for each node, or none for its fill level.
    pub fn start_from(&self, level_of: impl Fn(usize) -> Option<f64>) -> NetworkState {
        let mut head_m: Vec<f64> = self.nodes.iter().map(|node| start_level(node)).collect();
        for (node, head) in head_m.iter_mut().enumerate() {
            if let (Node::Vessel { .. }, Some(level)) = (self.nodes[node], level_of(node)) {
                *head = level;
            }
        }
        self.at_rest_with(head_m)
    }

    /// Gives every joint the mean level of the neighbours that have one, breadth first.
    fn spread_to_joints(&self, head_m: &mut [f64]) {
        let known = (0..self.nodes.len()).filter(|&node| !head_m[node].is_nan());
        let mut ring: Vec<(usize, f64)> = known.map(|node| (node, head_m[node])).collect();
        let mut is_next = vec![false; self.nodes.len()];
        while !ring.is_empty() {
            for &(node, head) in &ring {
                head_m[node] = head;
            }
            let mut next = Vec::new();
            for node in ring.iter().flat_map(|&(node, _)| self.neighbours(node)) {
                if head_m[node].is_nan() && !is_next[node] {
                    is_next[node] = true;
                    next.push(node);
                }
            }
            let mean = |node: usize| {
                let heads = self.neighbours(node).map(|other| head_m[other]);
                let known = heads.filter(|head| !head.is_nan());
                let (sum, count) = known.fold((0.0, 0.0), |(sum, n), head| (sum + head, n + 1.0));
                sum / count
            };
            ring = next.iter().map(|&node| (node, mean(node))).collect();
        }
        for head in head_m.iter_mut().filter(|head| head.is_nan()) {
            *head = 0.0;
        }
    }

    fn neighbours(&self, node: usize) -> impl Iterator<Item = usize> + '_ {
        self.touching(node).map(move |link| {
            let [source, target] = self.links[link].ends();
            if source == node { target } else { source }
        })
    }

    /// The links that touch a node, ascending; a link from it to itself once.
    pub(crate) fn touching(&self, node: usize) -> impl Iterator<Item = usize> + '_ {
        self.touching.of(node).iter().map(|&link| link as usize)
    }

    /// Gives every run between joints that has no flow an initial flow for the search.
    ///
    /// Linearised at existing flows, a first step finds flows that balance; linearised at guessed levels
    /// only, it does not.
    pub(crate) fn set_flowing(&self, point: &mut NetworkState) {
        let links = self.links.iter().zip(&mut point.flow_m3_s);
        for (index, (link, flow)) in links.enumerate() {
            if *flow == 0.0 {
                *flow = self.drowned.at_velocity(index, link, START_M_S);
            }
        }
    }

    /// Volume in a node at a level, m³.
    pub(crate) fn volume(&self, node: usize, level_m: f64) -> f64 {
        match self.nodes[node] {
            Node::Vessel { storage, .. } => storage.volume_m3(level_m),
            _ => 0.0,
        }
    }

    /// The level at which a vessel holds `volume_m3`, metres; `near_m`: a level close to it.
    pub(crate) fn level_of(&self, node: usize, volume_m3: f64, near_m: f64) -> f64 {
        let missing = |level_m: f64| self.volume(node, level_m) - volume_m3;
        gauss_seidel::root(missing, near_m, gauss_seidel::FARTHEST_M).unwrap_or(near_m)
    }

    /// Whether a node has storage.
    pub(crate) fn holds_water(&self, node: usize) -> bool {
        matches!(self.nodes[node], Node::Vessel { .. })
    }

    /// Derivative of the volume, m²; 0 without storage.
    pub(crate) fn area(&self, node: usize, level_m: f64) -> f64 {
        match self.nodes[node] {
            Node::Vessel { storage, .. } => storage.area_m2(level_m),
            _ => 0.0,
        }
    }

    /// External inflow at a level, m³/s, and its derivative (≤ 0).
    pub(crate) fn source(&self, node: usize, level_m: f64) -> (f64, f64) {
        match self.nodes[node] {
            Node::Vessel {
                source, storage, ..
            } => {
                let inflow = source.at(level_m, storage.floor_m());
                let emptied = self.emptied_m3_s.get(node).copied().unwrap_or(0.0);
                (inflow.value + emptied, inflow.derivative)
            }
            Node::Joint { .. } => joint::source(self.joint_m3_s[node], level_m, self.bounds_m),
            Node::Fixed { .. } => (0.0, 0.0),
        }
    }

    /// The nodes whose balance depends on their level other than through their links: vessels, and joints whose
    /// draw-off or inflow fades out.
    pub(crate) fn felt_nodes<'a>(
        &'a self,
        point: &'a NetworkState,
    ) -> impl Iterator<Item = usize> + 'a {
        let heads = point.head_m.iter().enumerate();
        let [low_m, high_m] = self.bounds_m;
        let beyond = heads.filter(move |(_, head)| **head < low_m || **head > high_m);
        let joints = beyond.map(|(node, _)| node);
        let joints = joints.filter(|&node| self.joint_m3_s[node] != 0.0);
        self.vessels.iter().copied().chain(joints)
    }

    /// Flow out minus flow in minus external inflow, at every node, m³/s.
    pub(crate) fn outflow(&self, point: &NetworkState, out: &mut [f64]) {
        self.inflow(point, out);
        for (index, (link, flow)) in self.links.iter().zip(&point.flow_m3_s).enumerate() {
            pass(out, link.ends(), *flow, self.line_fills.of(index));
        }
    }

    /// Outflow of every node due to its external inflow alone, m³/s: negative where water enters.
    pub(super) fn inflow(&self, point: &NetworkState, out: &mut [f64]) {
        for (value, inflow) in out.iter_mut().zip(&self.joint_m3_s) {
            *value = -inflow;
        }
        for node in self.felt_nodes(point) {
            out[node] = -self.source(node, point.head_m[node]).0;
        }
    }
}

/// Adds the flow of a link to the outflow of its nodes, except for what stays in the run.
#[inline]
pub(super) fn pass(out: &mut [f64], [source, target]: [usize; 2], flow: f64, keeps: RetainedEnds) {
    if !keeps.at(0, flow) {
        out[source] += flow;
    }
    if !keeps.at(1, flow) {
        out[target] -= flow;
    }
}

fn joint_inflow(node: &Node) -> f64 {
    match node {
        Node::Joint { source_m3_s } => *source_m3_s,
        Node::Vessel { .. } | Node::Fixed { .. } => 0.0,
    }
}

fn start_level(node: &Node) -> f64 {
    match node {
        Node::Vessel { level_m, .. } | Node::Fixed { level_m } => *level_m,
        Node::Joint { .. } => f64::NAN,
    }
}
