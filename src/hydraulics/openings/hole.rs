//! Submerged holes: in a wall between two waters, and at the mouth of a wider pipe.
//!
//! See `docs/method/minor-losses.md`.

use crate::hydraulics::{LEAST_BORE_M, full_area_m2};

/// C_o of a sharp-edged hole submerged on both sides. [@usbr-orifice]
pub const SUBMERGED_ORIFICE: f64 = 0.61;
/// Contraction coefficient of the jet through a sharp-edged hole. [@weisbach]
const CONTRACTED: f64 = 0.61;

/// Total loss of a hole in a wall, submerged on both sides, as K on the velocity in the hole: 1/C_o².
///
/// From Q = C_o·A·√(2g·Δh). Replaces entrance and exit losses.
pub fn in_wall_k(orifice: f64) -> f64 {
    1.0 / (orifice * orifice).max(1e-6)
}

/// Entrance loss of a sharp-edged hole at the mouth of a wider pipe, as K on the velocity in the pipe: the jet
/// contracts in the hole and expands in the pipe, (A_pipe/(C_c·A_hole) − 1)². [@weisbach]
///
/// Range: checked against tests at hole over pipe areas of 0.3, 0.5 and 0.8; for a hole as wide as its pipe 0.41.
pub fn entrance_k(hole_m: f64, pipe_m: f64) -> f64 {
    let ratio = full_area_m2(pipe_m) / full_area_m2(hole_m.max(LEAST_BORE_M));
    let spreads = ratio / CONTRACTED - 1.0;
    spreads.max(0.0).powi(2)
}
