//! The sparse matrix of the linear step: pattern and ordering once, numbers every time.

use faer::prelude::Solve;
use faer::sparse::linalg::solvers::{Lu, SymbolicLu};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMat};
use faer::{Mat, MatMut};

/// A square sparse matrix with a fixed pattern.
pub(crate) struct Matrix {
    size: usize,
    pattern: SymbolicSparseColMat<usize>,
    symbolic: Option<SymbolicLu<usize>>,
    /// Slot of each diagonal entry.
    diagonal: Vec<usize>,
    /// Slots of the entries (source row, target column) and (target row, source column) of each link.
    across: Vec<Option<(usize, usize)>>,
}

impl Matrix {
    /// The pattern of a diagonal and of one pair of entries for every pair of rows.
    pub fn new(
        size: usize,
        pairs: impl Iterator<Item = (Option<usize>, Option<usize>)> + Clone,
    ) -> Matrix {
        let mut columns: Vec<Vec<usize>> = (0..size).map(|row| vec![row]).collect();
        for pair in pairs.clone() {
            if let (Some(a), Some(b)) = pair
                && a != b
            {
                columns[b].push(a);
                columns[a].push(b);
            }
        }
        let (mut starts, mut rows) = (vec![0], Vec::new());
        for column in &mut columns {
            column.sort_unstable();
            column.dedup();
            rows.extend_from_slice(column);
            starts.push(rows.len());
        }
        let slot = |row: usize, column: usize| {
            starts[column] + rows[starts[column]..starts[column + 1]].partition_point(|&r| r < row)
        };
        let diagonal = (0..size).map(|row| slot(row, row)).collect();
        let across = pairs
            .map(|pair| match pair {
                (Some(a), Some(b)) if a != b => Some((slot(a, b), slot(b, a))),
                _ => None,
            })
            .collect();
        let pattern = SymbolicSparseColMat::new_checked(size, size, starts, None, rows);
        let symbolic = SymbolicLu::try_new(pattern.as_ref()).ok();
        Matrix {
            size,
            pattern,
            symbolic,
            diagonal,
            across,
        }
    }

    /// Numbers for the pattern, all 0.
    pub fn zeros(&self) -> Vec<f64> {
        vec![0.0; self.pattern.row_idx().len()]
    }

    /// Slot of the diagonal entry of a row.
    pub fn diagonal(&self, row: usize) -> usize {
        self.diagonal[row]
    }

    /// Slots of (source row, target column) and (target row, source column) of a link.
    pub fn across(&self, link: usize) -> Option<(usize, usize)> {
        self.across[link]
    }

    /// Solves A·x = b in place; false where the matrix is singular or the answer is not finite.
    pub fn solve(&self, values: &[f64], rhs: &mut [f64]) -> bool {
        if self.size == 0 {
            return true;
        }
        let Some(symbolic) = self.symbolic.clone() else {
            return false;
        };
        let matrix = SparseColMatRef::new(self.pattern.as_ref(), values);
        let Ok(factors) = Lu::try_new_with_symbolic(symbolic, matrix) else {
            return false;
        };
        let mut x = Mat::from_fn(self.size, 1, |row, _| rhs[row]);
        factors.solve_in_place(MatMut::as_mut(&mut x.as_mut()));
        for (row, value) in rhs.iter_mut().enumerate() {
            *value = x[(row, 0)];
        }
        rhs.iter().all(|value| value.is_finite())
    }
}
