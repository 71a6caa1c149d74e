//! Holes under water: in a wall between two waters, and at the mouth of a pipe that is wider.
//!
//! See `docs/method/minor-losses.md`.

use super::{LEAST_BORE_M, full_area_m2};

/// C_o of a sharp hole with water over it on both sides. [@usbr-orifice]
pub const SUBMERGED_ORIFICE: f64 = 0.61;
/// Share of a sharp hole that its jet fills where it is narrowest. [@weisbach]
const CONTRACTED: f64 = 0.61;

/// All that a hole in a wall loses with water over it on both sides, as K on the velocity in the hole: 1/C_o².
///
/// From Q = C_o·A·√(2g·Δh). In place of entrance and exit.
pub fn in_wall_k(orifice: f64) -> f64 {
    1.0 / (orifice * orifice).max(1e-6)
}

/// Entrance loss of a sharp hole at the mouth of a wider pipe, as K on the velocity in the pipe: the jet narrows to
/// its share of the hole and spreads out in the pipe, (A_pipe/(C_c·A_hole) − 1)². [@weisbach]
///
/// Range: held to tests at hole over pipe areas of 0.3, 0.5 and 0.8; of a hole as wide as its pipe 0.41.
pub fn entrance_k(hole_m: f64, pipe_m: f64) -> f64 {
    let ratio = full_area_m2(pipe_m) / full_area_m2(hole_m.max(LEAST_BORE_M));
    let spreads = ratio / CONTRACTED - 1.0;
    spreads.max(0.0).powi(2)
}
