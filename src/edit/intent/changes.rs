//! The changes of a cure, all at once.

use crate::edit::field::{FieldValue, in_part};
use crate::edit::{Edit, EditError, EditStep};
use crate::finding::{Change, Sentence};
use crate::layout::Layout;

/// Makes all `changes` as one edit, so that one undo takes a whole cure back.
///
/// What a change says it changes from is not looked at: a cure of a layout that has moved on sets the
/// same numbers.
///
/// # Errors
/// As [`number`](super::number::number) for each of them; only the outcome of all has to be a layout that can be held.
pub fn changes(layout: &Layout, changes: &[Change], name: Sentence) -> Result<Edit, EditError> {
    let outcome = changed(layout, changes)?;
    Edit::between(name, layout, &outcome).tried_on(layout)
}

/// A layout with all `changes` made, to try them out: whether it is sound as data is not looked at.
///
/// # Errors
/// A part or a number that is not there, or no finite number.
pub fn changed(layout: &Layout, changes: &[Change]) -> Result<Layout, EditError> {
    let mut outcome = layout.clone();
    for change in changes {
        let to = FieldValue::Set(change.to);
        let (place, before, after) = in_part(&outcome, &change.part, &change.field, to)?;
        let step = EditStep::Part {
            place,
            before: Some(before),
            after: Some(after),
        };
        step.make(&mut outcome)?;
    }
    Ok(outcome)
}
