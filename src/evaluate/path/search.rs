//! The path search, by indices of parts and runs.

use super::{Edge, Paths};
use crate::evaluate::NO_FLOW_M3_S;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

impl Paths<'_> {
    /// The path of the water from one node to another whose smallest flow is largest; none without a flow.
    pub(super) fn widest(&self, from: usize, to: usize) -> Option<Vec<usize>> {
        // Cost: the reciprocal of the smallest flow on the path first, and then its length.
        self.search((from, to), |edge, node, so_far| {
            let away = edge.away_m3_s(node);
            (away > NO_FLOW_M3_S).then(|| (so_far.0.max(1.0 / away), so_far.1 + edge.length_m))
        })
    }

    /// The shortest path, whatever flows.
    pub(super) fn shortest(&self, from: usize, to: usize) -> Option<Vec<usize>> {
        self.search((from, to), |edge, _, so_far| {
            Some((0.0, so_far.1 + edge.length_m))
        })
    }

    /// The cheapest path by a cost that never decreases along it.
    fn search(
        &self,
        (from, to): (usize, usize),
        step: impl Fn(&Edge, usize, (f64, f64)) -> Option<(f64, f64)>,
    ) -> Option<Vec<usize>> {
        let mut came: Vec<Option<usize>> = vec![None; self.at.len()];
        let mut done = vec![false; self.at.len()];
        let mut heap = BinaryHeap::from([Reverse((HeapEntry(0.0, 0.0), from, None))]);
        while let Some(Reverse((HeapEntry(held, length), node, by))) = heap.pop() {
            if done.get(node).copied().unwrap_or(true) {
                continue;
            }
            *done.get_mut(node)? = true;
            *came.get_mut(node)? = by;
            if node == to {
                return self.back(from, to, &came);
            }
            for &run in self.at.get(node)? {
                let edge = self.edges.get(run)?;
                if let Some((held, length)) = step(edge, node, (held, length)) {
                    heap.push(Reverse((
                        HeapEntry(held, length),
                        edge.other(node),
                        Some(run),
                    )));
                }
            }
        }
        None
    }

    fn back(&self, from: usize, to: usize, came: &[Option<usize>]) -> Option<Vec<usize>> {
        let mut runs = Vec::new();
        let mut node = to;
        while node != from {
            let run = (*came.get(node)?)?;
            runs.push(run);
            node = self.edges.get(run)?.other(node);
        }
        runs.reverse();
        Some(runs)
    }

    /// Along the largest flow out of each part, until there is none or the path returns to itself.
    pub(super) fn down_from(&self, node: usize, passed: &[usize]) -> Vec<usize> {
        self.greedy(node, passed, 1.0)
    }

    /// The same against the largest flow into each part, in the order of the water.
    pub(super) fn up_from(&self, node: usize, passed: &[usize]) -> Vec<usize> {
        let mut way = self.greedy(node, passed, -1.0);
        way.reverse();
        way
    }

    fn greedy(&self, from: usize, passed: &[usize], sign: f64) -> Vec<usize> {
        let mut passed = passed.to_vec();
        let mut way = Vec::new();
        let mut node = from;
        loop {
            let here = self.at.get(node).into_iter().flatten();
            let flows = here.filter_map(|run| {
                let edge = self.edges.get(*run)?;
                let away = edge.away_m3_s(node) * sign;
                (away > NO_FLOW_M3_S).then_some((*run, edge.other(node), away))
            });
            let Some((run, next, _)) = flows.max_by(|a, b| a.2.total_cmp(&b.2)) else {
                return way;
            };
            if passed.contains(&next) {
                return way;
            }
            way.push(run);
            passed.push(next);
            node = next;
        }
    }

    /// Every part on a path that ends at `node`.
    pub(super) fn passed(&self, way: &[usize], node: usize) -> Vec<usize> {
        let edges = way.iter().filter_map(|run| self.edges.get(*run));
        let mut all: Vec<usize> = edges.flat_map(|edge| edge.ends).collect();
        all.push(node);
        all
    }
}

/// A cost in the form that a heap needs.
#[derive(Clone, Copy, PartialEq)]
struct HeapEntry(f64, f64);

impl Eq for HeapEntry {}

impl PartialOrd for HeapEntry {
    fn partial_cmp(&self, other: &HeapEntry) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for HeapEntry {
    fn cmp(&self, other: &HeapEntry) -> std::cmp::Ordering {
        self.0.total_cmp(&other.0).then(self.1.total_cmp(&other.1))
    }
}
