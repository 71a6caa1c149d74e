//! The linear system of one Newton step by itself, so that what it takes can be weighed against the whole.

use super::matrix::{Numbers, Workspace};
use super::newton::{self, Problem};
use super::steady_state::FOR_EVER_S;
use super::system::{NetworkState, System};

/// The sparse system of a Newton step about one point.
pub struct LinearStep<'s, 'n> {
    system: &'s System<'n>,
    numbers: Numbers,
    rhs: Vec<f64>,
    step: Vec<f64>,
    desk: Workspace,
}

impl<'n> System<'n> {
    /// The sparse system of the Newton step of a [`jump`](super::jump) about `point`.
    pub fn linear_step(&self, point: &NetworkState) -> LinearStep<'_, 'n> {
        let problem = Problem::new(&point.volume_m3, FOR_EVER_S);
        let (numbers, rhs) = newton::assembled(self, &problem, point);
        LinearStep {
            system: self,
            numbers,
            step: rhs.clone(),
            rhs,
            desk: Workspace::default(),
        }
    }
}

impl LinearStep<'_, '_> {
    /// Factors the matrix and solves with it once, as a Newton step does; false where it is singular.
    pub fn solve(&mut self) -> bool {
        self.step.copy_from_slice(&self.rhs);
        let matrix = &self.system.matrix;
        matrix.solve(&self.numbers, &mut self.step, &mut self.desk)
    }

    /// The matrix by columns: where each begins, the rows in them, and their numbers, m²/s.
    pub fn by_columns(&self) -> (&[u32], &[u32], &[f64]) {
        let (starts, rows) = self.system.matrix.columns();
        (starts, rows, &self.numbers.values)
    }

    /// What the step is solved for: what flows out of each row too much, m³/s.
    pub fn right_hand_side(&self) -> &[f64] {
        &self.rhs
    }
}
