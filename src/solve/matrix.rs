//! The sparse matrix of the linear step: pattern and ordering once, values every time.
//!
//! Three methods to solve with it, the fastest first, the next where one fails:
//!
//! 1. supernodal Cholesky, for a large network with symmetric values: every run submerged at both ends;
//! 2. elimination without pivoting (`elimination`), for any network, at half the cost where symmetric;
//! 3. LU with pivoting.
//!
//! The last steps of a search hardly change the values: where factoring is expensive, the factors of an earlier
//! step are reused.

use super::elimination::{Elimination, Factors};
use super::jagged_array::JaggedArray;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::prelude::Solve;
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, LltRef, SymbolicCholesky, SymmetricOrdering,
    factorize_symbolic_cholesky,
};
use faer::sparse::linalg::solvers::{Lu, SymbolicLu};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMat, SymbolicSparseColMatRef};
use faer::{ColMut, Conj, Par, Side};
use std::cell::OnceCell;

/// Operations per factor entry, relative to the library's own threshold, above which supernodal Cholesky is
/// the faster.
const BLOCKS_FROM: f64 = 1.5;

/// Factor entries per row above which factoring a matrix takes longer than computing its values.
const HEAVY: usize = 12;
/// Relative difference up to which factors of older values may be reused.
///
/// Where no derivative of a symmetric matrix has changed by more than this fraction of itself, the step with the old
/// factors has at most this relative error, in the energy norm of the network. New factors would hardly
/// ever save a step then.
const NEAR: f64 = 1e-3;

/// A square sparse matrix with a fixed pattern.
pub(crate) struct Matrix {
    size: usize,
    pattern: SymbolicSparseColMat<u32>,
    /// Slot of each diagonal entry.
    diagonal: Vec<u32>,
    /// Slots of the entries (source row, target column) and (target row, source column) of each link.
    across: Vec<Option<[u32; 2]>>,
    /// Supernodal pattern of the Cholesky factor, where that method is the faster.
    blocks: Option<SymbolicCholesky<u32>>,
    /// Whether factors are worth keeping for another step.
    is_heavy: bool,
    elimination: OnceCell<Option<Elimination>>,
    pivoting: OnceCell<Option<SymbolicLu<u32>>>,
}

/// The values of a matrix.
#[derive(Clone, Default)]
pub(crate) struct Numbers {
    pub values: Vec<f64>,
    /// Every link adds the same value on both sides of the diagonal.
    is_symmetric: bool,
}

/// Workspace for solving, so that no step allocates, with the factors that were made last.
#[derive(Default)]
pub(crate) struct Workspace {
    factors: Factors,
    lower: Vec<f64>,
    stack: Option<MemBuffer>,
    /// The values that the factors belong to, and the method that made them; none where they cannot be reused.
    factored: Vec<f64>,
    way: Option<Factorisation>,
}

/// How a matrix with symmetric values is factored.
#[derive(Clone, Copy)]
enum Factorisation {
    ByBlocks,
    ByHalf,
}

impl Workspace {
    /// Discards the factors, so that what follows does not depend on what came before.
    pub fn forget(&mut self) {
        self.way = None;
    }

    /// Records which values the factors belong to.
    fn keep(&mut self, way: Option<Factorisation>, values: &[f64]) {
        self.way = way;
        self.factored.clear();
        if way.is_some() {
            self.factored.extend_from_slice(values);
        }
    }

    /// The method that made the factors, where their values are close to these.
    fn way_near(&self, values: &[f64]) -> Option<Factorisation> {
        let is_near = |(old, new): (&f64, &f64)| (new - old).abs() <= NEAR * old.abs();
        let way = self.way?;
        self.factored.iter().zip(values).all(is_near).then_some(way)
    }
}

impl Matrix {
    /// The pattern of a diagonal and one pair of entries for every pair of rows.
    pub fn new(
        size: usize,
        pairs: impl Iterator<Item = (Option<usize>, Option<usize>)> + Clone,
    ) -> Matrix {
        let apart = |pair| match pair {
            (Some(a), Some(b)) if a != b => Some((a, b)),
            _ => None,
        };
        let (starts, rows) = columns(size, pairs.clone().filter_map(apart));
        let slot = |row: usize, column: usize| {
            let start = starts[column] as usize;
            let column = &rows[start..starts[column + 1] as usize];
            (start + column.partition_point(|&r| (r as usize) < row)) as u32
        };
        let diagonal = (0..size).map(|row| slot(row, row)).collect();
        let across = pairs
            .map(|pair| apart(pair).map(|(a, b)| [slot(a, b), slot(b, a)]))
            .collect();
        let pattern = SymbolicSparseColMat::new_checked(size, size, starts, None, rows);
        let symbolic = ordered(pattern.as_ref());
        let by_entries = symbolic.as_ref().and_then(Elimination::of);
        Matrix {
            size,
            pattern,
            diagonal,
            across,
            is_heavy: symbolic
                .as_ref()
                .is_some_and(|symbolic| symbolic.len_val() >= HEAVY * size.max(1)),
            blocks: symbolic.filter(|_| by_entries.is_none()),
            elimination: by_entries.map_or_else(OnceCell::new, |found| Some(found).into()),
            pivoting: OnceCell::new(),
        }
    }

    /// Number of entries.
    pub fn entries(&self) -> usize {
        self.pattern.row_idx().len()
    }

    /// Column starts and row indices.
    pub fn columns(&self) -> (&[u32], &[u32]) {
        (self.pattern.col_ptr(), self.pattern.row_idx())
    }

    /// Slot of the diagonal entry of a row.
    pub fn diagonal(&self, row: usize) -> usize {
        self.diagonal[row] as usize
    }

    /// Clears the values and adds the off-diagonal entries of every link: the derivatives of its flow
    /// with respect to the levels at its source and at its target.
    pub fn fill_across(&self, numbers: &mut Numbers, slopes: impl Fn(usize) -> (f64, f64)) {
        let Numbers {
            values,
            is_symmetric,
        } = numbers;
        values.clear();
        values.resize(self.entries(), 0.0);
        *is_symmetric = true;
        for (link, slots) in self.across.iter().enumerate() {
            if let Some([upper, lower]) = slots {
                let (by_source, by_target) = slopes(link);
                values[*upper as usize] += by_target;
                values[*lower as usize] -= by_source;
                *is_symmetric &= by_target == -by_source;
            }
        }
    }

    /// Solves A·x = b in place with the last factors; none where their values differ too much from these,
    /// false where the solution is not finite.
    pub fn solve_again(
        &self,
        numbers: &Numbers,
        rhs: &mut [f64],
        desk: &mut Workspace,
    ) -> Option<bool> {
        let solved = match desk.way_near(&numbers.values)? {
            Factorisation::ByBlocks => self.again_by_blocks(rhs, desk),
            Factorisation::ByHalf => self.again_by_half(rhs, desk),
        };
        Some(solved && is_finite(rhs))
    }

    /// Solves A·x = b in place; false where the matrix is singular or the solution is not finite.
    pub fn solve(&self, numbers: &Numbers, rhs: &mut [f64], desk: &mut Workspace) -> bool {
        if self.size == 0 {
            return true;
        }
        let values = &numbers.values;
        let way = self.by_symmetry(numbers, rhs, desk);
        let solved = way.is_some()
            || self.by_elimination(values, rhs, desk)
            || self.by_pivoting(values, rhs);
        desk.keep(way.filter(|_| self.is_heavy), values);
        solved && is_finite(rhs)
    }

    fn by_symmetry(
        &self,
        numbers: &Numbers,
        rhs: &mut [f64],
        desk: &mut Workspace,
    ) -> Option<Factorisation> {
        let values = &numbers.values;
        if !numbers.is_symmetric {
            None
        } else if self.by_blocks(values, rhs, desk) {
            Some(Factorisation::ByBlocks)
        } else {
            self.by_half(values, rhs, desk)
                .then_some(Factorisation::ByHalf)
        }
    }

    fn by_blocks(&self, values: &[f64], rhs: &mut [f64], desk: &mut Workspace) -> bool {
        let Some(symbolic) = &self.blocks else {
            return false;
        };
        desk.lower.resize(symbolic.len_val(), 0.0);
        let stack = desk.stack.get_or_insert_with(|| {
            let factor =
                symbolic.factorize_numeric_llt_scratch::<f64>(Par::Seq, Default::default());
            MemBuffer::new(factor.or(symbolic.solve_in_place_scratch::<f64>(1, Par::Seq)))
        });
        let factors = symbolic.factorize_numeric_llt(
            &mut desk.lower,
            SparseColMatRef::new(self.pattern.as_ref(), values),
            Side::Lower,
            Default::default(),
            Par::Seq,
            MemStack::new(stack),
            Default::default(),
        );
        factors.is_ok() && self.again_by_blocks(rhs, desk)
    }

    fn again_by_blocks(&self, rhs: &mut [f64], desk: &mut Workspace) -> bool {
        let (Some(symbolic), Some(stack)) = (&self.blocks, &mut desk.stack) else {
            return false;
        };
        let factors = LltRef::<u32, f64>::new(symbolic, &desk.lower);
        let rhs = ColMut::from_slice_mut(rhs).as_mat_mut();
        factors.solve_in_place_with_conj(Conj::No, rhs, Par::Seq, MemStack::new(stack));
        true
    }

    fn elimination(&self) -> Option<&Elimination> {
        let make = || Elimination::new(self.pattern.as_ref(), self.blocks.as_ref()?.perm()?);
        self.elimination.get_or_init(make).as_ref()
    }

    fn by_half(&self, values: &[f64], rhs: &mut [f64], desk: &mut Workspace) -> bool {
        let (pattern, factors) = (self.pattern.as_ref(), &mut desk.factors);
        let factored = self
            .elimination()
            .is_some_and(|elimination| elimination.factor_symmetric(pattern, values, factors));
        factored && self.again_by_half(rhs, desk)
    }

    fn again_by_half(&self, rhs: &mut [f64], desk: &mut Workspace) -> bool {
        let Some(elimination) = self.elimination() else {
            return false;
        };
        elimination.solve_symmetric(&mut desk.factors, rhs);
        true
    }

    fn by_elimination(&self, values: &[f64], rhs: &mut [f64], desk: &mut Workspace) -> bool {
        let (pattern, factors) = (self.pattern.as_ref(), &mut desk.factors);
        self.elimination().is_some_and(|elimination| {
            let done = elimination.factor(pattern, values, factors);
            if done {
                elimination.solve(factors, rhs);
            }
            done
        })
    }

    fn by_pivoting(&self, values: &[f64], rhs: &mut [f64]) -> bool {
        let make = || SymbolicLu::try_new(self.pattern.as_ref()).ok();
        let Some(symbolic) = self.pivoting.get_or_init(make) else {
            return false;
        };
        let matrix = SparseColMatRef::new(self.pattern.as_ref(), values);
        let Ok(factors) = Lu::try_new_with_symbolic(symbolic.clone(), matrix) else {
            return false;
        };
        factors.solve_in_place(ColMut::from_slice_mut(rhs).as_mat_mut());
        true
    }
}

fn is_finite(x: &[f64]) -> bool {
    x.iter().all(|value| value.is_finite())
}

/// Column starts and ascending row indices: the diagonal and both entries of every pair.
fn columns(
    size: usize,
    pairs: impl Iterator<Item = (usize, usize)> + Clone,
) -> (Vec<u32>, Vec<u32>) {
    let diagonal = (0..size).map(|row| (row, row));
    let across = pairs.flat_map(|(a, b)| [(a, b), (b, a)]);
    let mut all = JaggedArray::of_pairs(size, diagonal.chain(across));
    let (mut starts, mut rows) = (vec![0], Vec::with_capacity(all.items.len()));
    for column in 0..size {
        let range = all.range(column);
        let column = &mut all.items[range];
        column.sort_unstable();
        let before = rows.len();
        for &row in column.iter() {
            if rows.len() == before || rows.last() != Some(&row) {
                rows.push(row);
            }
        }
        starts.push(rows.len() as u32);
    }
    (starts, rows)
}

/// A fill-reducing elimination order, and the pattern of the Cholesky factor.
fn ordered(pattern: SymbolicSparseColMatRef<'_, u32>) -> Option<SymbolicCholesky<u32>> {
    let params = CholeskySymbolicParams {
        supernodal_flop_ratio_threshold: SupernodalThreshold(BLOCKS_FROM),
        ..CholeskySymbolicParams::default()
    };
    factorize_symbolic_cholesky(pattern, Side::Lower, SymmetricOrdering::Amd, params).ok()
}
