//! Parses what a person types for a quantity into SI.

mod known;
mod lexis;
mod number;
mod refusal;
mod tidy;

use super::convert as c;
use super::{Quantity, UnitSystem};
use known::{Measure, UnitKind};
use lexis::Term;
use refusal::Expected;

/// Most characters that are read; no value is longer.
const LONGEST: usize = 100;

/// Parses what a person typed into an SI value.
///
/// A number with a unit is read in that unit, whatever the system: `1.2 m`, `1215 mm`, `4 ft 3 1/2`, `4'-3½"`,
/// `14 m³/h`, `500 gph`, `0.75 hp`, `2 h 5 min`, `50 %`. Gallons are US gallons unless written `imp gal`. A bare number
/// has the unit in which such a quantity is usually shown: a height 1215 is in millimetres, or in inches in US units. A
/// volume in metric units, a power and a time require a unit, since none is usual.
///
/// A head may be typed as a gauge pressure, and a pressure as a head (`5 m of water`, `10 ft of head`): both for fresh
/// water at 20 °C and standard gravity, 9789 Pa a metre, so that 8 psi is 5.63 m [@iapws-sr6, @bipm-si].
///
/// Decimal commas and unambiguous thousands separators are read. `1,215` alone has two readings and is refused with a
/// question; with metres after it, it is a length to the millimetre.
///
/// # Errors
/// One sentence: which word is not understood or measures another quantity, and what can be typed.
pub fn read(quantity: Quantity, text: &str, system: UnitSystem) -> Result<f64, String> {
    read_in(quantity, text, (system, ""))
}

/// Like [`read`], but a bare number has the unit `unit`: that of a column, or of the value that it replaces.
///
/// With an empty unit it is the same as [`read`]. `unit` must be a unit that [`read`] knows and that measures
/// `quantity`; with any other, bare numbers are refused.
///
/// # Errors
/// Like [`read`].
pub fn read_in(
    quantity: Quantity,
    text: &str,
    (system, unit): (UnitSystem, &str),
) -> Result<f64, String> {
    let wish = Expected {
        quantity,
        system,
        unit,
    };
    if text.chars().count() > LONGEST {
        return Err(wish.example());
    }
    let plain = tidy::tidy(text);
    let terms = lexis::terms(&plain).ok_or_else(|| wish.unreadable(text))?;
    let (sign, terms) = (terms.sign, terms.list);
    if terms.is_empty() {
        return Err(wish.example());
    }
    let measured: Result<Vec<(f64, Measure)>, String> = terms
        .iter()
        .enumerate()
        .map(|(at, term)| one(wish, term, terms.get(at.wrapping_sub(1))))
        .collect();
    let measured = measured?;
    if !joins(&terms, &measured) {
        return Err(wish.unreadable(text));
    }
    let value: f64 = match measured.as_slice() {
        [(number, unit)] => sign * number * unit.si + unit.zero_si,
        many => {
            sign * many
                .iter()
                .map(|(number, unit)| number * unit.si)
                .sum::<f64>()
        }
    };
    if value.is_finite() {
        Ok(value)
    } else {
        Err(wish.example())
    }
}

/// Parses one number and returns it with its unit, in SI of the expected quantity.
fn one(
    wish: Expected<'_>,
    term: &Term<'_>,
    before: Option<&Term<'_>>,
) -> Result<(f64, Measure), String> {
    let unit = match (term.unit, before) {
        ("", Some(before)) => {
            known::smaller(before.unit).ok_or_else(|| wish.two_numbers(before, term))?
        }
        ("", None) => bare(wish, term)?,
        (word, _) => known::unit(word).ok_or_else(|| wish.not_understood(word))?,
    };
    let unit = fitting(unit, wish.quantity).ok_or_else(|| wish.measures_else(term, unit.kind))?;
    let metres = unit.kind == UnitKind::Length && unit.si == 1.0;
    match number::value(term.number) {
        number::Value::Plain(number) => Ok((number, unit)),
        number::Value::Thousandth { decimal, .. } if metres => Ok((decimal, unit)),
        number::Value::Thousandth { .. } => Err(wish.two_ways(term)),
        number::Value::Unreadable => Err(wish.unreadable(term.number)),
    }
}

/// Converts the unit to one of the expected quantity; `None` if it measures another.
fn fitting(unit: Measure, quantity: Quantity) -> Option<Measure> {
    let of_water_pa = c::FRESH_WATER_PA_A_METRE;
    let scaled = |by: f64| Measure {
        si: unit.si * by,
        ..unit
    };
    match (UnitKind::of(quantity), unit.kind) {
        (wanted, given) if wanted == given => Some(unit),
        (UnitKind::Length, UnitKind::Pressure) if quantity == Quantity::Head => {
            Some(scaled(1.0 / of_water_pa))
        }
        (UnitKind::Length, UnitKind::WaterColumn) if quantity == Quantity::Head => Some(unit),
        (UnitKind::Pressure, UnitKind::WaterColumn) => Some(scaled(of_water_pa)),
        _ => None,
    }
}

/// Returns the unit of a bare number.
fn bare(wish: Expected<'_>, term: &Term<'_>) -> Result<Measure, String> {
    if !wish.unit.is_empty() {
        let unit = known::unit(&tidy::tidy(wish.unit));
        return unit.ok_or_else(|| wish.not_understood(wish.unit));
    }
    let word = match (wish.quantity, wish.system) {
        (Quantity::Height | Quantity::Bore, UnitSystem::Metric) => "mm",
        (Quantity::Height | Quantity::Bore, UnitSystem::Us) => "in",
        (Quantity::Length | Quantity::Head, UnitSystem::Metric) => "m",
        (Quantity::Length | Quantity::Head, UnitSystem::Us) => "ft",
        (Quantity::Area, UnitSystem::Metric) => "m²",
        (Quantity::Area, UnitSystem::Us) => "ft²",
        (Quantity::Flow, UnitSystem::Metric) => "m³/h",
        (Quantity::Flow, UnitSystem::Us) => "gpm",
        (Quantity::Volume, UnitSystem::Us) => "gal",
        (Quantity::Velocity, UnitSystem::Metric) => "m/s",
        (Quantity::Velocity, UnitSystem::Us) => "ft/s",
        (Quantity::Pressure, UnitSystem::Metric) => "kpa",
        (Quantity::Pressure, UnitSystem::Us) => "psi",
        (Quantity::Temperature, UnitSystem::Metric) => "°c",
        (Quantity::Temperature, UnitSystem::Us) => "°f",
        (Quantity::Turnover, _) => "/h",
        (Quantity::Ratio, _) => return Ok(Measure::ONE),
        (Quantity::Volume, UnitSystem::Metric) | (Quantity::Power | Quantity::Time, _) => {
            return Err(wish.of_what(term));
        }
    };
    known::unit(word).ok_or_else(|| wish.example())
}

/// Returns whether several numbers make one value: feet and inches, or times from long to short units.
fn joins(terms: &[Term<'_>], measured: &[(f64, Measure)]) -> bool {
    let pairs = measured.iter().zip(measured.iter().skip(1));
    let falling = pairs.clone().all(|((_, long), (number, short))| {
        let most = long.si / short.si;
        short.si < long.si && *number < most * (1.0 - 1e-12)
    });
    let kinds = measured.iter().all(|(_, unit)| match unit.kind {
        UnitKind::Length => unit.si == c::FOOT_M || unit.si == c::INCH_M,
        UnitKind::Time => true,
        _ => false,
    });
    terms.len() == 1 || (falling && kinds)
}
