//! What is said of a fault: words, with numbers in them that each reader has in their own units.

use super::range::digits;
use crate::units::{self, Quantity, UnitSystem};
use std::fmt;
use std::ops::Deref;

/// Words with numbers in them. As text they read as in a file, in SI: that is what they compare and print as.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    bits: Vec<Bit>,
    /// All of it in SI.
    text: String,
}

#[derive(Clone, Debug, PartialEq)]
enum Bit {
    Words(String),
    Number(f64, &'static str),
    /// From the one to the other.
    Between([f64; 2], &'static str),
}

impl Said {
    /// Words with a number, SI with its unit, in place of each `{}`.
    pub(super) fn with(words: &str, numbers: &[(f64, &'static str)]) -> Said {
        let mut numbers = numbers.iter();
        let mut bits = Vec::new();
        for (index, words) in words.split("{}").enumerate() {
            if index > 0 {
                bits.extend(
                    numbers
                        .next()
                        .map(|(value, unit)| Bit::Number(*value, unit)),
                );
            }
            bits.push(Bit::Words(words.to_owned()));
        }
        Said::of(bits)
    }

    /// Words and then a range.
    pub(super) fn between(words: &str, ends: [f64; 2], unit: &'static str) -> Said {
        Said::of(vec![Bit::Words(words.to_owned()), Bit::Between(ends, unit)])
    }

    fn of(bits: Vec<Bit>) -> Said {
        let text = bits.iter().map(Bit::in_file).collect();
        Said { bits, text }
    }

    /// For a reader, with every number in their units.
    pub fn read(&self, units: UnitSystem) -> String {
        let bits = self.bits.iter();
        bits.map(|bit| bit.read(units)).collect()
    }

    /// The same with one wording in place of another.
    pub(crate) fn reworded(&self, from: &str, to: &str) -> Said {
        let bits = self.bits.iter().map(|bit| match bit {
            Bit::Words(words) => Bit::Words(words.replace(from, to)),
            number => number.clone(),
        });
        Said::of(bits.collect())
    }
}

impl Bit {
    fn in_file(&self) -> String {
        match self {
            Bit::Words(words) => words.clone(),
            Bit::Number(value, unit) => with_unit(*value, unit),
            Bit::Between([least, most], unit) => {
                format!("from {} to {}", digits(*least), with_unit(*most, unit))
            }
        }
    }

    fn read(&self, units: UnitSystem) -> String {
        match self {
            Bit::Words(words) => words.clone(),
            Bit::Number(value, unit) => for_reader(*value, unit, units),
            Bit::Between([least, most], unit) => {
                let most = for_reader(*most, unit, units);
                let written = for_reader(*least, unit, units);
                // Ranges begin at the least that can be reckoned with, which nobody measures.
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

/// From here on a distance is no height that is read off a tape, and under this it is the size of a bore, metres.
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
        // Without a unit, or in one that both systems share.
        _ => return with_unit(value, unit),
    };
    units::write(quantity, value, units)
}

impl From<&str> for Said {
    fn from(words: &str) -> Said {
        Said::of(vec![Bit::Words(words.to_owned())])
    }
}

impl From<String> for Said {
    fn from(words: String) -> Said {
        Said::of(vec![Bit::Words(words)])
    }
}

impl Deref for Said {
    type Target = str;

    fn deref(&self) -> &str {
        &self.text
    }
}

impl fmt::Display for Said {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.text)
    }
}

impl PartialEq<str> for Said {
    fn eq(&self, other: &str) -> bool {
        self.text == other
    }
}

impl PartialEq<&str> for Said {
    fn eq(&self, other: &&str) -> bool {
        self.text == *other
    }
}

impl PartialEq<String> for Said {
    fn eq(&self, other: &String) -> bool {
        self.text == *other
    }
}
