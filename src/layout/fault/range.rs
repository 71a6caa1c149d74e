//! Allowed range of each kind of number.
//!
//! The limits are far beyond anything that is built. They ensure that no calculation on a layout overflows or divides
//! by zero: a number that must be above 0 starts at a value too small to build rather than at the smallest
//! floating-point number.

use super::FaultText;

/// Most characters in a title, a name, an id or a catalogue word.
pub(super) const MOST_CHARACTERS: usize = 1000;
/// Most fittings of one kind in one entry.
pub(super) const MOST_FITTINGS: u32 = 10_000;
/// Smallest step between two flows of a curve, m³/s.
pub(super) const LEAST_FLOW_STEP_M3_S: f64 = 1e-9;
/// Smallest step between two depths of a level–area table, metres.
pub(super) const LEAST_DEPTH_STEP_M: f64 = 1e-6;

/// Rounding tolerance between two sums of lengths, metres.
pub(super) const ROUNDING_M: f64 = 1e-6;

/// Smallest step between two levels of a float switch or a float valve, metres.
pub(super) const LEAST_SWITCH_STEP_M: f64 = 1e-6;

/// Closed range of a number, with its unit.
pub(super) struct Range {
    least: f64,
    most: f64,
    unit: &'static str,
}

impl Range {
    /// Returns whether `value` is in the range; false for NaN.
    pub(super) fn holds(&self, value: f64) -> bool {
        (self.least..=self.most).contains(&value)
    }

    /// Returns `value` with the unit.
    pub(super) fn with_unit(&self, value: f64) -> (f64, &'static str) {
        (value, self.unit)
    }

    /// Returns the correction for a value outside the range.
    pub(super) fn cure(&self) -> FaultText {
        FaultText::between("give it a number ", [self.least, self.most], self.unit)
    }
}

/// Formats a number with as many digits as it has, in exponent form if it is very small or very large.
pub(super) fn digits(value: f64) -> String {
    let size = value.abs();
    if value.is_finite() && size != 0.0 && !(1e-6..1e7).contains(&size) {
        format!("{value:e}")
    } else {
        format!("{value}")
    }
}

const fn range(least: f64, most: f64, unit: &'static str) -> Range {
    Range { least, most, unit }
}

pub(super) const ELEVATION: Range = range(-20_000.0, 20_000.0, "m");
pub(super) const PLAN: Range = range(-20_000.0, 20_000.0, "m");
pub(super) const BORE: Range = range(1e-4, 50.0, "m");
pub(super) const SIZE: Range = range(1e-3, 1e5, "m");
pub(super) const PLAN_AREA: Range = range(1e-6, 1e10, "m²");
pub(super) const ROW_AREA: Range = range(0.0, 1e10, "m²");
pub(super) const DEPTH: Range = range(0.0, 40_000.0, "m");
pub(super) const LENGTH: Range = range(0.0, 1e6, "m");
pub(super) const ROUGHNESS: Range = range(0.0, 1.0, "m");
pub(super) const LOSS_K: Range = range(0.0, 1e9, "");
pub(super) const HAZEN_WILLIAMS_C: Range = range(0.1, 1000.0, "");
pub(super) const FRICTION_FACTOR: Range = range(0.0, 1000.0, "");
pub(super) const POROSITY: Range = range(0.001, 1.0, "");
pub(super) const INFLOW: Range = range(-1e5, 1e5, "m³/s");
pub(super) const CURVE_FLOW: Range = range(0.0, 1e5, "m³/s");
pub(super) const SHEET_FLOW: Range = range(LEAST_FLOW_STEP_M3_S, 1e5, "m³/s");
pub(super) const LABEL_FLOW: Range = range(1e-9, 1e5, "m³/s");
pub(super) const PUMP_HEAD: Range = range(-1e5, 1e5, "m");
pub(super) const LOSS_HEAD: Range = range(0.0, 1e5, "m");
pub(super) const SHUTOFF_HEAD: Range = range(1e-6, 1e5, "m");
pub(super) const CURVE_TERM: Range = range(0.0, 1e60, "");
pub(super) const EXPONENT: Range = range(1.0, 10.0, "");
pub(super) const LOSS_TERM: Range = range(0.0, 1e15, "");
pub(super) const SHARE: Range = range(0.0, 1.0, "");
pub(super) const SPEED: Range = range(0.0, 3.0, "");
pub(super) const EFFICIENCY: Range = range(0.001, 1.0, "");
pub(super) const TURNOVER: Range = range(0.0, 1e6, "per hour");
pub(super) const TEMPERATURE: Range = range(0.0, 40.0, "°C");
/// Allowed where viscosity and density are both given: no property is then computed from temperature.
pub(super) const ANY_TEMPERATURE: Range = range(-273.15, 1000.0, "°C");
pub(super) const SALINITY: Range = range(0.0, 42.0, "g/kg");
pub(super) const VISCOSITY: Range = range(1e-9, 1.0, "m²/s");
pub(super) const DENSITY: Range = range(0.001, 1e5, "kg/m³");
pub(super) const ATMOSPHERE: Range = range(1.0, 1e9, "Pa");
pub(super) const GRAVITY: Range = range(0.001, 1000.0, "m/s²");
pub(super) const COEFFICIENT: Range = range(1e-6, 100.0, "");
pub(super) const DOT: Range = range(1e-6, 1000.0, "m");
pub(super) const TURN: Range = range(-360.0, 360.0, "°");
pub(super) const ANGLE: Range = range(1.0, 170.0, "°");
pub(super) const OPEN_SHARE: Range = range(0.001, 1.0, "");
pub(super) const LIMITS: Range = range(0.0, 1.0, "m");
pub(super) const WEATHER: Range = range(0.0, 1.0, "m/s");
pub(super) const DURATION: Range = range(0.0, 1e9, "s");
pub(super) const LIMIT: Range = range(0.0, 1e6, "");
