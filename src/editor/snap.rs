//! Snaps heights: candidates, and one ranking.

use crate::units::UnitSystem;
use crate::units::convert::{INCH_M, MILLIMETRE_M};

/// A snapped height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Snapped {
    /// The height, metres.
    pub height_m: f64,
    /// Whether it is a candidate, rather than a step of the tape.
    pub to_candidate: bool,
}

/// Snaps `raw_m` to the nearest candidate within `tolerance_m`, else to the nearest step of the tape that is no finer
/// than the pointer can place (`tolerance_m` again).
///
/// Steps are 1, 5 or 10 mm, or 1/16, 1/4 or 1/2 inch.
pub fn snap(raw_m: f64, candidates: &[f64], tolerance_m: f64, system: UnitSystem) -> Snapped {
    let off = |height: &f64| (height - raw_m).abs();
    let nearest = candidates
        .iter()
        .filter(|height| off(height) <= tolerance_m)
        .min_by(|a, b| off(a).total_cmp(&off(b)));
    if let Some(height_m) = nearest {
        return Snapped {
            height_m: *height_m,
            to_candidate: true,
        };
    }
    Snapped {
        height_m: on_tape(raw_m, step_m(tolerance_m, system), system),
        to_candidate: false,
    }
}

/// The step of the tape for this pointer precision, metres.
pub fn step_m(tolerance_m: f64, system: UnitSystem) -> f64 {
    let steps = match system {
        UnitSystem::Metric => [10.0, 5.0, 1.0].map(|step| step * MILLIMETRE_M),
        UnitSystem::Us => [0.5, 0.25, 0.0625].map(|step| step * INCH_M),
    };
    let [coarse, middle, fine] = steps;
    if tolerance_m >= coarse * 2.0 {
        coarse
    } else if tolerance_m >= middle * 0.5 {
        middle
    } else {
        fine
    }
}

/// The nearest whole step. Metric heights are rounded to the decimal, so that 1.215 stays 1.215.
pub fn on_tape(raw_m: f64, step_m: f64, system: UnitSystem) -> f64 {
    let stepped = (raw_m / step_m).round() * step_m;
    match system {
        UnitSystem::Metric => (stepped * 1e4).round() / 1e4,
        UnitSystem::Us => stepped,
    }
}
