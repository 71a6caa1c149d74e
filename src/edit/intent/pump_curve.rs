//! The curve of a pump.

use super::replace::replace;
use crate::edit::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::layout::{CurveForm, Id, Layout};
use crate::units::Quantity;

/// Sets the curve of a pump; its speed, efficiency and all else stay.
///
/// # Errors
/// A missing pump, or an invalid curve: fewer than two points, flows that do not rise, a label without a head or a
/// flow.
pub fn pump_curve(layout: &Layout, pump: &Id, curve: CurveForm) -> Result<Edit, EditError> {
    let mut runs = layout.runs.iter();
    let found = runs.find(|run| run.pump.as_ref().is_some_and(|one| one.id == *pump));
    let mut after = found.cloned().ok_or_else(|| {
        EditError::new("the layout has no such pump", "choose an existing pump").part(pump)
    })?;
    let name = name(pump, &curve);
    if let Some(own) = &mut after.pump {
        own.curve = curve;
    }
    replace(layout, after, Sentence(name))
}

fn name(pump: &Id, curve: &CurveForm) -> Vec<Piece> {
    match curve {
        CurveForm::Label {
            largest_head_m,
            largest_flow_m3_s,
        } => vec![
            "Guess the curve of ".into(),
            pump.into(),
            " from its label, ".into(),
            Piece::Number(Quantity::Head, *largest_head_m),
            " and ".into(),
            Piece::Number(Quantity::Flow, *largest_flow_m3_s),
        ],
        CurveForm::Points(points) => vec![
            "Set the curve of ".into(),
            pump.into(),
            format!(" to {} points", points.len()).into(),
        ],
        CurveForm::Power { .. } => vec!["Set the curve of ".into(), pump.into()],
    }
}
