//! Discharge coefficients of openings.

use crate::hydraulics::STANDARD_GRAVITY_M_S2;

/// Discharge coefficients of openings; they are choices, so they are data.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Weir over a lip, C_w in ⅔·C_w·√(2g)·P·h^1.5.
    pub weir: f64,
    /// Orifice, C_o in C_o·A·√(2gh).
    pub orifice: f64,
    /// Entrance loss of a side hole on its critical velocity head.
    pub entrance_k: f64,
    /// Rim, C in C·P·h^1.5, m^½/s.
    pub rim: f64,
    /// Gravity, m/s².
    pub gravity_m_s2: f64,
}

impl Default for Coefficients {
    /// 0.6, 0.6 and 0.5: customary round values [@chow-1959]; 1.44: a broad level rim [@bos-1989].
    fn default() -> Coefficients {
        Coefficients {
            weir: 0.6,
            orifice: 0.6,
            entrance_k: 0.5,
            rim: 1.44,
            gravity_m_s2: STANDARD_GRAVITY_M_S2,
        }
    }
}

/// A lower bound: a coefficient of zero would close the opening and break the inverse.
pub(super) fn least(coefficient: f64) -> f64 {
    coefficient.max(1e-3)
}
