//! The edit that leads from one layout to another.

use super::part::Listed;
use super::{Edit, EditStep, Settings};
use crate::finding::Sentence;
use crate::layout::{Fixed, Id, Joint, Layout, Run, Vessel};
use std::collections::HashSet;

impl Edit {
    /// The edit that turns `before` into `after`; it contains only differences.
    ///
    /// This is how to build an edit that adds, deletes or connects parts: change a copy and take the difference. A
    /// part that moves within the list of its kind is deleted and added.
    pub fn between(name: Sentence, before: &Layout, after: &Layout) -> Edit {
        let mut steps = Vec::new();
        let (old, new) = (Settings::of(before), Settings::of(after));
        if old != new {
            steps.push(EditStep::Settings {
                before: Box::new(old),
                after: Box::new(new),
            });
        }
        steps.extend(list::<Vessel>(before, after));
        steps.extend(list::<Joint>(before, after));
        steps.extend(list::<Fixed>(before, after));
        steps.extend(list::<Run>(before, after));
        Edit { name, steps }
    }
}

/// The steps for one kind of part: deletions from the last, changes, additions from the first.
fn list<T: Listed>(before: &Layout, after: &Layout) -> Vec<EditStep> {
    let (old, new) = (T::list(before), T::list(after));
    let kept = kept(old, new);
    let stays = |part: &&T| kept.contains(part.id());
    let gone = old
        .iter()
        .enumerate()
        .rev()
        .filter(|(_, part)| !stays(part));
    let pairs = old.iter().filter(stays).zip(new.iter().filter(stays));
    let changed = pairs.enumerate().filter(|(_, (old, new))| old != new);
    let added = new.iter().enumerate().filter(|(_, part)| !stays(part));
    gone.map(|(place, old)| step(place, Some(old), None))
        .chain(changed.map(|(place, (old, new))| step(place, Some(old), Some(new))))
        .chain(added.map(|(place, new)| step(place, None, Some(new))))
        .collect()
}

/// The parts in both lists; none where their order differs or an id is not unique.
fn kept<'a, T: Listed>(old: &'a [T], new: &[T]) -> HashSet<&'a Id> {
    let of_new: HashSet<&Id> = new.iter().map(Listed::id).collect();
    let both: Vec<&Id> = old
        .iter()
        .map(Listed::id)
        .filter(|id| of_new.contains(id))
        .collect();
    let kept: HashSet<&Id> = both.iter().copied().collect();
    let again = new.iter().map(Listed::id).filter(|id| kept.contains(*id));
    if kept.len() == both.len() && both.iter().copied().eq(again) {
        kept
    } else {
        HashSet::new()
    }
}

fn step<T: Listed>(place: usize, before: Option<&T>, after: Option<&T>) -> EditStep {
    EditStep::Part {
        place,
        before: before.map(|part| part.clone().into()),
        after: after.map(|part| part.clone().into()),
    }
}
