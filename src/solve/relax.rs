//! The balance of one node after another, with exact flows.
//!
//! The outflow of a node never falls as its level rises and never rises as a
//! neighbour's does, so each balance has a root that can be bracketed, and
//! sweeping over the nodes converges from anywhere (M-function). Slow, and the
//! last resort.

use super::newton::Problem;
use super::reach::exact;
use super::system::{Point, System};

/// Farthest that a level is looked for, metres.
const FARTHEST_M: f64 = 1e6;

/// Imbalance of `node` with its level at `level_m` and its neighbours' as in `point`, m³/s; rises with the level.
fn imbalance(system: &System, problem: &Problem, point: &Point, node: usize, level_m: f64) -> f64 {
    let stored = (system.volume(node, level_m) - problem.volume_m3[node]) / problem.step_s;
    let mut sum = stored - system.source(node, level_m).0;
    for &index in &system.touching[node] {
        let link = &system.links[index];
        if link.source == link.target {
            continue;
        }
        let level_of = |end: usize| {
            if end == node {
                level_m
            } else {
                point.head_m[end]
            }
        };
        let levels = [level_of(link.source), level_of(link.target)];
        let flow = exact(link.law, levels, point.flow_m3_s[index]);
        sum += if link.source == node { flow } else { -flow };
    }
    sum
}

/// Moves the level of one node to where its balance closes; false where it does not move.
pub(crate) fn settle(system: &System, problem: &Problem, point: &mut Point, node: usize) -> bool {
    let start = point.head_m[node];
    let at = |level: f64| imbalance(system, problem, point, node, level);
    let first = at(start);
    if first == 0.0 {
        return false;
    }
    let way = -first.signum();
    let (mut near, mut far, mut reach) = (start, start, 1e-6);
    loop {
        far += way * reach;
        let value = at(far);
        if value * first <= 0.0 {
            break;
        }
        near = far;
        reach *= 2.0;
        if reach > FARTHEST_M {
            return false;
        }
    }
    for _ in 0..200 {
        let middle = 0.5 * (near + far);
        if middle == near || middle == far {
            break;
        }
        if at(middle) * first > 0.0 {
            near = middle;
        } else {
            far = middle;
        }
    }
    point.head_m[node] = far;
    for &index in &system.touching[node] {
        let link = &system.links[index];
        let levels = [point.head_m[link.source], point.head_m[link.target]];
        point.flow_m3_s[index] = exact(link.law, levels, point.flow_m3_s[index]);
    }
    true
}

/// Settles every node in turn, `rounds` times; returns the rounds done.
pub(crate) fn sweep(system: &System, problem: &Problem, point: &mut Point, rounds: usize) -> usize {
    for round in 0..rounds {
        let before = point.head_m.clone();
        for index in 0..system.node_of.len() {
            settle(system, problem, point, system.node_of[index]);
        }
        let moved = before
            .iter()
            .zip(&point.head_m)
            .fold(0.0_f64, |most, (a, b)| most.max((a - b).abs()));
        if moved < 1e-13 {
            return round + 1;
        }
    }
    rounds
}
