//! One number of a part.

use super::one_part;
use crate::edit::field::{FieldValue, in_part};
use crate::edit::{Edit, EditError, words};
use crate::finding::Piece;
use crate::layout::{Id, Layout};
use crate::units::Quantity;

/// Sets one number of a part: `field` of `part` to `to`, in SI.
///
/// The field is dotted from the part as in a file: `rim_m`, `from.opening.upstand.crest_m`, `valves.0.opening`.
/// Optional numbers can be set too; for the id of a pump the field is dotted from the pump. `quantity` only formats
/// the name of the edit.
///
/// # Errors
/// A missing part or number, a number that is not finite, a fraction for a count, or a number out of range, with the
/// range.
pub fn number(
    layout: &Layout,
    part: &Id,
    field: &str,
    to: f64,
    quantity: Quantity,
) -> Result<Edit, EditError> {
    let name = vec![
        format!("Set {} of ", words::of_field(field)).into(),
        part.into(),
        " to ".into(),
        Piece::Number(quantity, to),
    ];
    named_number(layout, part, (field, to), name)
}

/// Sets one number under another name of the edit.
pub(super) fn named_number(
    layout: &Layout,
    part: &Id,
    (field, to): (&str, f64),
    name: Vec<Piece>,
) -> Result<Edit, EditError> {
    let (place, before, after) = in_part(layout, part, field, FieldValue::Set(to))?;
    one_part(layout, place, (before, after), name)
}

/// Clears an optional number of a part, so that the program derives it; dotted as in [`number`]. Where it is empty
/// already, the edit changes nothing.
///
/// # Errors
/// A missing part or number, or a mandatory number.
pub fn clear(layout: &Layout, part: &Id, field: &str) -> Result<Edit, EditError> {
    let (place, before, after) = in_part(layout, part, field, FieldValue::Clear)?;
    let name = vec![
        format!("Clear {} of ", words::of_field(field)).into(),
        part.into(),
    ];
    one_part(layout, place, (before, after), name)
}
