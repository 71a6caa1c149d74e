//! One step of an edit: what stood before, and what stands after.

use super::part::Listed;
use super::{EditError, Part, Settings};
use crate::layout::{Fixed, Id, Joint, Layout, Run, Vessel};

/// One step of an edit.
#[derive(Clone, Debug, PartialEq)]
pub enum EditStep {
    /// What holds for the whole layout.
    Settings {
        /// As it stood.
        before: Box<Settings>,
        /// As it will stand.
        after: Box<Settings>,
    },
    /// One part. Both of one kind and with one id where both are there.
    Part {
        /// Its place in the list of its kind, counted from 0, when the steps before this one are made.
        place: usize,
        /// As it stood; none: it is added.
        before: Option<Part>,
        /// As it will stand; none: it is taken away.
        after: Option<Part>,
    },
}

impl EditStep {
    /// The step that takes this one back.
    pub(super) fn inverse(&self) -> EditStep {
        match self.clone() {
            EditStep::Settings { before, after } => EditStep::Settings {
                before: after,
                after: before,
            },
            EditStep::Part {
                place,
                before,
                after,
            } => EditStep::Part {
                place,
                before: after,
                after: before,
            },
        }
    }

    /// The part that it touches.
    pub(super) fn part(&self) -> Option<&Id> {
        match self {
            EditStep::Settings { .. } => None,
            EditStep::Part { before, after, .. } => {
                after.as_ref().or(before.as_ref()).map(Part::id)
            }
        }
    }

    pub(super) fn changes_nothing(&self) -> bool {
        match self {
            EditStep::Settings { before, after } => before == after,
            EditStep::Part { before, after, .. } => before == after,
        }
    }

    /// Makes the step.
    pub(super) fn make(&self, layout: &mut Layout) -> Result<(), EditError> {
        match self {
            EditStep::Settings { before, after } if Settings::of(layout) == **before => {
                after.put(layout);
                Ok(())
            }
            EditStep::Settings { .. } => Err(moved_on(None)),
            EditStep::Part {
                place,
                before,
                after,
            } => match after.as_ref().or(before.as_ref()) {
                None => Ok(()),
                Some(Part::Vessel(_)) => put::<Vessel>(layout, *place, (before, after)),
                Some(Part::Joint(_)) => put::<Joint>(layout, *place, (before, after)),
                Some(Part::Fixed(_)) => put::<Fixed>(layout, *place, (before, after)),
                Some(Part::Run(_)) => put::<Run>(layout, *place, (before, after)),
            },
        }
    }
}

/// Puts a part in its place in the list of its kind.
fn put<T: Listed>(
    layout: &mut Layout,
    place: usize,
    (before, after): (&Option<Part>, &Option<Part>),
) -> Result<(), EditError> {
    let list = T::list_mut(layout);
    let refused = || moved_on(before.as_ref().or(after.as_ref()).map(Part::id));
    match (before.as_ref().map(T::of), after.as_ref().map(T::of)) {
        (None, Some(Some(new))) if place <= list.len() => {
            list.insert(place, new.clone());
            Ok(())
        }
        (Some(Some(old)), None) if list.get(place) == Some(old) => {
            list.remove(place);
            Ok(())
        }
        (Some(Some(old)), Some(Some(new))) if old.id() == new.id() => {
            match list.get_mut(place).filter(|here| *here == old) {
                Some(here) => {
                    here.clone_from(new);
                    Ok(())
                }
                None => Err(refused()),
            }
        }
        (Some(Some(_)), Some(_)) | (Some(None), _) => Err(another(after.as_ref().map(Part::id))),
        _ => Err(refused()),
    }
}

fn moved_on(part: Option<&Id>) -> EditError {
    let what = match part {
        Some(_) => "the part is no longer as it was when this change was made ready",
        None => "the settings are no longer as they were when this change was made ready",
    };
    EditError {
        part: part.cloned(),
        ..EditError::new(
            what,
            "look at what stands there now, and make the change anew",
        )
    }
}

fn another(part: Option<&Id>) -> EditError {
    EditError {
        part: part.cloned(),
        ..EditError::new(
            "a change keeps a part's kind and its id",
            "take the one part away and add the other",
        )
    }
}
