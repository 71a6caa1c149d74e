//! What a number measures, and in which family of units it is shown.

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
    /// A plan area, a surface, the area of a screen. SI m².
    Area,
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

impl Quantity {
    /// Every quantity, for completeness tests.
    pub const ALL: [Quantity; 14] = [
        Quantity::Height,
        Quantity::Length,
        Quantity::Bore,
        Quantity::Head,
        Quantity::Area,
        Quantity::Flow,
        Quantity::Volume,
        Quantity::Velocity,
        Quantity::Pressure,
        Quantity::Power,
        Quantity::Time,
        Quantity::Temperature,
        Quantity::Ratio,
        Quantity::Turnover,
    ];
}

/// The symbol of the SI unit in which values of `quantity` are held: what scripts read beside a number.
pub fn si_symbol(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Height | Quantity::Length | Quantity::Bore | Quantity::Head => "m",
        Quantity::Area => "m²",
        Quantity::Flow => "m³/s",
        Quantity::Volume => "m³",
        Quantity::Velocity => "m/s",
        Quantity::Pressure => "Pa",
        Quantity::Power => "W",
        Quantity::Time => "s",
        Quantity::Temperature => "°C",
        Quantity::Ratio => "1",
        Quantity::Turnover => "1/s",
    }
}
