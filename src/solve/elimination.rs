//! Sparse elimination without row exchanges, for a matrix of symmetric pattern.
//!
//! The matrix of a network is an M-matrix and diagonally dominant by columns: pivoting would exchange no rows, so
//! the pattern and the order of the factors are determined once for all steps.

use super::jagged_array::JaggedArray;
use super::thin::Thin;
use faer::sparse::SymbolicSparseColMatRef;
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymbolicCholeskyRaw, SymmetricOrdering,
    factorize_symbolic_cholesky,
};
use faer::{Side, perm::PermRef};
use std::cell::OnceCell;

/// Fraction of a diagonal entry below which the remaining pivot is mere rounding.
const LEAST_PIVOT: f64 = 1e-15;

/// Number of columns that are subtracted from another in one pass.
const TOGETHER: usize = 4;

/// Pattern of the factors, in elimination order.
pub(crate) struct Elimination {
    /// Matrix row at each position of the elimination order.
    pub(super) row_at: Vec<u32>,
    /// Position of each matrix row in the elimination order.
    pub(super) place_of: Vec<u32>,
    /// Positions below the diagonal in each column of the lower factor, ascending.
    pub(super) below: JaggedArray,
    /// Positions left of the diagonal in each row of the lower factor, ascending; also the pattern of the upper factor.
    pub(super) left: JaggedArray,
    /// For each of those its slot in `below`.
    pub(super) slots: Vec<u32>,
    /// Position just past the block (supernode) of each column: consecutive columns that fill the diagonal block and
    /// share the same positions below it.
    block_end: Vec<u32>,
    /// Target slots of all products of a symmetric factorisation, where storing them pays; built on first use.
    thin: OnceCell<Option<Thin>>,
}

/// Values of the factors: unit lower triangle, and the upper triangle by columns.
#[derive(Default)]
pub(crate) struct Factors {
    lower: Vec<f64>,
    upper: Vec<f64>,
    pivots: Vec<f64>,
    column: Vec<f64>,
}

impl Elimination {
    /// The factor pattern of a matrix with this pattern, eliminated in the order `order`; none where memory runs
    /// out.
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
        Elimination::of(&symbolic)
    }

    /// The same from a simplicial (entry by entry) symbolic factor; none where the factor is supernodal.
    pub fn of(symbolic: &SymbolicCholesky<u32>) -> Option<Elimination> {
        let SymbolicCholeskyRaw::Simplicial(lower) = symbolic.raw() else {
            return None;
        };
        let (row_at, place_of) = symbolic.perm()?.arrays();
        let below = without_diagonal(lower.col_ptr(), lower.row_idx());
        let (left, slots) = turned(&below);
        let block_end = blocks(&below);
        Some(Elimination {
            thin: OnceCell::new(),
            block_end,
            row_at: row_at.to_vec(),
            place_of: place_of.to_vec(),
            left,
            slots,
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
        factors.make_room(self.row_at.len(), self.below.items.len());
        factors.upper.resize(self.left.items.len(), 0.0);
        (0..self.row_at.len()).all(|place| self.factor_column(place, pattern, values, factors))
    }

    /// Factors a matrix with symmetric values as L·D·Lᵀ, at half the cost.
    pub fn factor_symmetric(
        &self,
        pattern: SymbolicSparseColMatRef<'_, u32>,
        values: &[f64],
        factors: &mut Factors,
    ) -> bool {
        factors.make_room(self.row_at.len(), self.below.items.len());
        if let Some(thin) = self.thin.get_or_init(|| Thin::of(pattern, self)) {
            let factors = (&mut factors.lower[..], &mut factors.pivots[..]);
            return thin.factor(self, values, factors, LEAST_PIVOT);
        }
        (0..self.row_at.len())
            .all(|place| self.factor_symmetric_column(place, pattern, values, factors))
    }

    fn factor_symmetric_column(
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
        let mut left = self.left.range(place);
        while let Some(slot) = left.next() {
            let from = self.left.items[slot] as usize;
            let rest = self.slots[slot] as usize..self.below.range(from).end;
            let places = &self.below.items[rest.clone()];
            // This entry belongs to the other triangle.
            column[from] = 0.0;
            // The columns of a block are adjacent: they are subtracted together, in the same order.
            let columns = (self.block_end[from] as usize).min(place) - from;
            if columns < TOGETHER {
                let lower = &factors.lower[rest];
                let above = lower[0] * factors.pivots[from];
                for (&below, factor) in places.iter().zip(lower) {
                    column[below as usize] -= factor * above;
                }
                continue;
            }
            let block: [&[f64]; TOGETHER] = std::array::from_fn(|next| {
                let start = self.slots[slot + next] as usize;
                &factors.lower[start..start + places.len()]
            });
            let above = std::array::from_fn(|next| block[next][0] * factors.pivots[from + next]);
            column[from + 1..from + TOGETHER].fill(0.0);
            take_off(column, places, block, above);
            left.nth(TOGETHER - 2);
        }
        let pivot = std::mem::take(&mut column[place]);
        factors.pivots[place] = pivot;
        let inverse = 1.0 / pivot;
        let range = self.below.range(place);
        let lower = factors.lower[range.clone()].iter_mut();
        for (&below, factor) in self.below.items[range].iter().zip(lower) {
            *factor = std::mem::take(&mut column[below as usize]) * inverse;
        }
        pivot > LEAST_PIVOT * whole
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

    /// Solves in place with the factors that [`Self::factor_symmetric`] made last.
    pub fn solve_symmetric(&self, factors: &mut Factors, rhs: &mut [f64]) {
        self.clear_below(factors, rhs);
        let x = &mut factors.column;
        for place in (0..x.len()).rev() {
            let lower = &factors.lower[self.below.range(place)];
            let places = self.below.of(place).iter().zip(lower);
            let known: f64 = places.map(|(&below, l)| l * x[below as usize]).sum();
            x[place] = x[place] / factors.pivots[place] - known;
        }
        self.put_back(factors, rhs);
    }

    /// Solves in place with the factors that [`Self::factor`] made last.
    pub fn solve(&self, factors: &mut Factors, rhs: &mut [f64]) {
        self.clear_below(factors, rhs);
        let x = &mut factors.column;
        for place in (0..x.len()).rev() {
            x[place] /= factors.pivots[place];
            let known = x[place];
            let upper = &factors.upper[self.left.range(place)];
            for (&left, factor) in self.left.of(place).iter().zip(upper) {
                x[left as usize] -= factor * known;
            }
        }
        self.put_back(factors, rhs);
    }

    fn clear_below(&self, factors: &mut Factors, rhs: &[f64]) {
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
    }

    fn put_back(&self, factors: &Factors, rhs: &mut [f64]) {
        for (value, &row) in factors.column.iter().zip(&self.row_at) {
            rhs[row as usize] = *value;
        }
    }
}

impl Factors {
    fn make_room(&mut self, size: usize, below: usize) {
        self.lower.resize(below, 0.0);
        self.pivots.resize(size, 0.0);
        self.column.resize(size, 0.0);
        self.column.fill(0.0);
    }
}

/// Subtracts multiples of the columns of a block from a column at these positions: one after the other, so that
/// the rounding is the same as for columns subtracted singly.
#[inline]
fn take_off(
    column: &mut [f64],
    places: &[u32],
    [a, b, c, d]: [&[f64]; TOGETHER],
    times: [f64; TOGETHER],
) {
    let less = |value: &mut f64, (((a, b), c), d): (((&f64, &f64), &f64), &f64)| {
        *value = *value - a * times[0] - b * times[1] - c * times[2] - d * times[3];
    };
    let block = a.iter().zip(b).zip(c).zip(d);
    let (first, last) = (places[0] as usize, places[places.len() - 1] as usize);
    if last - first + 1 == places.len() {
        for (value, factors) in column[first..=last].iter_mut().zip(block) {
            less(value, factors);
        }
    } else {
        for (&place, factors) in places.iter().zip(block) {
            less(&mut column[place as usize], factors);
        }
    }
}

/// Position just past the block of each column.
fn blocks(below: &JaggedArray) -> Vec<u32> {
    let count = below.starts.len() - 1;
    let mut ends: Vec<u32> = (1..=count as u32).collect();
    for place in (1..count).rev() {
        // The pattern below a column is contained in the next column or its diagonal: equal counts mean equal patterns.
        let before = below.of(place - 1);
        if before.first() == Some(&(place as u32)) && before.len() == below.of(place).len() + 1 {
            ends[place - 1] = ends[place];
        }
    }
    ends
}

/// The columns without the diagonal entry that each of them begins with.
fn without_diagonal(starts: &[u32], items: &[u32]) -> JaggedArray {
    let mut lists = JaggedArray {
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

/// The transpose: for each item the lists that contain it, ascending, and its slot in each.
fn turned(lists: &JaggedArray) -> (JaggedArray, Vec<u32>) {
    let count = lists.starts.len() - 1;
    let slots = lists.items.iter().enumerate();
    let slots = JaggedArray::of_pairs(count, slots.map(|(slot, &item)| (item as usize, slot)));
    let mut list_of = Vec::with_capacity(lists.items.len());
    for list in 0..count {
        list_of.resize(lists.range(list).end, list as u32);
    }
    let items = slots.items.iter().map(|&slot| list_of[slot as usize]);
    let turned = JaggedArray {
        starts: slots.starts,
        items: items.collect(),
    };
    (turned, slots.items)
}
