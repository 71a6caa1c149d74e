//! Replaces a whole part, for changes other than a number: a shape, a use, another kind of opening.

use super::one_part;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError, Part};
use crate::finding::Sentence;
use crate::layout::Layout;

/// Replaces the part with the id of `after`.
///
/// # Errors
/// No part with this id, a part of another kind, or an invalid result.
pub fn replace(layout: &Layout, after: impl Into<Part>, name: Sentence) -> Result<Edit, EditError> {
    let after = after.into();
    let (place, before) = Part::find(layout, after.id()).ok_or_else(|| no_part(after.id()))?;
    one_part(layout, place, (before, after), name.0)
}
