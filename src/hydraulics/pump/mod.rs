//! Pumps: head against flow, speed, power, net positive suction head.

mod curve;
mod point_curve;
mod power_and_suction;
mod reading;

pub use curve::{Curve, CurveError, LEAST_SPEED_RATIO};
pub use point_curve::PointCurve;
pub use power_and_suction::{Suction, npsh_available_m, npsh_required_m, power_w};
pub use reading::{
    LABEL_EXPONENT, LABEL_EXPONENTS, ReadCurve, bounds_of_label, by_power_law, guessed_from_label,
    through_points,
};
