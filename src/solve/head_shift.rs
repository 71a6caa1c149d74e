//! Head shift of a group: nodes that are coupled to each other, and to nothing else that fixes their levels, move
//! together.
//!
//! A row of joints behind a crest has levels relative to each other, but none relative to the rest, until its water
//! finds a way out. A linearisation sends all of it out of range, and a Gauss–Seidel sweep hardly moves it. When all
//! are shifted by one height, the flows between them stay the same, and their outflow never falls as that height
//! rises.

use super::gauss_seidel::root;
use super::link_tangents::LinkTangents;
use super::newton::Problem;
use super::reach::exact;
use super::system::{NetworkState, System};
use petgraph::unionfind::UnionFind;

/// Maximum shift of a group, metres.
const FARTHEST_M: f64 = 1e7;

/// Shifts every group of coupled nodes to where its balance closes. `lines`: the linearisations at `point`.
pub(super) fn settle(
    system: &System,
    problem: &Problem,
    point: &mut NetworkState,
    lines: &LinkTangents,
) {
    for nodes in groups(system, lines) {
        shift(system, problem, point, &nodes);
    }
}

/// The groups of coupled nodes; single nodes are left out.
fn groups(system: &System, lines: &LinkTangents) -> Vec<Vec<usize>> {
    let count = system.nodes.len();
    let mut tied = UnionFind::new(count);
    for (index, link) in system.links.iter().enumerate() {
        let feels_both = lines.by_source[index] != 0.0 && lines.by_target[index] != 0.0;
        let free = |node: usize| system.row[node].is_some();
        let [source, target] = link.ends();
        if feels_both && free(source) && free(target) {
            tied.union(source, target);
        }
    }
    let mut groups = vec![Vec::new(); count];
    for (node, name) in tied.into_labeling().into_iter().enumerate() {
        groups[name].push(node);
    }
    groups.retain(|nodes| nodes.len() > 1);
    groups
}

/// A group, and its links to the rest of the network.
struct Group<'a> {
    nodes: &'a [usize],
    /// The links between the group and the rest, with whether their source is in the group.
    ways_out: Vec<(usize, bool)>,
}

/// Shifts `nodes` by one common height.
fn shift(system: &System, problem: &Problem, point: &mut NetworkState, nodes: &[usize]) {
    let is_in = |node: usize| nodes.binary_search(&node).is_ok();
    let links = nodes.iter().flat_map(|&node| system.touching(node));
    let ends = links.map(|index| {
        let [source, target] = system.links[index].ends().map(is_in);
        (index, source, target)
    });
    let group = Group {
        nodes,
        ways_out: ends
            .filter(|(_, source, target)| source != target)
            .map(|(index, source, _)| (index, source))
            .collect(),
    };
    let start = point.clone();
    let at = |by_m: f64| group.imbalance(system, problem, &start, by_m);
    let Some(by_m) = root(at, 0.0, FARTHEST_M) else {
        return;
    };
    for &node in nodes {
        point.head_m[node] += by_m;
    }
    for &(index, _) in &group.ways_out {
        let link = &system.links[index];
        let levels = link.levels(&point.head_m);
        point.flow_m3_s[index] = exact(link.law, levels, point.flow_m3_s[index]);
    }
}

impl Group<'_> {
    /// Net outflow and storage of the group once it is shifted by `by_m`, m³/s; increasing in `by_m`.
    fn imbalance(
        &self,
        system: &System,
        problem: &Problem,
        start: &NetworkState,
        by_m: f64,
    ) -> f64 {
        let mut sum = 0.0;
        for &node in self.nodes {
            let level_m = start.head_m[node] + by_m;
            sum += problem.stored_m3_s(system, node, level_m);
            sum -= system.source(node, level_m).0;
        }
        for &(index, out) in &self.ways_out {
            let link = &system.links[index];
            let mut levels = link.levels(&start.head_m);
            levels[usize::from(!out)] += by_m;
            let flow = exact(link.law, levels, start.flow_m3_s[index]);
            if !system.line_fills.of(index).at(usize::from(!out), flow) {
                sum += if out { flow } else { -flow };
            }
        }
        sum
    }
}
