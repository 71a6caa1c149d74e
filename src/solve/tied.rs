//! Nodes that are tied to each other, and to nothing else that would hold their levels, moved together.
//!
//! A row of joints behind a crest has levels against each other, but none against the rest, until its water
//! finds a way out: a straight line sends all of it out of sight, and settling one node at a time moves it by
//! hardly anything. Moved by one height, what flows between them stays, and what flows out never falls as that
//! height rises.

use super::linear::Linear;
use super::newton::Problem;
use super::reach::exact;
use super::relax::crossing;
use super::system::{Point, System};

/// Farthest that a group is moved, metres, and the first reach of the search.
const FARTHEST_M: f64 = 1e7;
const FIRST_REACH_M: f64 = 1e-6;

/// Moves every group of tied nodes to where its balance closes. `lines`: those of `point`.
pub(super) fn settle(system: &System, problem: &Problem, point: &mut Point, lines: &[Linear]) {
    let group = groups(system, lines);
    for name in 0..group.len() {
        let nodes: Vec<usize> = (0..group.len())
            .filter(|&node| group[node] == name)
            .collect();
        if nodes.len() > 1 {
            shift(system, problem, point, &nodes);
        }
    }
}

/// For each node the first of those that it is tied to, itself where it is tied to none.
fn groups(system: &System, lines: &[Linear]) -> Vec<usize> {
    let mut group: Vec<usize> = (0..system.nodes.len()).collect();
    let tied: Vec<(usize, usize)> = system
        .links
        .iter()
        .zip(lines)
        .filter(|(_, line)| line.by_source != 0.0 && line.by_target != 0.0)
        .map(|(link, _)| (link.source, link.target))
        .filter(|(a, b)| system.row[*a].is_some() && system.row[*b].is_some())
        .collect();
    loop {
        let before = group.clone();
        for &(a, b) in &tied {
            let least = group[a].min(group[b]);
            (group[a], group[b]) = (least, least);
        }
        if group == before {
            return group;
        }
    }
}

/// Moves `nodes` by one height.
fn shift(system: &System, problem: &Problem, point: &mut Point, nodes: &[usize]) {
    let start = point.clone();
    let at = |by_m: f64| imbalance(system, problem, (&start, nodes), by_m);
    let first = at(0.0);
    let way = -first.signum();
    let (mut far, mut reach) = ((0.0, first), FIRST_REACH_M);
    let near = loop {
        let near = far;
        far.0 += way * reach;
        far.1 = at(far.0);
        if far.1 * first <= 0.0 {
            break near;
        }
        reach *= 2.0;
        if reach > FARTHEST_M {
            return;
        }
    };
    let by_m = crossing(at, near, far);
    for &node in nodes {
        point.head_m[node] += by_m;
    }
    for (index, link) in system.links.iter().enumerate() {
        if nodes.contains(&link.source) != nodes.contains(&link.target) {
            let levels = [point.head_m[link.source], point.head_m[link.target]];
            point.flow_m3_s[index] = exact(link.law, levels, point.flow_m3_s[index]);
        }
    }
}

/// What flows out of all of `nodes` and is stored in them once they are moved by `by_m`, m³/s; rises with it.
fn imbalance(
    system: &System,
    problem: &Problem,
    (start, nodes): (&Point, &[usize]),
    by_m: f64,
) -> f64 {
    let level_of = |node: usize| {
        let moved = nodes.contains(&node);
        start.head_m[node] + if moved { by_m } else { 0.0 }
    };
    let mut sum = 0.0;
    for &node in nodes {
        let level_m = level_of(node);
        sum += (system.volume(node, level_m) - problem.volume_m3[node]) / problem.step_s;
        sum -= system.source(node, level_m).0;
    }
    for (index, link) in system.links.iter().enumerate() {
        let (source, target) = (nodes.contains(&link.source), nodes.contains(&link.target));
        if source == target {
            continue;
        }
        let levels = [level_of(link.source), level_of(link.target)];
        let flow = exact(link.law, levels, start.flow_m3_s[index]);
        sum += if source { flow } else { -flow };
    }
    sum
}
