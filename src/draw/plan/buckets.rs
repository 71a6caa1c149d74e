//! Spatial index of rectangles in the plan, for fast neighbour queries.

use crate::draw::page::view::Bounds;
use std::collections::HashMap;

/// Number of cells above which a rectangle is checked in every query.
const MOST_CELLS: f64 = 1024.0;
/// Most cells along the width of everything, and the smallest cell size, metres.
const MOST_ACROSS: f64 = 4096.0;
const LEAST_M: f64 = 0.05;

/// Bounds in a grid of cells, by index.
pub(super) struct Buckets {
    cell_m: f64,
    cells: HashMap<(i64, i64), Vec<usize>>,
    large: Vec<usize>,
}

impl Buckets {
    pub fn new(all: &[Bounds]) -> Buckets {
        let mut buckets = Buckets {
            cell_m: cell_m(all),
            cells: HashMap::new(),
            large: Vec::new(),
        };
        for (index, bounds) in all.iter().enumerate() {
            match buckets.span(bounds) {
                Some([(left, right), (low, high)]) => {
                    for x in left..=right {
                        for y in low..=high {
                            buckets.cells.entry((x, y)).or_default().push(index);
                        }
                    }
                }
                None => buckets.large.push(index),
            }
        }
        buckets
    }

    /// Finds the bounds that may touch `bounds`, each once and in order; `found` is cleared first.
    pub fn near(&self, bounds: &Bounds, found: &mut Vec<usize>) {
        found.clear();
        found.extend(&self.large);
        match self.span(bounds) {
            Some([(left, right), (low, high)]) => {
                for x in left..=right {
                    for y in low..=high {
                        found.extend(self.cells.get(&(x, y)).into_iter().flatten());
                    }
                }
            }
            None => found.extend(self.cells.values().flatten()),
        }
        found.sort_unstable();
        found.dedup();
    }

    /// Returns the range of cells that the bounds cover; `None` if they are too many.
    fn span(&self, bounds: &Bounds) -> Option<[(i64, i64); 2]> {
        let index = |m: f64| (m / self.cell_m).floor();
        let (left, right) = (index(bounds.left_m), index(bounds.right_m));
        let (low, high) = (index(bounds.low_m), index(bounds.high_m));
        let count = (right - left + 1.0) * (high - low + 1.0);
        if count.is_nan() || count > MOST_CELLS {
            return None;
        }
        // Cell indices are already whole, so the cast is exact.
        let whole = |value: f64| value.clamp(-1e15, 1e15) as i64;
        Some([(whole(left), whole(right)), (whole(low), whole(high))])
    }
}

/// Returns the cell size: that of the median rectangle.
fn cell_m(all: &[Bounds]) -> f64 {
    let edge = |one: &Bounds| (one.right_m - one.left_m).max(one.high_m - one.low_m);
    let mut edges: Vec<f64> = all
        .iter()
        .map(edge)
        .filter(|edge| edge.is_finite())
        .collect();
    edges.sort_by(f64::total_cmp);
    let usual = edges.get(edges.len() / 2).copied().unwrap_or(1.0);
    let width = all
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |span, one| {
            (span.0.min(one.left_m), span.1.max(one.right_m))
        });
    let least = (width.1 - width.0) / MOST_ACROSS;
    usual
        .max(LEAST_M)
        .max(if least.is_finite() { least } else { 0.0 })
}
