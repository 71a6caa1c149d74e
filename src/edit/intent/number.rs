//! One number of a part.

use super::one_part;
use crate::edit::field::{FieldValue, in_part};
use crate::edit::{Edit, EditError, words};
use crate::finding::Piece;
use crate::layout::{Id, Layout, NumberField};

/// Sets one number of a part to `to`, in SI. Numbers that may be left out can be set too; a pump has its own id.
///
/// # Errors
/// A missing part, a part without this number, a number that is not finite, a fraction for a count, or a number out
/// of range, with the range.
pub fn number(
    layout: &Layout,
    part: &Id,
    field: impl Into<NumberField>,
    to: f64,
) -> Result<Edit, EditError> {
    let field = field.into();
    let name = vec![
        format!("Set {} of ", words::of_field(&field.path())).into(),
        part.into(),
        " to ".into(),
        Piece::Number(field.quantity(), to),
    ];
    named_number(layout, part, field, to, name)
}

/// Sets one number under another name of the edit.
pub(super) fn named_number(
    layout: &Layout,
    part: &Id,
    field: NumberField,
    to: f64,
    name: Vec<Piece>,
) -> Result<Edit, EditError> {
    let (place, before, after) = in_part(layout, part, field, FieldValue::Set(to))?;
    one_part(layout, place, (before, after), name)
}

/// Clears an optional number of a part, so that the program derives it. Where it is empty
/// already, the edit changes nothing.
///
/// # Errors
/// A missing part or number, or a mandatory number.
pub fn clear(layout: &Layout, part: &Id, field: impl Into<NumberField>) -> Result<Edit, EditError> {
    let field = field.into();
    let (place, before, after) = in_part(layout, part, field, FieldValue::Clear)?;
    let name = vec![
        format!("Clear {} of ", words::of_field(&field.path())).into(),
        part.into(),
    ];
    one_part(layout, place, (before, after), name)
}
