//! Messages for a text that is not a value; each says in one sentence what can be typed.

use super::known::UnitKind;
use super::lexis::{THIN, Term};
use crate::units::{Quantity, UnitSystem};

/// What value was expected.
#[derive(Clone, Copy, Debug)]
pub(super) struct Expected<'a> {
    pub quantity: Quantity,
    pub system: UnitSystem,
    /// Unit of a bare number; empty: the usual one.
    pub unit: &'a str,
}

/// Most characters of a text that a message repeats.
const MOST_REPEATED: usize = 24;

impl Expected<'_> {
    /// For a text that cannot be read and needs no explanation.
    pub(super) fn example(self) -> String {
        format!("Type {} such as {}.", self.noun(), self.such_as())
    }

    /// For a text that cannot be read; `text` is as typed.
    pub(super) fn unreadable(self, text: &str) -> String {
        let text = short(text);
        if text.is_empty() {
            return self.example();
        }
        format!(
            "{text} cannot be read as {}; {}.",
            self.noun(),
            self.is_typed()
        )
    }

    pub(super) fn not_understood(self, word: &str) -> String {
        format!(
            "“{}” is no unit that is understood; {}.",
            short(word),
            self.is_typed()
        )
    }

    /// For a unit that measures another quantity.
    pub(super) fn measures_else(self, term: &Term<'_>, kind: UnitKind) -> String {
        let unit = short(term.unit);
        if self.quantity == Quantity::Flow && kind == UnitKind::Volume {
            let number = term.number;
            let (minute, hour) = match unit.to_lowercase().as_str() {
                "gal" | "gals" | "gallon" | "gallons" => ("gpm".to_owned(), "gph".to_owned()),
                _ => (format!("{unit}/min"), format!("{unit}/h")),
            };
            return format!(
                "{unit} does not say in which time; type {number} {minute} by the minute, or {number} {hour} by the hour."
            );
        }
        match noun_of(kind) {
            Some(noun) if !unit.is_empty() => format!("{unit} is {noun}; {}.", self.is_typed()),
            _ => self.unreadable(term.number),
        }
    }

    /// For a bare number of a quantity that has no usual unit.
    pub(super) fn of_what(self, term: &Term<'_>) -> String {
        format!("{} of what? {}.", term.number, begun(&self.is_typed()))
    }

    /// For a comma that may separate thousands or decimals.
    pub(super) fn two_ways(self, term: &Term<'_>) -> String {
        let (text, unit) = (term.number, short(term.unit));
        let gap = if unit.is_empty() { "" } else { " " };
        let (thousands, fraction) = (text.replace(',', ""), text.replace(',', "."));
        format!(
            "{text} can be read in two ways: type {thousands}{gap}{unit} or {fraction}{gap}{unit}."
        )
    }

    /// For two numbers next to each other.
    pub(super) fn two_numbers(self, before: &Term<'_>, term: &Term<'_>) -> String {
        let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
        if before.unit.is_empty()
            && term.number.len() == 3
            && digits(before.number)
            && digits(term.number)
        {
            let (thousands, rest) = (before.number, term.number);
            return format!(
                "{thousands} {rest} are two numbers; without the blank it is {thousands}{rest}, and {}.",
                self.is_typed()
            );
        }
        self.unreadable(&format!("{} {}", before.number, term.number))
    }

    fn is_typed(self) -> String {
        format!("{} is typed such as {}", self.noun(), self.such_as())
    }

    fn noun(self) -> &'static str {
        match self.quantity {
            Quantity::Height => "a height",
            Quantity::Length => "a length",
            Quantity::Bore => "a bore",
            Quantity::Head => "a head",
            Quantity::Area => "an area",
            Quantity::Flow => "a flow",
            Quantity::Volume => "a volume",
            Quantity::Velocity => "a velocity",
            Quantity::Pressure => "a pressure",
            Quantity::Power => "a power",
            Quantity::Time => "a time",
            Quantity::Temperature => "a temperature",
            Quantity::Ratio => "a number",
            Quantity::Turnover => "a number of changes",
        }
    }

    fn such_as(self) -> &'static str {
        let metric = self.system == UnitSystem::Metric;
        let (in_metric, in_us) = match self.quantity {
            Quantity::Height => ("1215 or 1.215 m", "47 13/16 or 3 ft 11 13/16 in"),
            Quantity::Length => ("2.4 m", "7 ft 10 in"),
            Quantity::Bore => ("57 mm", "2.25 in"),
            Quantity::Head => ("2.4 m or 50 kPa", "8 ft or 3.5 psi"),
            Quantity::Area => ("1.8 m²", "20 sq ft"),
            Quantity::Flow => ("12 m³/h or 30 L/min", "50 gpm or 500 gph"),
            Quantity::Volume => ("300 L or 1.2 m³", "265 gal"),
            Quantity::Velocity => ("0.9 m/s", "3 ft/s"),
            Quantity::Pressure => ("50 kPa or 5 m of water", "8 psi or 10 ft of water"),
            Quantity::Power => ("180 W or 0.55 kW", "180 W or 0.75 hp"),
            Quantity::Time => ("90 s, 20 min or 2 h 5 min", "90 s, 20 min or 2 h 5 min"),
            Quantity::Temperature => ("18 °C", "64 °F"),
            Quantity::Ratio => ("0.5 or 50 %", "0.5 or 50 %"),
            Quantity::Turnover => ("1.5 an hour", "1.5 an hour"),
        };
        if metric { in_metric } else { in_us }
    }
}

fn noun_of(kind: UnitKind) -> Option<&'static str> {
    Some(match kind {
        UnitKind::Length => "a length",
        UnitKind::Area => "an area",
        UnitKind::Volume => "a volume",
        UnitKind::Flow => "a flow",
        UnitKind::Velocity => "a velocity",
        UnitKind::Pressure => "a pressure",
        UnitKind::WaterColumn => "a head of water",
        UnitKind::Power => "a power",
        UnitKind::Time => "a time",
        UnitKind::Temperature => "a temperature",
        UnitKind::Ratio => "a share",
        UnitKind::Turnover => "how often something is done",
        UnitKind::Count => return None,
    })
}

fn short(text: &str) -> String {
    let text = text.trim();
    let mut out: String = text
        .chars()
        .take(MOST_REPEATED)
        .map(|letter| {
            if letter.is_control() || letter == THIN {
                ' '
            } else {
                letter
            }
        })
        .collect();
    if out.len() < text.len() && text.chars().count() > MOST_REPEATED {
        out.push('…');
    }
    out
}

fn begun(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
