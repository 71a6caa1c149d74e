//! Quantities and the unit systems in which they are shown.

use serde::{Deserialize, Serialize};

/// Unit system shown to the reader.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Millimetres, metres, litres, m³/h.
    #[default]
    Metric,
    /// Inches, feet, US gallons, gallons a minute.
    Us,
}

/// Physical quantity of a number; decides the unit and the digits shown.
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
    /// A flow. SI m³/s.
    Flow,
    /// A volume. SI m³.
    Volume,
    /// A velocity. SI m/s.
    Velocity,
    /// A pressure. SI Pa.
    Pressure,
    /// A power. SI W.
    Power,
    /// A time. SI s.
    Time,
    /// A temperature. SI °C.
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

/// Returns the symbol of the SI unit of `quantity`, for output that scripts read.
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
