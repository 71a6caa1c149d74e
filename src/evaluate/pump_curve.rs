//! The curve of a pump as numbers: from its form, and the error bounds of a guess.

use crate::hydraulics::pump::{Curve, bounds_of_label};
use crate::layout::CurveForm;
use crate::lower::read_curve;

/// The curve of a form, at full speed, as a polyline: flow (m³/s) and head (m), from no flow to its
/// end; none where it cannot be read or has no end.
pub fn line_of_curve(form: &CurveForm) -> Option<Vec<(f64, f64)>> {
    read_curve(form)?.curve.polyline()
}

/// The bounds of a guess as given curves: least head and greatest head; none where the form is no guess, or
/// cannot be read.
pub fn edges_of_guess(form: &CurveForm) -> Option<[CurveForm; 2]> {
    let CurveForm::Label {
        largest_head_m,
        largest_flow_m3_s,
    } = form
    else {
        return None;
    };
    let given = |curve: Curve| match curve {
        Curve::Power { h0_m, c, n } => Some(CurveForm::Power { h0_m, c, n }),
        Curve::Points(_) => None,
    };
    let [least, greatest] = bounds_of_label(*largest_head_m, *largest_flow_m3_s)?;
    Some([given(least)?, given(greatest)?])
}
