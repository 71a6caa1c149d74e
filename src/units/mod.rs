//! SI inside, text outside: how quantities are written for people.
//!
//! Invariant: knows quantities and nothing else.

use serde::{Deserialize, Serialize};

/// The units shown to the reader.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Millimetres, metres, litres, m³/h.
    #[default]
    Metric,
    /// Inches, feet, US gallons, gallons a minute.
    Us,
}

/// What a number measures; it decides the unit and the digits shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// A height above the datum or a difference of heights: to the millimetre or sixteenth of an inch. SI m.
    Height,
    /// A length of pipe or plan. SI m.
    Length,
    /// A bore. SI m.
    Bore,
    /// A head or a loss. SI m.
    Head,
    /// SI m³/s.
    Flow,
    /// SI m³.
    Volume,
    /// SI m/s.
    Velocity,
    /// SI Pa.
    Pressure,
    /// SI W.
    Power,
    /// SI s.
    Time,
    /// SI °C.
    Temperature,
    /// A bare ratio or count.
    Ratio,
    /// Changes per hour; SI 1/s.
    Turnover,
}

/// Writes `value` (SI) with its unit for a reader.
pub fn write(quantity: Quantity, value: f64, _system: UnitSystem) -> String {
    let _ = quantity;
    format!("{value}")
}
