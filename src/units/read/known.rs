//! Units that can be typed, and what each measures.
//!
//! The sizes of the metric horsepower, the technical atmosphere and the imperial gallon are exact by definition
//! [@nist-sp-811].

use crate::units::Quantity;
use crate::units::convert as c;

/// Kind of quantity that a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum UnitKind {
    Length,
    Area,
    Volume,
    Flow,
    Velocity,
    Pressure,
    /// A pressure given as the height of a water column.
    WaterColumn,
    Power,
    Time,
    Temperature,
    Ratio,
    /// Changes per time.
    Turnover,
    /// “times” alone, which has a meaning only with “an hour”.
    Count,
}

impl UnitKind {
    /// Returns the kind of unit of `quantity`.
    pub(super) fn of(quantity: Quantity) -> UnitKind {
        match quantity {
            Quantity::Height | Quantity::Length | Quantity::Bore | Quantity::Head => {
                UnitKind::Length
            }
            Quantity::Area => UnitKind::Area,
            Quantity::Flow => UnitKind::Flow,
            Quantity::Volume => UnitKind::Volume,
            Quantity::Velocity => UnitKind::Velocity,
            Quantity::Pressure => UnitKind::Pressure,
            Quantity::Power => UnitKind::Power,
            Quantity::Time => UnitKind::Time,
            Quantity::Temperature => UnitKind::Temperature,
            Quantity::Ratio => UnitKind::Ratio,
            Quantity::Turnover => UnitKind::Turnover,
        }
    }
}

/// A unit: the SI value is `value · si + zero_si`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Measure {
    pub kind: UnitKind,
    pub si: f64,
    pub zero_si: f64,
}

const fn of(kind: UnitKind, si: f64) -> Measure {
    Measure {
        kind,
        si,
        zero_si: 0.0,
    }
}

impl Measure {
    /// The unit of a number without one.
    pub(super) const ONE: Measure = of(UnitKind::Ratio, 1.0);
}

/// Unit words in lower case without blanks and full stops, so that `sq. ft.` is `sqft`.
#[rustfmt::skip]
const UNITS: &[(&[&str], Measure)] = &[
    (&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], of(UnitKind::Length, c::MILLIMETRE_M)),
    (&["cm", "centimetre", "centimetres", "centimeter", "centimeters"], of(UnitKind::Length, 0.01)),
    (&["dm"], of(UnitKind::Length, 0.1)),
    (&["m", "metre", "metres", "meter", "meters"], of(UnitKind::Length, 1.0)),
    (&["km"], of(UnitKind::Length, 1_000.0)),
    (&["in", "\"", "inch", "inches"], of(UnitKind::Length, c::INCH_M)),
    (&["ft", "'", "foot", "feet"], of(UnitKind::Length, c::FOOT_M)),
    (&["yd", "yard", "yards"], of(UnitKind::Length, 3.0 * c::FOOT_M)),
    (&["m²", "sqm", "squaremetre", "squaremetres", "squaremeter", "squaremeters"], of(UnitKind::Area, 1.0)),
    (&["cm²", "sqcm"], of(UnitKind::Area, 1e-4)),
    (&["mm²", "sqmm"], of(UnitKind::Area, 1e-6)),
    (&["ft²", "sqft", "squarefoot", "squarefeet"], of(UnitKind::Area, c::FOOT_M * c::FOOT_M)),
    (&["in²", "sqin", "squareinch", "squareinches"], of(UnitKind::Area, c::INCH_M * c::INCH_M)),
    (&["m³", "cum", "cubicmetre", "cubicmetres", "cubicmeter", "cubicmeters"], of(UnitKind::Volume, 1.0)),
    (&["l", "ℓ", "ltr", "litre", "litres", "liter", "liters", "dm³"], of(UnitKind::Volume, c::LITRE_M3)),
    (&["ml", "cm³", "cc"], of(UnitKind::Volume, 1e-3 * c::LITRE_M3)),
    (&["gal", "gals", "gallon", "gallons", "usgal", "usgals", "usgallon", "usgallons"], of(UnitKind::Volume, c::US_GALLON_M3)),
    (&["impgal", "impgallon", "impgallons", "imperialgal", "imperialgallon", "imperialgallons", "ukgal", "ukgallon", "ukgallons"], of(UnitKind::Volume, c::IMPERIAL_GALLON_M3)),
    (&["ft³", "cuft", "cubicfoot", "cubicfeet"], of(UnitKind::Volume, c::FOOT_M * c::FOOT_M * c::FOOT_M)),
    (&["in³", "cuin", "cubicinch", "cubicinches"], of(UnitKind::Volume, c::INCH_M * c::INCH_M * c::INCH_M)),
    (&["gpm", "usgpm"], of(UnitKind::Flow, c::US_GALLON_A_MINUTE_M3_S)),
    (&["gph", "usgph"], of(UnitKind::Flow, c::US_GALLON_M3 / c::HOUR_S)),
    (&["gpd", "usgpd"], of(UnitKind::Flow, c::US_GALLON_M3 / c::DAY_S)),
    (&["impgpm", "igpm"], of(UnitKind::Flow, c::IMPERIAL_GALLON_M3 / c::MINUTE_S)),
    (&["impgph", "igph"], of(UnitKind::Flow, c::IMPERIAL_GALLON_M3 / c::HOUR_S)),
    (&["lpm"], of(UnitKind::Flow, c::LITRE_A_MINUTE_M3_S)),
    (&["lph"], of(UnitKind::Flow, c::LITRE_M3 / c::HOUR_S)),
    (&["lps"], of(UnitKind::Flow, c::LITRE_M3)),
    (&["cfm"], of(UnitKind::Flow, c::FOOT_M * c::FOOT_M * c::FOOT_M / c::MINUTE_S)),
    (&["cfs"], of(UnitKind::Flow, c::FOOT_M * c::FOOT_M * c::FOOT_M)),
    (&["fps"], of(UnitKind::Velocity, c::FOOT_M)),
    (&["pa", "pascal"], of(UnitKind::Pressure, 1.0)),
    (&["hpa"], of(UnitKind::Pressure, 100.0)),
    (&["kpa"], of(UnitKind::Pressure, 1e3)),
    (&["mpa"], of(UnitKind::Pressure, 1e6)),
    (&["bar", "bars"], of(UnitKind::Pressure, 1e5)),
    (&["mbar"], of(UnitKind::Pressure, 100.0)),
    (&["psi", "psig", "lb/in²", "lbs/in²", "lbf/in²"], of(UnitKind::Pressure, c::PSI_PA)),
    (&["kg/cm²", "kgf/cm²", "kp/cm²"], of(UnitKind::Pressure, 98_066.5)),
    (&["w", "watt", "watts"], of(UnitKind::Power, 1.0)),
    (&["kw", "kilowatt", "kilowatts"], of(UnitKind::Power, 1e3)),
    (&["hp", "horsepower", "bhp"], of(UnitKind::Power, c::HORSEPOWER_W)),
    (&["ps", "cv"], of(UnitKind::Power, 735.498_75)),
    (&["s", "sec", "secs", "second", "seconds"], of(UnitKind::Time, 1.0)),
    (&["min", "mins", "minute", "minutes"], of(UnitKind::Time, c::MINUTE_S)),
    (&["h", "hr", "hrs", "hour", "hours"], of(UnitKind::Time, c::HOUR_S)),
    (&["d", "day", "days"], of(UnitKind::Time, c::DAY_S)),
    (&["°c", "c", "degc", "celsius", "°celsius"], of(UnitKind::Temperature, 1.0)),
    (&["°f", "f", "degf", "fahrenheit", "°fahrenheit"], Measure { kind: UnitKind::Temperature, si: 1.0 / 1.8, zero_si: -32.0 / 1.8 }),
    (&["%", "percent", "pct"], of(UnitKind::Ratio, 0.01)),
    (&["", "times", "time", "changes", "change", "x"], of(UnitKind::Count, 1.0)),
];

/// Suffixes that make a length a water column.
const OF_WATER: &[&str] = &[
    "ofwatercolumn",
    "watercolumn",
    "ofwater",
    "water",
    "ofhead",
    "head",
    "wc",
    "hd",
];

/// Returns the unit that a word names; `None` if it is not known.
pub(super) fn unit(word: &str) -> Option<Measure> {
    let key: String = word
        .chars()
        .filter(|letter| !letter.is_whitespace() && *letter != '.')
        .flat_map(char::to_lowercase)
        .collect();
    if key.is_empty() {
        return None;
    }
    simple(&key)
        .or_else(|| in_a_time(&key))
        .or_else(|| of_water(&key))
}

/// Returns the unit of a bare number after one with this unit: inches after feet, minutes after hours.
pub(super) fn smaller(word: &str) -> Option<Measure> {
    let long = unit(word)?;
    match long.kind {
        UnitKind::Length if long.si == c::FOOT_M => simple("in"),
        UnitKind::Time if long.si == c::HOUR_S => simple("min"),
        _ => None,
    }
}

fn simple(key: &str) -> Option<Measure> {
    let found = UNITS.iter().find(|(words, _)| words.contains(&key));
    found.map(|(_, measure)| *measure)
}

/// Parses a unit per time: `gal/min`, `m/s`, `times/hour`, `/d`.
fn in_a_time(key: &str) -> Option<Measure> {
    let (over, under) = key.split_once('/')?;
    let (over, under) = (simple(over)?, simple(under)?);
    let kind = match over.kind {
        _ if under.kind != UnitKind::Time => return None,
        UnitKind::Volume => UnitKind::Flow,
        UnitKind::Length => UnitKind::Velocity,
        UnitKind::Count => UnitKind::Turnover,
        _ => return None,
    };
    Some(of(kind, over.si / under.si))
}

fn of_water(key: &str) -> Option<Measure> {
    let length = OF_WATER.iter().find_map(|end| key.strip_suffix(end))?;
    let length = simple(length).filter(|unit| unit.kind == UnitKind::Length)?;
    Some(of(UnitKind::WaterColumn, length.si))
}
