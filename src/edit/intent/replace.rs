//! A part as a whole: for what is no number, such as a shape, a role or another kind of opening.

use super::one_part;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError, Part};
use crate::finding::Sentence;
use crate::layout::Layout;

/// Puts `after` in the place of the part with the same id.
///
/// # Errors
/// No part with this id, one of another kind, or an outcome that cannot be held.
pub fn replace(layout: &Layout, after: impl Into<Part>, name: Sentence) -> Result<Edit, EditError> {
    let after = after.into();
    let (place, before) = Part::find(layout, after.id()).ok_or_else(|| no_part(after.id()))?;
    one_part(layout, place, (before, after), name.0)
}
