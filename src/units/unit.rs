//! Units in which values are shown, and the format of their digits.

use super::convert as c;
use super::quantity::{Quantity, UnitSystem};
use super::{NOT_KNOWN, feet, figures};

/// Format of the digits of a unit.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Digits {
    /// This many significant figures.
    Significant(i32),
    /// Three significant figures, but at most this many decimals.
    AtMost(usize),
    /// This many decimals.
    Fixed(usize),
    /// Feet, inches and sixteenths; the text includes the units.
    Tape,
    /// No decimals for a whole number, else three significant figures.
    Ratio,
    /// Degrees Fahrenheit with one decimal.
    Fahrenheit,
}

/// A unit to show values in; a column of numbers can share it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unit {
    /// Symbol printed after a number; empty for a bare ratio and for feet and inches.
    pub symbol: &'static str,
    si: f64,
    digits: Digits,
}

impl Unit {
    /// Formats `value` (SI) in this unit with its symbol; [`NOT_KNOWN`] if it is not finite.
    pub fn write(&self, value: f64) -> String {
        match self.digits(value) {
            None => NOT_KNOWN.to_owned(),
            Some(number) if self.symbol.is_empty() => number,
            Some(number) => format!("{number} {}", self.symbol),
        }
    }

    /// Formats `value` (SI) in this unit without its symbol, for a column headed by it; [`NOT_KNOWN`] if it is not
    /// finite.
    pub fn number(&self, value: f64) -> String {
        self.digits(value).unwrap_or_else(|| NOT_KNOWN.to_owned())
    }

    /// Returns the size of this unit in SI, for the steps of an axis and the numbers of a spreadsheet. 1 m where values
    /// are written in feet and inches; °F has no such factor, and this is 1.
    pub fn one_si(&self) -> f64 {
        self.si
    }

    /// Returns this unit with a fixed number of decimals, for items that are added up.
    pub fn with_decimals(self, decimals: usize) -> Unit {
        Unit {
            digits: Digits::Fixed(decimals),
            ..self
        }
    }

    fn digits(&self, value: f64) -> Option<String> {
        let shown = value / self.si;
        match self.digits {
            Digits::Significant(count) => figures::significant(shown, count),
            Digits::AtMost(decimals) => figures::at_most(shown, decimals),
            Digits::Fixed(decimals) => figures::fixed(shown, decimals),
            Digits::Tape => feet::feet_and_inches(value),
            Digits::Ratio => figures::ratio(shown),
            Digits::Fahrenheit => figures::fixed(c::fahrenheit_from_celsius(value), 1),
        }
    }
}

/// Returns the unit in which a value of about `size` (SI; its sign does not matter) is shown.
///
/// A quantity has one unit whatever its size, so that figures of one layout can be compared wherever they appear:
/// heights in millimetres, heads in metres to the millimetre, water in litres. Only a time, a turnover and a height
/// depend on the size; a height of a kilometre or more would have too many figures in millimetres.
pub fn unit_for(quantity: Quantity, size: f64, system: UnitSystem) -> Unit {
    let size = size.abs();
    match quantity {
        Quantity::Time => time(size),
        Quantity::Turnover => turnover(size),
        Quantity::Ratio => Unit {
            symbol: "",
            si: 1.0,
            digits: Digits::Ratio,
        },
        _ => match system {
            UnitSystem::Metric => metric(quantity, size),
            UnitSystem::Us => us(quantity),
        },
    }
}

fn metric(quantity: Quantity, size: f64) -> Unit {
    match quantity {
        Quantity::Height => height(size),
        Quantity::Bore => figures3("mm", c::MILLIMETRE_M),
        Quantity::Head => head("m", 1.0, 3),
        Quantity::Area => figures3("m²", 1.0),
        Quantity::Flow => figures3("m³/h", c::CUBIC_METRE_AN_HOUR_M3_S),
        Quantity::Volume => figures3("L", c::LITRE_M3),
        Quantity::Velocity => figures3("m/s", 1.0),
        Quantity::Pressure => figures3("kPa", 1_000.0),
        Quantity::Power => figures3("W", 1.0),
        Quantity::Temperature => figures3("°C", 1.0).with_decimals(1),
        _ => figures3("m", 1.0),
    }
}

/// Height from which metres are used, m; a site with its own datum is lower.
const FAR_M: f64 = 1_000.0;

/// Returns millimetres, or metres to the millimetre from a kilometre up.
fn height(size_m: f64) -> Unit {
    if size_m < FAR_M - c::MILLIMETRE_M / 2.0 {
        figures3("mm", c::MILLIMETRE_M).with_decimals(0)
    } else {
        figures3("m", 1.0).with_decimals(3)
    }
}

fn us(quantity: Quantity) -> Unit {
    match quantity {
        Quantity::Height => Unit {
            symbol: "",
            si: 1.0,
            digits: Digits::Tape,
        },
        Quantity::Bore => figures3("in", c::INCH_M),
        Quantity::Head => head("ft", c::FOOT_M, 2),
        Quantity::Area => figures3("sq ft", c::FOOT_M * c::FOOT_M),
        Quantity::Flow => figures3("US gpm", c::US_GALLON_A_MINUTE_M3_S),
        Quantity::Volume => figures3("US gal", c::US_GALLON_M3),
        Quantity::Velocity => figures3("ft/s", c::FOOT_M),
        Quantity::Pressure => figures3("psi", c::PSI_PA),
        Quantity::Power => figures3("W", 1.0),
        Quantity::Temperature => Unit {
            symbol: "°F",
            si: 1.0,
            digits: Digits::Fahrenheit,
        },
        _ => figures3("ft", c::FOOT_M),
    }
}

/// Returns seconds under 100 s, minutes under 100 min, hours under two days, then days.
fn time(size_s: f64) -> Unit {
    if size_s < 100.0 {
        figures3("s", 1.0)
    } else if size_s < 100.0 * c::MINUTE_S {
        figures3("min", c::MINUTE_S)
    } else if size_s < 2.0 * c::DAY_S {
        figures3("h", c::HOUR_S)
    } else {
        figures3("days", c::DAY_S)
    }
}

/// Returns changes per hour, or per day if there are fewer than one in ten hours.
fn turnover(size_per_s: f64) -> Unit {
    let (symbol, si) = if size_per_s == 0.0 || size_per_s >= 0.1 / c::HOUR_S {
        ("times an hour", 1.0 / c::HOUR_S)
    } else {
        ("times a day", 1.0 / c::DAY_S)
    };
    Unit {
        symbol,
        si,
        digits: Digits::Significant(2),
    }
}

/// Returns a unit of head: a tube or gauge cannot be read closer than some millimetres.
fn head(symbol: &'static str, si: f64, decimals: usize) -> Unit {
    Unit {
        symbol,
        si,
        digits: Digits::AtMost(decimals),
    }
}

fn figures3(symbol: &'static str, si: f64) -> Unit {
    Unit {
        symbol,
        si,
        digits: Digits::Significant(3),
    }
}
