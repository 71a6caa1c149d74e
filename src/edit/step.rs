//! One step of an edit: the values before and after.

use super::part::Listed;
use super::{EditError, Part, Settings};
use crate::layout::{Fixed, Id, Joint, Layout, Run, Vessel};

/// One step of an edit.
#[derive(Clone, Debug, PartialEq)]
pub enum EditStep {
    /// The settings of the whole layout.
    Settings {
        /// Before.
        before: Box<Settings>,
        /// After.
        after: Box<Settings>,
    },
    /// One part. Before and after have one kind and one id where both exist.
    Part {
        /// Its index in the list of its kind, after the earlier steps.
        place: usize,
        /// Before; none: it is added.
        before: Option<Part>,
        /// After; none: it is deleted.
        after: Option<Part>,
    },
}

impl EditStep {
    /// The inverse step.
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

    /// The part that it changes.
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

    /// Applies the step.
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

/// Inserts a part at its index in the list of its kind.
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
        Some(_) => "the part has changed since this edit was prepared",
        None => "the settings have changed since this edit was prepared",
    };
    EditError {
        part: part.cloned(),
        ..EditError::new(what, "check the present values and try again")
    }
}

fn another(part: Option<&Id>) -> EditError {
    EditError {
        part: part.cloned(),
        ..EditError::new(
            "a change must keep the kind and id of a part",
            "delete the one part and add the other",
        )
    }
}
