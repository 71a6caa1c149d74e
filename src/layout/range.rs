//! Allowed range of each kind of number.
//!
//! The limits are far beyond anything that is built. They ensure that no calculation on a layout overflows or divides
//! by zero: a number that must be above 0 starts at a value too small to build rather than at the smallest
//! floating-point number.

use super::FaultText;

/// Most characters in a title, a name, an id or a catalogue word.
pub(in crate::layout) const MOST_CHARACTERS: usize = 1000;
/// Most fittings of one kind in one entry.
pub(in crate::layout) const MOST_FITTINGS: u32 = 10_000;
/// Smallest step between two flows of a curve, m³/s.
pub(in crate::layout) const LEAST_FLOW_STEP_M3_S: f64 = 1e-9;
/// Smallest step between two depths of a level–area table, metres.
pub(in crate::layout) const LEAST_DEPTH_STEP_M: f64 = 1e-6;

/// Rounding tolerance between two sums of lengths, metres.
pub(in crate::layout) const ROUNDING_M: f64 = 1e-6;

/// Smallest step between two levels of a float switch or a float valve, metres.
pub(in crate::layout) const LEAST_SWITCH_STEP_M: f64 = 1e-6;

/// Closed range of a number, with its unit.
pub struct Range {
    least: f64,
    most: f64,
    unit: &'static str,
}

impl Range {
    /// The lowest value in it, SI.
    pub fn least(&self) -> f64 {
        self.least
    }

    /// The highest value in it, SI.
    pub fn most(&self) -> f64 {
        self.most
    }

    /// Returns whether `value` is in the range; false for NaN.
    pub(in crate::layout) fn holds(&self, value: f64) -> bool {
        (self.least..=self.most).contains(&value)
    }

    /// Returns `value` with the unit.
    pub(in crate::layout) fn with_unit(&self, value: f64) -> (f64, &'static str) {
        (value, self.unit)
    }

    /// Returns the correction for a value outside the range.
    pub(in crate::layout) fn cure(&self) -> FaultText {
        FaultText::between("give it a number ", [self.least, self.most], self.unit)
    }
}

/// Formats a number with as many digits as it has, in exponent form if it is very small or very large.
pub(in crate::layout) fn digits(value: f64) -> String {
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

pub(in crate::layout) const ELEVATION: Range = range(-20_000.0, 20_000.0, "m");
pub(in crate::layout) const PLAN: Range = range(-20_000.0, 20_000.0, "m");
pub(in crate::layout) const BORE: Range = range(1e-4, 50.0, "m");
pub(in crate::layout) const SIZE: Range = range(1e-3, 1e5, "m");
pub(in crate::layout) const PLAN_AREA: Range = range(1e-6, 1e10, "m²");
pub(in crate::layout) const ROW_AREA: Range = range(0.0, 1e10, "m²");
pub(in crate::layout) const DEPTH: Range = range(0.0, 40_000.0, "m");
pub(in crate::layout) const LENGTH: Range = range(0.0, 1e6, "m");
pub(in crate::layout) const ROUGHNESS: Range = range(0.0, 1.0, "m");
pub(in crate::layout) const LOSS_K: Range = range(0.0, 1e9, "");
pub(in crate::layout) const HAZEN_WILLIAMS_C: Range = range(0.1, 1000.0, "");
pub(in crate::layout) const FRICTION_FACTOR: Range = range(0.0, 1000.0, "");
pub(in crate::layout) const POROSITY: Range = range(0.001, 1.0, "");
pub(in crate::layout) const INFLOW: Range = range(-1e5, 1e5, "m³/s");
pub(in crate::layout) const CURVE_FLOW: Range = range(0.0, 1e5, "m³/s");
pub(in crate::layout) const SHEET_FLOW: Range = range(LEAST_FLOW_STEP_M3_S, 1e5, "m³/s");
pub(in crate::layout) const LABEL_FLOW: Range = range(1e-9, 1e5, "m³/s");
pub(in crate::layout) const PUMP_HEAD: Range = range(-1e5, 1e5, "m");
pub(in crate::layout) const LOSS_HEAD: Range = range(0.0, 1e5, "m");
pub(in crate::layout) const SHUTOFF_HEAD: Range = range(1e-6, 1e5, "m");
pub(in crate::layout) const CURVE_TERM: Range = range(0.0, 1e60, "");
pub(in crate::layout) const EXPONENT: Range = range(1.0, 10.0, "");
pub(in crate::layout) const LOSS_TERM: Range = range(0.0, 1e15, "");
pub(in crate::layout) const SHARE: Range = range(0.0, 1.0, "");
pub(in crate::layout) const SPEED: Range = range(0.0, 3.0, "");
pub(in crate::layout) const EFFICIENCY: Range = range(0.001, 1.0, "");
pub(in crate::layout) const TURNOVER: Range = range(0.0, 1e6, "per hour");
pub(in crate::layout) const TEMPERATURE: Range = range(0.0, 40.0, "°C");
/// Allowed where viscosity and density are both given: no property is then computed from temperature.
pub(in crate::layout) const ANY_TEMPERATURE: Range = range(-273.15, 1000.0, "°C");
pub(in crate::layout) const SALINITY: Range = range(0.0, 42.0, "g/kg");
pub(in crate::layout) const VISCOSITY: Range = range(1e-9, 1.0, "m²/s");
pub(in crate::layout) const DENSITY: Range = range(0.001, 1e5, "kg/m³");
pub(in crate::layout) const ATMOSPHERE: Range = range(1.0, 1e9, "Pa");
pub(in crate::layout) const GRAVITY: Range = range(0.001, 1000.0, "m/s²");
pub(in crate::layout) const COEFFICIENT: Range = range(1e-6, 100.0, "");
pub(in crate::layout) const DOT: Range = range(1e-6, 1000.0, "m");
pub(in crate::layout) const TURN: Range = range(-360.0, 360.0, "°");
pub(in crate::layout) const ANGLE: Range = range(1.0, 170.0, "°");
pub(in crate::layout) const OPEN_SHARE: Range = range(0.001, 1.0, "");
pub(in crate::layout) const LIMITS: Range = range(0.0, 1.0, "m");
pub(in crate::layout) const WEATHER: Range = range(0.0, 1.0, "m/s");
pub(in crate::layout) const DURATION: Range = range(0.0, 1e9, "s");
pub(in crate::layout) const LIMIT: Range = range(0.0, 1e6, "");
pub(in crate::layout) const FITTING_COUNT: Range = range(1.0, MOST_FITTINGS as f64, "");
pub(in crate::layout) const VALVE_INDEX: Range = range(0.0, u32::MAX as f64, "");
