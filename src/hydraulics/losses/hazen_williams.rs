//! Hazen–Williams friction, for those who are used to it.
//!
//! Limitations: water near 15 °C, turbulent flow, bore of 50 mm or more, velocity below 3 m/s;
//! outside that range the Darcy law is more accurate. See `docs/method/hazen-williams.md`.

use crate::hydraulics::{Dual, LEAST_BORE_M, full_area_m2};

/// Coefficient of the SI form (m, m³/s). Sources print 10.67, 10.674 and 10.704. [@hazen-williams]
pub const COEFFICIENT: f64 = 10.67;
/// Exponent of the flow and of C. [@hazen-williams]
pub const FLOW_EXPONENT: f64 = 1.852;
/// Exponent of the bore. [@hazen-williams]
pub const BORE_EXPONENT: f64 = 4.8704;
/// Velocity below which the loss is linear down to zero, m/s: the derivative of the formula
/// vanishes at zero flow, where it does not hold anyway.
pub const STRAIGHT_BELOW_M_S: f64 = 0.01;
/// Smallest bore for which the formula is intended, m. [@hazen-williams]
pub const LEAST_BORE_IN_RANGE_M: f64 = 0.05;
/// Largest velocity for which the formula is intended, m/s. [@hazen-williams]
pub const MOST_VELOCITY_IN_RANGE_M_S: f64 = 3.0;

/// The parameters of a pipe in the formula.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pipe {
    /// Coefficient of the form used, [`COEFFICIENT`] unless a source states another.
    pub coefficient: f64,
    /// C of the wall, dimensionless.
    pub c: f64,
    /// Bore, m.
    pub bore_m: f64,
    /// Length, m.
    pub length_m: f64,
}

/// Head loss, m, and its derivative, s/m², for `flow_m3_s` ≥ 0. [@hazen-williams]
pub fn head_lost(pipe: &Pipe, flow_m3_s: f64) -> Dual {
    let bore_m = pipe.bore_m.max(LEAST_BORE_M);
    let straight_to = STRAIGHT_BELOW_M_S * full_area_m2(bore_m);
    let at = flow_m3_s.max(straight_to);
    let exponent = FLOW_EXPONENT * (at / pipe.c.max(1.0)).ln() - BORE_EXPONENT * bore_m.ln();
    let head = pipe.coefficient * pipe.length_m * exponent.exp();
    let per_flow = head / at;
    if flow_m3_s < straight_to {
        Dual {
            value: per_flow * flow_m3_s,
            derivative: per_flow,
        }
    } else {
        Dual {
            value: head,
            derivative: FLOW_EXPONENT * per_flow,
        }
    }
}

/// Whether the bore and the velocity lie in the range of the formula.
pub fn in_range(bore_m: f64, velocity_m_s: f64) -> bool {
    bore_m >= LEAST_BORE_IN_RANGE_M && velocity_m_s.abs() < MOST_VELOCITY_IN_RANGE_M_S
}
