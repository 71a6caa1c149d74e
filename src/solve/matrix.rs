//! The sparse matrix of the linear step: pattern and ordering once, numbers every time.
//!
//! Three ways to solve with it, the quickest first, the next where one fails:
//!
//! 1. Cholesky by blocks of columns, for a large network whose numbers are symmetric: every run under
//!    water at both ends;
//! 2. elimination without pivoting (`elimination`), for any network, in half the work where symmetric;
//! 3. LU with pivoting.
//!
//! The last steps of a search hardly change the numbers: where it takes long to factor them, the factors of an
//! earlier step do.

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

/// Operations to an entry of the factor, as a share of the library's own, from which Cholesky by
/// blocks of columns is the quicker.
const BLOCKS_FROM: f64 = 1.5;

/// Entries of the factor to a row from which it takes longer to factor a matrix than to find its numbers.
const HEAVY: usize = 12;
/// Share by which numbers may differ from those that were factored.
///
/// Where no slope of a symmetric matrix has moved by more than this share of itself, the step with the old factors
/// is off by no more than this share of the whole one, in the energy of the network. New factors would hardly
/// ever spare a step then.
const NEAR: f64 = 1e-3;

/// A square sparse matrix with a fixed pattern.
pub(crate) struct Matrix {
    size: usize,
    pattern: SymbolicSparseColMat<u32>,
    /// Slot of each diagonal entry.
    diagonal: Vec<u32>,
    /// Slots of the entries (source row, target column) and (target row, source column) of each link.
    across: Vec<Option<[u32; 2]>>,
    /// Pattern of the Cholesky factor by blocks of columns, where that is the quicker way.
    blocks: Option<SymbolicCholesky<u32>>,
    /// Whether factors are worth keeping for another step.
    is_heavy: bool,
    elimination: OnceCell<Option<Elimination>>,
    pivoting: OnceCell<Option<SymbolicLu<u32>>>,
}

/// The numbers of a matrix.
#[derive(Clone, Default)]
pub(crate) struct Numbers {
    pub values: Vec<f64>,
    /// Every link adds the same on both sides of the diagonal.
    is_symmetric: bool,
}

/// Memory to solve in, so that no step asks for any, with the factors that were made last.
#[derive(Default)]
pub(crate) struct Workspace {
    factors: Factors,
    lower: Vec<f64>,
    stack: Option<MemBuffer>,
    /// The numbers that the factors are of, and which way they were made; none where they are of no use again.
    factored: Vec<f64>,
    way: Option<Factorisation>,
}

/// How symmetric numbers are factored.
#[derive(Clone, Copy)]
enum Factorisation {
    ByBlocks,
    ByHalf,
}

impl Workspace {
    /// Forgets the factors, so that what comes next does not hang on what came before.
    pub fn forget(&mut self) {
        self.way = None;
    }

    /// Keeps in mind of what numbers the factors are.
    fn keep(&mut self, way: Option<Factorisation>, values: &[f64]) {
        self.way = way;
        self.factored.clear();
        if way.is_some() {
            self.factored.extend_from_slice(values);
        }
    }

    /// The way of the factors, where they are of numbers near to these.
    fn way_near(&self, values: &[f64]) -> Option<Factorisation> {
        let is_near = |(old, new): (&f64, &f64)| (new - old).abs() <= NEAR * old.abs();
        let way = self.way?;
        self.factored.iter().zip(values).all(is_near).then_some(way)
    }
}

impl Matrix {
    /// The pattern of a diagonal and of one pair of entries for every pair of rows.
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

    /// Where each column begins, and the rows in them.
    pub fn columns(&self) -> (&[u32], &[u32]) {
        (self.pattern.col_ptr(), self.pattern.row_idx())
    }

    /// Slot of the diagonal entry of a row.
    pub fn diagonal(&self, row: usize) -> usize {
        self.diagonal[row] as usize
    }

    /// Clears the numbers and fills in what every link adds off the diagonal: of its flow the slopes
    /// by the level at its source and by that at its target.
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

    /// Solves A·x = b in place with the factors made last; none where they are not of almost the same numbers,
    /// false where the answer is not finite.
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

    /// Solves A·x = b in place; false where the matrix is singular or the answer is not finite.
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

/// Starts of the columns and the rows in each, rising: the diagonal and both entries of every pair.
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

/// The order of elimination that fills in little, and the pattern of the Cholesky factor.
fn ordered(pattern: SymbolicSparseColMatRef<'_, u32>) -> Option<SymbolicCholesky<u32>> {
    let params = CholeskySymbolicParams {
        supernodal_flop_ratio_threshold: SupernodalThreshold(BLOCKS_FROM),
        ..CholeskySymbolicParams::default()
    };
    factorize_symbolic_cholesky(pattern, Side::Lower, SymmetricOrdering::Amd, params).ok()
}
