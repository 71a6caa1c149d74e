//! Parsers and words of option values.

use crate::draw::page::theme::Theme;
use crate::state::State;
use crate::units::UnitSystem;
use clap::ValueEnum;

/// The units of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// Millimetres, litres, m³/h.
    Metric,
    /// Feet and inches, US gallons.
    Us,
}

impl From<Units> for UnitSystem {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => UnitSystem::Metric,
            Units::Us => UnitSystem::Us,
        }
    }
}

/// The form of a layout file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For scripts.
    Json,
    /// For people.
    Ron,
}

/// The states that can be followed in time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum TraceState {
    /// From rest, pumps on.
    Starting,
    /// From running, pumps off.
    Stopped,
    /// From running, one run shut.
    Blocked,
}

impl TraceState {
    /// The word for scripts.
    pub fn word(self) -> &'static str {
        match self {
            TraceState::Starting => State::Starting.word(),
            TraceState::Stopped => State::Stopped.word(),
            TraceState::Blocked => State::Blocked.word(),
        }
    }
}

/// What `size` may change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum SizeWhat {
    /// Bores of runs.
    Pipes,
    /// Crests and heights of vessels.
    Heights,
    /// The pump.
    Pump,
    /// The sump.
    Sump,
}

/// The three drawings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum View {
    /// From above, to scale.
    Plan,
    /// From the side, heights to scale.
    Section,
    /// The grade line along one path.
    Grade,
}

/// The colours of a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Look {
    /// Dark on white, for a light screen.
    Light,
    /// Light on dark.
    Dark,
    /// For the printer, black and white too.
    Paper,
}

impl From<Look> for Theme {
    fn from(look: Look) -> Self {
        match look {
            Look::Light => Theme::Light,
            Look::Dark => Theme::Dark,
            Look::Paper => Theme::Paper,
        }
    }
}

/// Parses the key of a state.
pub(super) fn state(word: &str) -> Result<State, String> {
    let found = State::ALL.into_iter().find(|state| state.word() == word);
    found.ok_or_else(|| {
        let words: Vec<&str> = State::ALL.iter().map(|state| state.word()).collect();
        format!("the states are {}", words.join(", "))
    })
}

/// Parses a duration above 0, seconds.
pub(super) fn seconds(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() && value > 0.0 => Ok(value),
        _ => Err("a number of seconds above 0 is expected".to_owned()),
    }
}

/// Parses the width of a page, points, 400 to 14400.
pub(super) fn page_width(text: &str) -> Result<f64, String> {
    between(text, 400.0, 14_400.0)
}

/// Parses a scale, pixels per point, 0.25 to 8.
pub(super) fn scale(text: &str) -> Result<f64, String> {
    between(text, 0.25, 8.0)
}

fn between(text: &str, least: f64, most: f64) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(value) if (least..=most).contains(&value) => Ok(value),
        _ => Err(format!("a number from {least} to {most} is expected")),
    }
}
