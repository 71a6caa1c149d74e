//! The selection.

use super::reach::crest_m;
use crate::draw::page::shape::Rect;
use crate::draw::section::{Pick, TouchTarget};
use crate::layout::{Id, Layout};

/// The whole parts of the selection, each once.
pub fn parts(selected: &[Pick]) -> Vec<Id> {
    let mut parts = Vec::new();
    for pick in selected {
        if let Pick::Part(id) = pick
            && !parts.contains(id)
        {
            parts.push(id.clone());
        }
    }
    parts
}

/// Selects a clicked target alone; `too` adds or removes it.
pub fn take(selected: &mut Vec<Pick>, on: Option<Pick>, too: bool) {
    match (on, too) {
        (None, true) => {}
        (on, false) => *selected = on.into_iter().collect(),
        (Some(pick), true) => match selected.iter().position(|one| *one == pick) {
            Some(index) => {
                selected.remove(index);
            }
            None => selected.push(pick),
        },
    }
}

/// Adds every part that is wholly inside a box.
pub fn boxed(selected: &mut Vec<Pick>, targets: &[TouchTarget], area: Rect) {
    selected.retain(|pick| matches!(pick, Pick::Part(_)));
    for target in targets {
        let whole = matches!(target.pick, Pick::Part(_)) && area.holds_all(target.reach.bounds());
        if whole && !selected.contains(&target.pick) {
            selected.push(target.pick.clone());
        }
    }
}

/// Whether a target still exists.
pub fn is_there(layout: &Layout, pick: &Pick) -> bool {
    match pick {
        Pick::Part(id) => layout.has(id),
        Pick::Crest { .. } => crest_m(layout, pick).is_some(),
        Pick::Rim(id) => layout.vessel(id).is_some(),
        Pick::Floor(id) => layout.foot_m(id).is_some(),
        Pick::Corner { run, index } => layout.run(run).is_some_and(|run| *index < run.route.len()),
    }
}
