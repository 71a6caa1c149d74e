//! Pseudo-transient continuation: joints are given a storage that is then removed step by step.  [@kelley-keyes-1998]
//!
//! At a kink of a law Newton's method alternates between its two sides. With storage at the joints a step changes
//! their heads only a little, so that it stays where its linearisations hold. The system remains an M-function, so
//! the heads converge to the same solution as without storage.

use super::newton::{Problem, Stats};
use super::system::{NetworkState, System};
use super::work::StepState;

/// Storage that joints are given in place of none.
#[derive(Clone, Copy)]
pub(crate) struct ArtificialStorage<'a> {
    /// Inflow for each metre that the head of a joint has risen, m²/s.
    pub slope_m2_s: f64,
    /// The heads from which that rise counts, m, by node.
    pub from_m: &'a [f64],
}

/// First value of the storage coefficient, m²/s: an imbalance of a litre a second moves a head by a tenth of a metre.
const FIRST_M2_S: f64 = 1e-2;
/// Factor on the storage coefficient after a step that converged, and after one that did not.
const EASED: f64 = 0.2;
const STIFFENED: f64 = 30.0;
/// Storage coefficient below which it no longer has an effect, m²/s.
const LEAST_M2_S: f64 = 1e-13;
/// Storage coefficient above which no head moves, m²/s.
const MOST_M2_S: f64 = 1e6;
/// Maximum number of steps tried.
const MOST_STEPS: usize = 120;
/// Newton steps for each, and for each trial without storage in between.
const NEWTON_STEPS: usize = 25;
const FREE_STEPS: usize = 12;

/// Solves `problem` starting at `point`, which changes either way. False where it did not converge.
pub(super) fn solve(
    system: &System,
    problem: &Problem,
    point: &mut NetworkState,
    stats: &mut Stats,
) -> bool {
    let mut slope_m2_s = FIRST_M2_S;
    for _ in 0..MOST_STEPS {
        let mut trial = point.clone();
        let drag = ArtificialStorage {
            slope_m2_s,
            from_m: &point.head_m,
        };
        let eased = Problem {
            drag: Some(drag),
            ..*problem
        };
        if StepState::thorough(system, &eased).undamped(&mut trial, NEWTON_STEPS, stats) {
            *point = trial.clone();
            if StepState::thorough(system, problem).undamped(&mut trial, FREE_STEPS, stats) {
                *point = trial;
                return true;
            }
            slope_m2_s = (slope_m2_s * EASED).max(LEAST_M2_S);
        } else {
            slope_m2_s *= STIFFENED;
            if slope_m2_s > MOST_M2_S {
                return false;
            }
        }
    }
    false
}
