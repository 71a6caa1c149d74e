//! The floor of a vessel.

use super::replace::replace;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::layout::{Id, Layout};
use crate::units::Quantity;

/// Sets the floor of a vessel, metres above the datum; its rim stays. A fill level below the new floor rises to it.
///
/// # Errors
/// A missing vessel, or a floor that is not below its rim.
pub fn floor(layout: &Layout, vessel: &Id, to_m: f64) -> Result<Edit, EditError> {
    let mut after = layout
        .vessel(vessel)
        .cloned()
        .ok_or_else(|| no_part(vessel))?;
    after.floor_m = to_m;
    after.fill_m = after.fill_m.max(to_m);
    let name = vec![
        "Set the floor of ".into(),
        vessel.into(),
        " to ".into(),
        Piece::Number(Quantity::Height, to_m),
    ];
    replace(layout, after, Sentence(name))
}
