//! Rounds heights to those that can be set: whole millimetres, or sixteenths of an inch.

use crate::units::UnitSystem;
use crate::units::convert::{INCH_M, MILLIMETRE_M};

/// Rounding error that unit conversion leaves in a height, as a share of a step.
const SLACK: f64 = 1e-4;

/// Smallest step by which a height is set, metres.
pub(super) fn step_m(system: UnitSystem) -> f64 {
    match system {
        UnitSystem::Metric => MILLIMETRE_M,
        UnitSystem::Us => INCH_M / 16.0,
    }
}

/// Rounds a height down to one that can be set, metres; one that can be set stays.
pub(super) fn down(height_m: f64, system: UnitSystem) -> f64 {
    whole(height_m, system, |steps| (steps + SLACK).floor())
}

/// Rounds a height up to one that can be set, metres; one that can be set stays.
pub(super) fn up(height_m: f64, system: UnitSystem) -> f64 {
    whole(height_m, system, |steps| (steps - SLACK).ceil())
}

fn whole(height_m: f64, system: UnitSystem, round: fn(f64) -> f64) -> f64 {
    match system {
        // Divided, not multiplied: 807.0 / 1000.0 is the number that 0.807 is read as.
        UnitSystem::Metric => round(height_m / MILLIMETRE_M) / 1000.0,
        UnitSystem::Us => round(height_m / step_m(system)) * step_m(system),
    }
}
