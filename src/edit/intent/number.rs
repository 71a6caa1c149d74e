//! One number of a part.

use super::one_part;
use crate::edit::field::{FieldValue, in_part};
use crate::edit::{Edit, EditError, words};
use crate::finding::Piece;
use crate::layout::{Id, Layout};
use crate::units::Quantity;

/// Sets one number of a part: `field` of `part` to `to`, in SI.
///
/// The field is dotted from the part as in a file: `rim_m`, `from.opening.upstand.crest_m`,
/// `valves.0.opening`. A number that may be left out counts as there; for the id of a pump the field is
/// dotted from the pump. `quantity` says only how the name of the edit reads.
///
/// # Errors
/// No such part, no such number in it, no finite number, no whole number where things are counted, or
/// one that the layout cannot hold, with the range that it can.
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

/// Sets one number under a name of its own.
pub(super) fn named_number(
    layout: &Layout,
    part: &Id,
    (field, to): (&str, f64),
    name: Vec<Piece>,
) -> Result<Edit, EditError> {
    let (place, before, after) = in_part(layout, part, field, FieldValue::Set(to))?;
    one_part(layout, place, (before, after), name)
}

/// Leaves one number of a part out, so that what follows from the rest is taken instead; dotted as in
/// [`number`]. Where it is left out already, the edit changes nothing.
///
/// # Errors
/// No such part, no such number in it, or one that is always there.
pub fn clear(layout: &Layout, part: &Id, field: &str) -> Result<Edit, EditError> {
    let (place, before, after) = in_part(layout, part, field, FieldValue::Clear)?;
    let name = vec![
        format!("Leave out {} of ", words::of_field(field)).into(),
        part.into(),
    ];
    one_part(layout, place, (before, after), name)
}
