//! The site picture under the plan.

use super::setting::with_settings;
use crate::edit::{Edit, EditError};
use crate::finding::Piece;
use crate::layout::{Layout, Underlay};
use crate::units::Quantity;

/// Adds a picture under the plan, in place of the present one.
///
/// # Errors
/// A file without a name, or invalid numbers, with their ranges.
pub fn lay_picture(layout: &Layout, picture: Underlay) -> Result<Edit, EditError> {
    let name = vec!["Add site picture".into()];
    with_settings(layout, name, |settings| settings.underlay = Some(picture))
}

/// Scales the picture under the plan; `between_m`: the distance between the two points that it was scaled by, metres.
///
/// # Errors
/// No picture under the plan, or an invalid scale, with its range.
pub fn scale_picture(layout: &Layout, scaled: Underlay, between_m: f64) -> Result<Edit, EditError> {
    if layout.underlay.is_none() {
        return Err(none_there());
    }
    let name = vec![
        "Scale site picture: ".into(),
        Piece::Number(Quantity::Length, between_m),
        " between two points".into(),
    ];
    with_settings(layout, name, |settings| settings.underlay = Some(scaled))
}

/// Removes the picture; its file stays.
///
/// # Errors
/// No picture under the plan.
pub fn take_picture_away(layout: &Layout) -> Result<Edit, EditError> {
    if layout.underlay.is_none() {
        return Err(none_there());
    }
    let name = vec!["Remove site picture".into()];
    with_settings(layout, name, |settings| settings.underlay = None)
}

fn none_there() -> EditError {
    EditError::new("there is no site picture", "add one first")
}
