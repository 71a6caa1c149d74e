//! Notches narrower than the measured range of their law.

use super::findings::{advice, finding};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::hydraulics::openings::notch::{LEAST_NOTCH_WIDTH_M, LEAST_VEE_DEG};
use crate::layout::{NotchShape, Opening, Run, RunEnd};
use crate::units::Quantity;

/// A note on each notch of a run whose law is extrapolated; one with its own coefficient is accepted as given.
pub(super) fn notes(run: &Run, out: &mut Vec<Finding>) {
    let openings = RunEnd::BOTH.map(|which| run.end(which).opening.as_ref());
    for opening in openings.into_iter().flatten() {
        let Opening::Notch {
            shape, weir: None, ..
        } = opening
        else {
            continue;
        };
        match *shape {
            NotchShape::Rectangular { width_m, .. } if width_m < LEAST_NOTCH_WIDTH_M => {
                out.push(narrow(
                    run,
                    (Quantity::Bore, width_m, LEAST_NOTCH_WIDTH_M),
                    " wide",
                ));
            }
            NotchShape::Vee { angle_deg } if angle_deg < LEAST_VEE_DEG => {
                out.push(narrow(
                    run,
                    (Quantity::Ratio, angle_deg, LEAST_VEE_DEG),
                    " degrees",
                ));
            }
            _ => {}
        }
    }
}

fn narrow(
    run: &Run,
    (quantity, measured, limit): (Quantity, f64, f64),
    unit: &'static str,
) -> Finding {
    let text = vec![
        "The notch of ".into(),
        Piece::from(&run.id),
        " has ".into(),
        Piece::Number(quantity, measured),
        unit.into(),
        "; its law was measured from ".into(),
        Piece::Number(quantity, limit),
        " on. The water may stand a tenth of its head higher over it than computed.".into(),
    ];
    let mut found = finding((Code::NotchRange, Severity::Note), &[&run.id], text);
    found.measured = Some(measured);
    found.limit = Some(limit);
    found.quantity = quantity;
    let cure =
        "Leave that much more room over it, or time its flow once and enter its coefficient.";
    found.cures.push(advice(vec![cure.into()]));
    found
}
