//! Parsing of a number as typed.

use super::lexis::THIN;

/// A number as parsed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Value {
    /// It has only one reading.
    Plain(f64),
    /// A comma before three digits: a thousands separator to some readers, a decimal comma to others.
    Thousandth {
        /// The value if the comma is a decimal comma.
        decimal: f64,
    },
    /// Points and commas are where they have no meaning.
    Unreadable,
}

/// Parses `12`, `1.5`, `1,5`, `1.000,5`, `1e9`, `1/2`, `3 1/2` or `3-1/2`.
pub(super) fn value(text: &str) -> Value {
    let Some((before, under)) = text.split_once('/') else {
        return decimal(text);
    };
    let parts = before
        .split([' ', THIN, '-'])
        .filter(|part| !part.is_empty());
    let whole = |part: &str| -> Option<f64> {
        let digits = part.bytes().all(|byte| byte.is_ascii_digit());
        digits.then(|| part.parse().ok()).flatten()
    };
    let numbers: Option<Vec<f64>> = parts.map(whole).collect();
    let under = whole(under).filter(|under| *under != 0.0);
    match (numbers.as_deref(), under) {
        (Some([over]), Some(under)) => Value::Plain(over / under),
        (Some([whole, over]), Some(under)) => Value::Plain(whole + over / under),
        _ => Value::Unreadable,
    }
}

fn decimal(text: &str) -> Value {
    let text = text.replace(THIN, "");
    let (digits, power) = match text.find(['e', 'E']) {
        Some(at) => text.split_at(at),
        None => (text.as_str(), ""),
    };
    let commas = digits.matches(',').count();
    let points = digits.matches('.').count();
    let with_point = |digits: &str| parsed(&format!("{digits}{power}"));
    match (commas, points) {
        (0, 0 | 1) => with_point(digits),
        (1, 0) if power.is_empty() && between_thousands(digits, ',') => {
            match with_point(&digits.replace(',', ".")) {
                Value::Plain(decimal) => Value::Thousandth { decimal },
                other => other,
            }
        }
        (1, 0) => with_point(&digits.replace(',', ".")),
        (_, 0) if between_thousands(digits, ',') => with_point(&digits.replace(',', "")),
        (0, _) if between_thousands(digits, '.') => with_point(&digits.replace('.', "")),
        (_, 1) if digits.rfind('.') > digits.rfind(',') => joined(digits, (',', '.'), power),
        (1, _) => joined(digits, ('.', ','), power),
        _ => Value::Unreadable,
    }
}

/// Parses a number with a thousands separator and a decimal separator.
fn joined(digits: &str, (thousands, fraction): (char, char), power: &str) -> Value {
    match digits.split_once(fraction) {
        Some((whole, rest)) if between_thousands(whole, thousands) && !rest.contains(thousands) => {
            parsed(&format!("{}.{rest}{power}", whole.replace(thousands, "")))
        }
        _ => Value::Unreadable,
    }
}

/// Returns whether `sign` separates thousands: one to three digits that do not start with 0, then groups of three.
fn between_thousands(digits: &str, sign: char) -> bool {
    let mut groups = digits.split(sign);
    let first = groups.next().unwrap_or_default();
    (1..=3).contains(&first.len())
        && !first.starts_with('0')
        && groups.all(|group| group.len() == 3)
}

fn parsed(text: &str) -> Value {
    match text.parse::<f64>() {
        Ok(number) if number.is_finite() => Value::Plain(number),
        _ => Value::Unreadable,
    }
}
