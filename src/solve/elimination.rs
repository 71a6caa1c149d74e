//! Sparse elimination without exchanging rows, for a matrix of symmetric pattern.
//!
//! The matrix of a network is an M-matrix, dominant by columns: pivoting would exchange no rows
//! there, so that pattern and order of the factors can be settled once and for all.

use faer::sparse::SymbolicSparseColMatRef;
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymbolicCholeskyRaw, SymmetricOrdering,
    factorize_symbolic_cholesky,
};
use faer::{Side, perm::PermRef};

/// Share of a diagonal entry below which what is left of it as a pivot is rounding.
const LEAST_PIVOT: f64 = 1e-15;

/// Pattern of the factors, in the order of elimination.
pub(crate) struct Elimination {
    /// Row of the matrix at each place.
    row_at: Vec<u32>,
    /// Place of each row of the matrix.
    place_of: Vec<u32>,
    /// Places below the diagonal in each column of the lower factor, rising.
    below: Lists,
    /// The same slots by row: for each place the (column, slot) of the lower factor left of it, rising.
    left: Lists,
}

/// Many short lists in one.
struct Lists {
    starts: Vec<u32>,
    items: Vec<u32>,
}

impl Lists {
    fn range(&self, list: usize) -> std::ops::Range<usize> {
        self.starts[list] as usize..self.starts[list + 1] as usize
    }

    fn of(&self, list: usize) -> &[u32] {
        &self.items[self.range(list)]
    }
}

/// Numbers of the factors: the lower one with a diagonal of ones, the upper one by columns.
#[derive(Default)]
pub(crate) struct Factors {
    lower: Vec<f64>,
    upper: Vec<f64>,
    pivots: Vec<f64>,
    column: Vec<f64>,
}

impl Elimination {
    /// The pattern of the factors of a matrix of this pattern, eliminated in the order of `order`;
    /// none where there is no memory for it.
    pub fn new(
        pattern: SymbolicSparseColMatRef<'_, u32>,
        order: PermRef<'_, u32>,
    ) -> Option<Elimination> {
        let params = CholeskySymbolicParams {
            supernodal_flop_ratio_threshold: SupernodalThreshold::FORCE_SIMPLICIAL,
            ..CholeskySymbolicParams::default()
        };
        let custom = SymmetricOrdering::Custom(order);
        let symbolic: SymbolicCholesky<u32> =
            factorize_symbolic_cholesky(pattern, Side::Upper, custom, params).ok()?;
        let SymbolicCholeskyRaw::Simplicial(lower) = symbolic.raw() else {
            return None;
        };
        let (row_at, place_of) = order.arrays();
        let below = without_diagonal(lower.col_ptr(), lower.row_idx());
        Some(Elimination {
            row_at: row_at.to_vec(),
            place_of: place_of.to_vec(),
            left: turned(&below),
            below,
        })
    }

    /// Factors the matrix; false where a pivot is lost in rounding.
    pub fn factor(
        &self,
        pattern: SymbolicSparseColMatRef<'_, u32>,
        values: &[f64],
        factors: &mut Factors,
    ) -> bool {
        let size = self.row_at.len();
        factors.lower.resize(self.below.items.len(), 0.0);
        factors.upper.resize(self.left.items.len(), 0.0);
        factors.pivots.resize(size, 0.0);
        factors.column.resize(size, 0.0);
        factors.column.fill(0.0);
        (0..size).all(|place| self.factor_column(place, pattern, values, factors))
    }

    fn factor_column(
        &self,
        place: usize,
        pattern: SymbolicSparseColMatRef<'_, u32>,
        values: &[f64],
        factors: &mut Factors,
    ) -> bool {
        let column = &mut factors.column;
        let row = self.row_at[place] as usize;
        for slot in pattern.col_range(row) {
            column[self.place_of[pattern.row_idx()[slot] as usize] as usize] = values[slot];
        }
        let whole = column[place];
        for slot in self.left.range(place) {
            let from = self.left.items[slot] as usize;
            let above = std::mem::take(&mut column[from]);
            factors.upper[slot] = above;
            if above != 0.0 {
                let lower = &factors.lower[self.below.range(from)];
                for (&below, factor) in self.below.of(from).iter().zip(lower) {
                    column[below as usize] -= factor * above;
                }
            }
        }
        let pivot = std::mem::take(&mut column[place]);
        factors.pivots[place] = pivot;
        for slot in self.below.range(place) {
            let below = std::mem::take(&mut column[self.below.items[slot] as usize]);
            factors.lower[slot] = below / pivot;
        }
        pivot > LEAST_PIVOT * whole
    }

    /// Solves in place with the factors made last.
    pub fn solve(&self, factors: &mut Factors, rhs: &mut [f64]) {
        let x = &mut factors.column;
        for (value, &row) in x.iter_mut().zip(&self.row_at) {
            *value = rhs[row as usize];
        }
        for place in 0..x.len() {
            let known = x[place];
            let lower = &factors.lower[self.below.range(place)];
            for (&below, factor) in self.below.of(place).iter().zip(lower) {
                x[below as usize] -= factor * known;
            }
        }
        for place in (0..x.len()).rev() {
            x[place] /= factors.pivots[place];
            let known = x[place];
            let upper = &factors.upper[self.left.range(place)];
            for (&left, factor) in self.left.of(place).iter().zip(upper) {
                x[left as usize] -= factor * known;
            }
        }
        for (value, &row) in x.iter().zip(&self.row_at) {
            rhs[row as usize] = *value;
        }
    }
}

/// Lists of columns that begin with their diagonal, without it.
fn without_diagonal(starts: &[u32], items: &[u32]) -> Lists {
    let mut lists = Lists {
        starts: vec![0],
        items: Vec::with_capacity(items.len()),
    };
    for pair in starts.windows(2) {
        lists
            .items
            .extend_from_slice(&items[pair[0] as usize + 1..pair[1] as usize]);
        lists.starts.push(lists.items.len() as u32);
    }
    lists
}

/// For each item the lists it is in, rising.
fn turned(lists: &Lists) -> Lists {
    let count = lists.starts.len() - 1;
    let mut starts = vec![0u32; count + 1];
    for &item in &lists.items {
        starts[item as usize + 1] += 1;
    }
    for list in 0..count {
        starts[list + 1] += starts[list];
    }
    let mut next = starts.clone();
    let mut items = vec![0; lists.items.len()];
    for list in 0..count {
        for &item in lists.of(list) {
            items[next[item as usize] as usize] = list as u32;
            next[item as usize] += 1;
        }
    }
    Lists { starts, items }
}
