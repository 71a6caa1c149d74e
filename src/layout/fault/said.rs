//! Text of a fault, with numbers that are shown in the reader's units.

use crate::layout::range::digits;
use crate::units::{self, Quantity, UnitSystem};
use std::fmt;
use std::ops::Deref;

/// Text with numbers in it. Comparing and displaying use the SI text, as in a file.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultText {
    bits: Vec<TextPiece>,
    /// The whole text in SI.
    text: String,
}

#[derive(Clone, Debug, PartialEq)]
enum TextPiece {
    Words(String),
    Number(f64, &'static str),
    /// A range with both limits.
    Between([f64; 2], &'static str),
}

impl FaultText {
    /// Makes a text with a number, in SI with its unit, in place of each `{}`.
    pub(super) fn with(words: &str, numbers: &[(f64, &'static str)]) -> FaultText {
        let mut numbers = numbers.iter();
        let mut bits = Vec::new();
        for (index, words) in words.split("{}").enumerate() {
            if index > 0 {
                bits.extend(
                    numbers
                        .next()
                        .map(|(value, unit)| TextPiece::Number(*value, unit)),
                );
            }
            bits.push(TextPiece::Words(words.to_owned()));
        }
        FaultText::of(bits)
    }

    /// Makes a text that ends in a range.
    pub(in crate::layout) fn between(words: &str, ends: [f64; 2], unit: &'static str) -> FaultText {
        FaultText::of(vec![
            TextPiece::Words(words.to_owned()),
            TextPiece::Between(ends, unit),
        ])
    }

    fn of(bits: Vec<TextPiece>) -> FaultText {
        let text = bits.iter().map(TextPiece::in_file).collect();
        FaultText { bits, text }
    }

    /// Returns the text with every number in the reader's units.
    pub fn read(&self, units: UnitSystem) -> String {
        let bits = self.bits.iter();
        bits.map(|bit| bit.read(units)).collect()
    }

    /// Returns a copy with `from` replaced by `to` in the words.
    pub(crate) fn reworded(&self, from: &str, to: &str) -> FaultText {
        let bits = self.bits.iter().map(|bit| match bit {
            TextPiece::Words(words) => TextPiece::Words(words.replace(from, to)),
            number => number.clone(),
        });
        FaultText::of(bits.collect())
    }
}

impl TextPiece {
    fn in_file(&self) -> String {
        match self {
            TextPiece::Words(words) => words.clone(),
            TextPiece::Number(value, unit) => with_unit(*value, unit),
            TextPiece::Between([least, most], unit) => {
                format!("from {} to {}", digits(*least), with_unit(*most, unit))
            }
        }
    }

    fn read(&self, units: UnitSystem) -> String {
        match self {
            TextPiece::Words(words) => words.clone(),
            TextPiece::Number(value, unit) => for_reader(*value, unit, units),
            TextPiece::Between([least, most], unit) => {
                let most = for_reader(*most, unit, units);
                let written = for_reader(*least, unit, units);
                // The lower limit of a range that excludes 0 is only the smallest value that can be computed with and
                // rounds to 0.
                match *least > 0.0 && written.starts_with("0 ") {
                    true => format!("over 0, up to {most}"),
                    false => format!("from {written} to {most}"),
                }
            }
        }
    }
}

fn with_unit(value: f64, unit: &str) -> String {
    if !value.is_finite() {
        return "not a finite number".to_owned();
    }
    match unit {
        "" => digits(value),
        unit => format!("{} {unit}", digits(value)),
    }
}

/// Lengths from `FAR_M` up are shown as distances, lengths under `FINE_M` as bores and those between as heights;
/// metres.
const FAR_M: f64 = 10.0;
const FINE_M: f64 = 0.005;

fn for_reader(value: f64, unit: &'static str, units: UnitSystem) -> String {
    let size = value.abs();
    let quantity = match unit {
        _ if !value.is_finite() => return with_unit(value, unit),
        "m" if size >= FAR_M => Quantity::Length,
        "m" if size < FINE_M && size > 0.0 => Quantity::Bore,
        "m" => Quantity::Height,
        "m²" => Quantity::Area,
        "m³/s" => Quantity::Flow,
        "m/s" => Quantity::Velocity,
        "°C" => Quantity::Temperature,
        "Pa" => Quantity::Pressure,
        "s" => Quantity::Time,
        // Numbers without a unit, or in a unit that both systems share.
        _ => return with_unit(value, unit),
    };
    units::write(quantity, value, units)
}

impl From<&str> for FaultText {
    fn from(words: &str) -> FaultText {
        FaultText::of(vec![TextPiece::Words(words.to_owned())])
    }
}

impl From<String> for FaultText {
    fn from(words: String) -> FaultText {
        FaultText::of(vec![TextPiece::Words(words)])
    }
}

impl Deref for FaultText {
    type Target = str;

    fn deref(&self) -> &str {
        &self.text
    }
}

impl fmt::Display for FaultText {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.text)
    }
}

impl PartialEq<str> for FaultText {
    fn eq(&self, other: &str) -> bool {
        self.text == other
    }
}

impl PartialEq<&str> for FaultText {
    fn eq(&self, other: &&str) -> bool {
        self.text == *other
    }
}

impl PartialEq<String> for FaultText {
    fn eq(&self, other: &String) -> bool {
        self.text == *other
    }
}
