//! The hole of a siphon break: the flow lost through it while the run is under pressure.
//!
//! See `docs/method/siphon-break.md`.

use super::coefficients::{Coefficients, least};
use crate::hydraulics::{LEAST_BORE_M, full_area_m2};

/// Flow through the hole, m³/s: C_o·A·√(2gh); 0 for `head_m` ≤ 0. [@chow-1959]
///
/// `bore_m` of the hole; `head_m` from the water outside, or from the hole where that is in air, up to the grade
/// in the run there.
pub fn lost_through_hole(bore_m: f64, head_m: f64, coefficients: &Coefficients) -> f64 {
    if head_m.is_nan() || head_m <= 0.0 {
        return 0.0;
    }
    let area_m2 = full_area_m2(bore_m.max(LEAST_BORE_M));
    least(coefficients.orifice) * area_m2 * (2.0 * coefficients.gravity_m_s2 * head_m).sqrt()
}
