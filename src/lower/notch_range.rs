//! Notches narrower than the measured range of their law.

use super::problem::{NotchSize, Problem};
use crate::hydraulics::openings::notch::{LEAST_NOTCH_WIDTH_M, LEAST_VEE_DEG};
use crate::layout::{NotchShape, Opening, Run, RunEnd};

/// A problem for each notch of a run whose law is extrapolated; one with its own coefficient is accepted as given.
pub(super) fn problems(run: &Run, out: &mut Vec<Problem>) {
    let openings = RunEnd::BOTH.map(|which| run.end(which).opening.as_ref());
    for opening in openings.into_iter().flatten() {
        let Opening::Notch {
            shape, weir: None, ..
        } = opening
        else {
            continue;
        };
        let (size, value, least) = match *shape {
            NotchShape::Rectangular { width_m, .. } => {
                (NotchSize::Width, width_m, LEAST_NOTCH_WIDTH_M)
            }
            NotchShape::Vee { angle_deg } => (NotchSize::Angle, angle_deg, LEAST_VEE_DEG),
        };
        if value < least {
            out.push(Problem::NarrowNotch {
                run: run.id.clone(),
                size,
                value,
                least,
            });
        }
    }
}
