//! Writes an existing curve as it would be typed.

use super::DefaultUnits;
use crate::layout::CurveForm;
use crate::units::{Quantity, UnitSystem, read_in, unit_for};

/// The best units of flow and head for a curve.
pub fn usual_units(form: &CurveForm, system: UnitSystem) -> (&'static str, &'static str) {
    let largest_m3_s = match form {
        CurveForm::Points(points) => points.last().map_or(0.0, |point| point.flow_m3_s),
        CurveForm::Label {
            largest_flow_m3_s, ..
        } => *largest_flow_m3_s,
        CurveForm::Power { .. } => f64::INFINITY,
    };
    match system {
        UnitSystem::Us => ("gpm", "ft"),
        UnitSystem::Metric => match unit_for(Quantity::Flow, largest_m3_s, system).symbol {
            "L/min" => ("L/min", "m"),
            _ => ("m³/h", "m"),
        },
    }
}

/// Flow and head of each point, or of the label, in the units of `bare` without unit symbols; none for a formula.
///
/// Nine figures: a number typed with fewer reads back unchanged.
pub fn typed(form: &CurveForm, bare: DefaultUnits<'_>) -> Vec<[String; 2]> {
    let row = |flow_m3_s: f64, head_m: f64| {
        [
            number(Quantity::Flow, flow_m3_s, (bare.system, bare.flow)),
            number(Quantity::Head, head_m, (bare.system, bare.head)),
        ]
    };
    match form {
        CurveForm::Points(points) => points
            .iter()
            .map(|point| row(point.flow_m3_s, point.head_m))
            .collect(),
        CurveForm::Label {
            largest_head_m,
            largest_flow_m3_s,
        } => vec![row(*largest_flow_m3_s, *largest_head_m)],
        CurveForm::Power { .. } => Vec::new(),
    }
}

/// A value in a unit, without the symbol.
pub(super) fn number(quantity: Quantity, value: f64, unit: (UnitSystem, &str)) -> String {
    let one = read_in(quantity, "1", unit).unwrap_or(1.0);
    let rounded = format!("{:.8e}", value / one)
        .parse()
        .unwrap_or(value / one);
    let text = format!("{rounded}");
    // A number that is shorter with a power of ten does not occur on a data sheet.
    if text.len() > 12 {
        format!("{rounded:e}")
    } else {
        text
    }
}
