//! The linear system of one Newton step on its own, so that its cost can be compared with that of the whole solve.

use super::matrix::{Numbers, Workspace};
use super::newton::{self, Problem};
use super::steady_state::FOR_EVER_S;
use super::system::{NetworkState, System};

/// The sparse system of a Newton step at one network state.
pub struct LinearStep<'s, 'n> {
    system: &'s System<'n>,
    numbers: Numbers,
    rhs: Vec<f64>,
    step: Vec<f64>,
    desk: Workspace,
}

impl<'n> System<'n> {
    /// The sparse system of the Newton step of a steady-state solve ([`steady_state`](super::steady_state())) at
    /// `point`.
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
    /// Factors the matrix and solves the system once, as a Newton step does; false where the matrix is singular.
    pub fn solve(&mut self) -> bool {
        self.step.copy_from_slice(&self.rhs);
        let matrix = &self.system.matrix;
        matrix.solve(&self.numbers, &mut self.step, &mut self.desk)
    }

    /// The matrix in compressed columns: column starts, row indices and values, m²/s.
    pub fn by_columns(&self) -> (&[u32], &[u32], &[f64]) {
        let (starts, rows) = self.system.matrix.columns();
        (starts, rows, &self.numbers.values)
    }

    /// The right-hand side: excess outflow of each row, m³/s.
    pub fn right_hand_side(&self) -> &[f64] {
        &self.rhs
    }
}
