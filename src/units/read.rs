//! Text back to SI: what a person types for a quantity.

use super::convert as c;
use super::{Quantity, UnitSystem};

/// The SI value of what a person typed.
///
/// A number with a unit is taken at its word, whatever the system: `1.2 m`, `1215 mm`, `4 ft 1 1/2 in`, `3' 6"`,
/// `14 m³/h`, `60 gpm`. A bare number has the unit in which such a quantity is shown: a height 1215 is
/// millimetres, or inches in US units. Decimal commas are read, but for one
/// that may stand between thousands.
///
/// # Errors
/// One sentence that says what can be typed.
pub fn read(quantity: Quantity, text: &str, system: UnitSystem) -> Result<f64, String> {
    if let Some(doubtful) = two_ways(text.trim()) {
        return Err(doubtful);
    }
    let text = text.trim().replace(',', ".").replace('−', "-");
    let lower = text.to_lowercase();
    let value = match quantity {
        Quantity::Height | Quantity::Length | Quantity::Bore | Quantity::Head => {
            length(&lower, bare_m(quantity, system))
        }
        _ => plain(&lower, quantity, system),
    };
    match value {
        Some(value) if value.is_finite() => Ok(value),
        _ => Err(format!("Type {}.", example(quantity, system))),
    }
}

/// A bare number with a comma before three digits is a thousand to one reader and a fraction to another.
fn two_ways(text: &str) -> Option<String> {
    let (whole, rest) = text.split_once(',')?;
    let digits = |part: &str| part.chars().all(|letter| letter.is_ascii_digit());
    let doubtful = rest.len() == 3 && digits(rest) && !whole.is_empty() && digits(whole);
    doubtful
        .then(|| format!("{text} can be read in two ways: type {whole}{rest} or {whole}.{rest}."))
}

/// The size of a bare number, metres.
fn bare_m(quantity: Quantity, system: UnitSystem) -> f64 {
    match (quantity, system) {
        (Quantity::Height | Quantity::Bore, UnitSystem::Metric) => c::MILLIMETRE_M,
        (_, UnitSystem::Metric) => 1.0,
        (Quantity::Height | Quantity::Bore, UnitSystem::Us) => c::INCH_M,
        (_, UnitSystem::Us) => c::FOOT_M,
    }
}

fn example(quantity: Quantity, system: UnitSystem) -> &'static str {
    match (quantity, system) {
        (Quantity::Height, UnitSystem::Metric) => "a height such as 1215 or 1.215 m",
        (Quantity::Height, UnitSystem::Us) => "a height such as 47 13/16 or 3 ft 11 13/16 in",
        (Quantity::Bore, UnitSystem::Metric) => "a bore such as 57 mm",
        (Quantity::Bore, UnitSystem::Us) => "a bore such as 2.25 in",
        (Quantity::Length | Quantity::Head, UnitSystem::Metric) => "a length such as 2.4 m",
        (Quantity::Length | Quantity::Head, UnitSystem::Us) => "a length such as 7 ft 10 in",
        (Quantity::Flow, UnitSystem::Metric) => "a flow such as 12 m³/h or 30 L/min",
        (Quantity::Flow, UnitSystem::Us) => "a flow such as 50 gpm",
        (Quantity::Temperature, UnitSystem::Metric) => "a temperature such as 18 °C",
        (Quantity::Temperature, UnitSystem::Us) => "a temperature such as 64 °F",
        (Quantity::Turnover, _) => "how many times an hour, such as 1.5",
        _ => "a number such as 0.5 or 50 %",
    }
}

/// Lengths: one number with a unit, or feet and inches with fractions.
fn length(text: &str, bare_m: f64) -> Option<f64> {
    let (sign, text) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text),
    };
    let mut rest = text;
    let mut total_m = 0.0;
    let mut any = false;
    // Each turn takes a number, with its fraction, and its unit.
    while !rest.trim().is_empty() {
        let (number, after) = number_with_fraction(rest.trim_start())?;
        let after = after.trim_start();
        let letters =
            after.find(|letter: char| letter.is_ascii_digit() || letter == '.' || letter == ' ');
        let (unit, after) = after.split_at(letters.unwrap_or(after.len()));
        total_m += number
            * match unit.trim() {
                "" => bare_m,
                "mm" => c::MILLIMETRE_M,
                "cm" => 10.0 * c::MILLIMETRE_M,
                "m" => 1.0,
                "ft" | "'" | "′" | "feet" | "foot" => c::FOOT_M,
                "in" | "\"" | "″" | "inch" | "inches" => c::INCH_M,
                _ => return None,
            };
        // Only feet can be followed by something, and that is inches.
        if any && !matches!(unit.trim(), "in" | "\"" | "″" | "inch" | "inches" | "") {
            return None;
        }
        if any && unit.trim().is_empty() && bare_m != c::INCH_M {
            return None;
        }
        if !after.trim().is_empty() && !matches!(unit.trim(), "ft" | "'" | "′" | "feet" | "foot")
        {
            return None;
        }
        any = true;
        rest = after;
    }
    any.then_some(sign * total_m)
}

/// `12`, `12.5`, `1/2`, `3 1/2` at the start of a text, and what follows.
fn number_with_fraction(text: &str) -> Option<(f64, &str)> {
    let (first, after) = digits(text)?;
    if let Some(below) = after.trim_start().strip_prefix('/') {
        let (under, after) = digits(below.trim_start())?;
        return (under != 0.0).then_some((first / under, after));
    }
    let next = after.trim_start();
    if let Some((over, behind)) = digits(next)
        && let Some(below) = behind.trim_start().strip_prefix('/')
    {
        let (under, after) = digits(below.trim_start())?;
        return (under != 0.0).then_some((first + over / under, after));
    }
    Some((first, after))
}

fn digits(text: &str) -> Option<(f64, &str)> {
    let end = text
        .find(|letter: char| !(letter.is_ascii_digit() || letter == '.'))
        .unwrap_or(text.len());
    let (number, rest) = text.split_at(end);
    Some((number.parse().ok()?, rest))
}

/// One number with one unit.
fn plain(text: &str, quantity: Quantity, system: UnitSystem) -> Option<f64> {
    let end = text
        .find(|letter: char| !(letter.is_ascii_digit() || matches!(letter, '.' | '-' | '+')))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let number: f64 = number.trim().parse().ok()?;
    let unit: String = unit.split_whitespace().collect();
    Some(match (quantity, unit.as_str(), system) {
        (Quantity::Flow, "m³/h" | "m3/h", _) | (Quantity::Flow, "", UnitSystem::Metric) => {
            number * c::CUBIC_METRE_AN_HOUR_M3_S
        }
        (Quantity::Flow, "l/min", _) => number * c::LITRE_A_MINUTE_M3_S,
        (Quantity::Flow, "l/s", _) => number * c::LITRE_M3,
        (Quantity::Flow, "m³/s" | "m3/s", _) => number,
        (Quantity::Flow, "gpm" | "usgpm", _) | (Quantity::Flow, "", UnitSystem::Us) => {
            number * c::US_GALLON_A_MINUTE_M3_S
        }
        (Quantity::Temperature, "°c" | "c", _)
        | (Quantity::Temperature, "", UnitSystem::Metric) => number,
        (Quantity::Temperature, "°f" | "f", _) | (Quantity::Temperature, "", UnitSystem::Us) => {
            (number - 32.0) / 1.8
        }
        (Quantity::Turnover, "" | "timesanhour" | "/h", _) => number / c::HOUR_S,
        (Quantity::Turnover, "timesaday" | "/d", _) => number / c::DAY_S,
        (Quantity::Ratio, "", _) => number,
        (Quantity::Ratio, "%", _) => number / 100.0,
        _ => return None,
    })
}
