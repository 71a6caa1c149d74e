//! All changes of a cure as one edit.

use crate::edit::field::{FieldValue, in_part};
use crate::edit::{Edit, EditError, EditStep};
use crate::finding::{Change, Sentence};
use crate::layout::Layout;

/// Combines `changes` in one edit, so that one undo reverts a whole cure.
///
/// The old values in the changes are ignored: a cure for a layout that has changed since sets the same numbers.
///
/// # Errors
/// As [`number`](super::number::number) for each change; only the final layout must be valid.
pub fn changes(layout: &Layout, changes: &[Change], name: Sentence) -> Result<Edit, EditError> {
    let outcome = changed(layout, changes)?;
    Edit::between(name, layout, &outcome).tried_on(layout)
}

/// A layout with all `changes` made, for trying them out; it may be invalid.
///
/// # Errors
/// A missing part or number, or a number that is not finite.
pub fn changed(layout: &Layout, changes: &[Change]) -> Result<Layout, EditError> {
    let mut outcome = layout.clone();
    for change in changes {
        let to = FieldValue::Set(change.to);
        let (place, before, after) = in_part(&outcome, &change.part, change.field, to)?;
        let step = EditStep::Part {
            place,
            before: Some(before),
            after: Some(after),
        };
        step.make(&mut outcome)?;
    }
    Ok(outcome)
}
