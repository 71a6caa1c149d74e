//! Elimination of a symmetric matrix with little fill-in: every product goes straight to its target slot.
//!
//! Where a column has only a few entries, finding their targets takes longer than computing them. So the targets
//! are determined once, with the pattern. Each value is the sum of the same products in the same order as in
//! [`Elimination::factor_symmetric`]: the factors are identical to the last bit.

use super::elimination::Elimination;
use faer::sparse::SymbolicSparseColMatRef;

/// Products per factor entry up to which storing their targets pays.
const MOST_PRODUCTS: usize = 16;
/// Not an entry of the matrix: fill-in of the factor.
const FILLS_IN: u32 = u32::MAX;

/// The target slot of every matrix value and of every product.
pub(super) struct Thin {
    /// The matrix slot of each diagonal position, and of each entry of the lower factor.
    diagonal: Vec<u32>,
    entries: Vec<u32>,
    /// For each entry of each column, the slots in the lower factor of its products with the entries below it.
    targets: Vec<u32>,
}

/// Number of products that the first `of` of a column's `entries` form, each with those below it.
fn products(entries: usize, of: usize) -> usize {
    of * entries - of * (of + 1) / 2
}

impl Thin {
    /// The target slots for a matrix of this pattern; none where there are too many products.
    pub fn of(pattern: SymbolicSparseColMatRef<'_, u32>, by: &Elimination) -> Option<Thin> {
        let (below, left) = (&by.below, &by.left);
        let size = by.row_at.len();
        let mut starts = Vec::with_capacity(size);
        let mut all = 0;
        for place in 0..size {
            starts.push(all);
            let entries = below.range(place).len();
            all += products(entries, entries);
        }
        if all > MOST_PRODUCTS * below.items.len() {
            return None;
        }
        let mut thin = Thin {
            diagonal: vec![FILLS_IN; size],
            entries: vec![FILLS_IN; below.items.len()],
            targets: vec![0; all],
        };
        // Slot of each position in the current column.
        let mut slot_of = vec![0; size];
        for place in 0..size {
            for slot in below.range(place) {
                slot_of[below.items[slot] as usize] = slot as u32;
            }
            for slot in pattern.col_range(by.row_at[place] as usize) {
                let other = by.place_of[pattern.row_idx()[slot] as usize] as usize;
                if other == place {
                    thin.diagonal[place] = slot as u32;
                } else if other > place {
                    thin.entries[slot_of[other] as usize] = slot as u32;
                }
            }
            for slot in left.range(place) {
                let (from, at) = (left.items[slot] as usize, by.slots[slot] as usize);
                let column = below.range(from);
                let first = starts[from] + products(column.len(), at - column.start);
                let later = &below.items[at + 1..column.end];
                for (target, &item) in thin.targets[first..].iter_mut().zip(later) {
                    *target = slot_of[item as usize];
                }
            }
        }
        Some(thin)
    }

    /// Computes the lower factor and the pivots; false where one is not above `least_pivot` of its diagonal entry.
    pub fn factor(
        &self,
        by: &Elimination,
        values: &[f64],
        (lower, pivots): (&mut [f64], &mut [f64]),
        least_pivot: f64,
    ) -> bool {
        let of_matrix = |&slot: &u32| values.get(slot as usize).copied().unwrap_or(0.0);
        for (numbers, slots) in [(&mut *lower, &self.entries), (&mut *pivots, &self.diagonal)] {
            for (number, slot) in numbers.iter_mut().zip(slots) {
                *number = of_matrix(slot);
            }
        }
        let mut targets = self.targets.iter();
        for place in 0..pivots.len() {
            let range = by.below.range(place);
            let items = &by.below.items[range.clone()];
            let (column, later) = lower[range.start..].split_at_mut(items.len());
            let pivot = pivots[place];
            let inverse = 1.0 / pivot;
            for factor in column.iter_mut() {
                *factor *= inverse;
            }
            for (index, &item) in items.iter().enumerate() {
                let above = column[index] * pivot;
                pivots[item as usize] -= column[index] * above;
                for (factor, &target) in column[index + 1..].iter().zip(&mut targets) {
                    later[target as usize - range.end] -= factor * above;
                }
            }
            let whole = of_matrix(&self.diagonal[place]);
            if pivot.is_nan() || pivot <= least_pivot * whole {
                return false;
            }
        }
        true
    }
}
