//! Gauss–Seidel sweeps: the balance of one node after another, with exact flows.
//!
//! The outflow of a node never falls as its level rises and never rises as a neighbour's does, so each balance has
//! a root that can be bracketed, and sweeping over the nodes converges from any start (M-function). Slow, and the
//! last fallback.

use super::newton::Problem;
use super::reach::exact;
use super::system::{NetworkState, System};

/// Largest distance over which a level is searched, metres.
pub(super) const FARTHEST_M: f64 = 1e6;
/// Initial bracket of that search, metres, and its growth factor until the balance changes sign.
const FIRST_REACH_M: f64 = 1e-6;
const REACH_GROWS: f64 = 2.0;
/// A level near 0 has unlimited digits; none beyond this counts, metres.
const CLOSE_M: f64 = 1e-18;

/// Imbalance of `node` with its level at `level_m` and its neighbours' as in `point`, m³/s; increasing in the level.
fn imbalance(
    system: &System,
    problem: &Problem,
    point: &NetworkState,
    node: usize,
    level_m: f64,
) -> f64 {
    let mut sum = problem.stored_m3_s(system, node, level_m) - system.source(node, level_m).0;
    for index in system.touching(node) {
        let link = &system.links[index];
        if link.is_ring() {
            continue;
        }
        let [source, target] = link.ends();
        let level_of = |end: usize| {
            if end == node {
                level_m
            } else {
                point.head_m[end]
            }
        };
        let levels = [level_of(source), level_of(target)];
        let flow = exact(link.law, levels, point.flow_m3_s[index]);
        let end = usize::from(source != node);
        if !system.line_fills.of(index).at(end, flow) {
            sum += if end == 0 { flow } else { -flow };
        }
    }
    sum
}

/// Moves the level of one node to where its balance closes; false where it does not move.
pub(crate) fn settle(
    system: &System,
    problem: &Problem,
    point: &mut NetworkState,
    node: usize,
) -> bool {
    let at = |level: f64| imbalance(system, problem, point, node, level);
    let Some(level_m) = root(at, point.head_m[node], FARTHEST_M) else {
        return false;
    };
    point.head_m[node] = level_m;
    for index in system.touching(node) {
        let link = &system.links[index];
        let levels = link.levels(&point.head_m);
        point.flow_m3_s[index] = exact(link.law, levels, point.flow_m3_s[index]);
    }
    true
}

/// Root of the increasing function `f`: searched from `start` outwards, up to the distance `farthest`. None where
/// `f` is 0 at the start, and where no root is found.
pub(super) fn root(f: impl Fn(f64) -> f64, start: f64, farthest: f64) -> Option<f64> {
    let first = f(start);
    if first == 0.0 {
        return None;
    }
    let way = -first.signum();
    let (mut near, mut reach) = ((start, first), FIRST_REACH_M);
    while reach <= farthest {
        let place = near.0 + way * reach;
        let far = (place, f(place));
        if !is_alike(far.1, first) {
            return Some(crossing(f, near, far));
        }
        (near, reach) = (far, reach * REACH_GROWS);
    }
    None
}

/// Whether two values have the same sign. Their product cannot decide: for two trickles it underflows to 0.
fn is_alike(one: f64, other: f64) -> bool {
    one != 0.0 && other != 0.0 && (one > 0.0) == (other > 0.0)
}

/// Root of a monotonic `f` between two (place, value) pairs of different sign: the first one from `near` on, to
/// the last digit.
///
/// Inverse quadratic interpolation where three values allow it, bisection elsewhere.  [@chandrupatla-1997]
fn crossing(f: impl Fn(f64) -> f64, near: (f64, f64), far: (f64, f64)) -> f64 {
    let is_near = |end: (f64, f64)| is_alike(end.1, near.1);
    let (mut last, mut other, mut share) = (near, far, 0.5);
    loop {
        let place = last.0 + share * (other.0 - last.0);
        let next = (place, f(place));
        let before = if is_near(next) == is_near(last) {
            last
        } else {
            std::mem::replace(&mut other, last)
        };
        last = next;
        let least = (f64::EPSILON * last.0.abs()).max(CLOSE_M) / (other.0 - last.0).abs();
        if least.is_nan() || least > 0.5 {
            return if is_near(last) { other.0 } else { last.0 };
        }
        // A value of 0 may be one of many: a dry node is in balance at any level.
        let flat = last.1 == 0.0 || other.1 == 0.0;
        share = match flat {
            true => 0.5,
            false => interpolated(last, other, before).clamp(least, 1.0 - least),
        };
    }
}

/// The fraction of the way from `last` to `other` at which inverse quadratic interpolation through these and
/// `before` expects the root.
fn interpolated(last: (f64, f64), other: (f64, f64), before: (f64, f64)) -> f64 {
    let xi = (last.0 - other.0) / (before.0 - other.0);
    let phi = (last.1 - other.1) / (before.1 - other.1);
    if !(phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi) {
        return 0.5;
    }
    last.1 / (other.1 - last.1) * before.1 / (other.1 - before.1)
        + (before.0 - last.0) / (other.0 - last.0) * last.1 / (before.1 - last.1) * other.1
            / (before.1 - other.1)
}

/// Solves every node in turn, `rounds` times; returns the number of sweeps done.
pub(crate) fn sweep(
    system: &System,
    problem: &Problem,
    point: &mut NetworkState,
    rounds: usize,
) -> usize {
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
