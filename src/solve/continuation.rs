//! Pseudo-transient continuation: joints are given a storage that is taken away again.  [@kelley-keyes-1998]
//!
//! At the corner of a law Newton leads now to one side and now to the other. With storage at the joints a step
//! moves their heads by little, so that it stays where its lines hold; and since the system stays an M-function,
//! the heads go where they would without it.

use super::newton::{Problem, Stats};
use super::system::{NetworkState, System};
use super::work::StepState;

/// Storage that joints are given in place of none.
#[derive(Clone, Copy)]
pub(crate) struct ArtificialStorage<'a> {
    /// What flows in for each metre that the head of a joint has risen, m²/s.
    pub slope_m2_s: f64,
    /// The heads from which that counts, m, by node.
    pub from_m: &'a [f64],
}

/// First slope, m²/s: a litre a second out of balance moves a head by a tenth of a metre.
const FIRST_M2_S: f64 = 1e-2;
/// What the slope is multiplied by after a step that was solved, and after one that was not.
const EASED: f64 = 0.2;
const STIFFENED: f64 = 30.0;
/// Slope under which it makes no difference any more, m²/s.
const LEAST_M2_S: f64 = 1e-13;
/// Slope over which nothing moves, m²/s.
const MOST_M2_S: f64 = 1e6;
/// Steps tried in all.
const MOST_STEPS: usize = 120;
/// Newton steps of each, and of each try without storage in between.
const NEWTON_STEPS: usize = 25;
const FREE_STEPS: usize = 12;

/// Solves `problem` from `point` on; `point` moves either way. False where it did not come to the end.
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
