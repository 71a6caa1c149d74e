//! A manifold: one run that feeds many vessels, each through its own branch.

use super::{tee, with_run};
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::Sentence;
use crate::layout::{Id, Layout, ValveUse};

/// Feeds many parts from one: a run to the farthest and, from a tee beside each of the others, a branch with a valve.
/// Returns the edit and the ids of the new runs and tees.
///
/// # Errors
/// Fewer than two vessels to feed, a missing part, or the source among the vessels to feed.
pub fn manifold(layout: &Layout, from: &Id, to: &[Id]) -> Result<(Edit, Vec<Id>), EditError> {
    let source = layout.place_of(from).ok_or_else(|| no_part(from))?;
    let mut fed: Vec<(f64, (f64, f64), &Id)> = Vec::new();
    for id in to.iter().filter(|id| *id != from) {
        let place = layout.place_of(id).ok_or_else(|| no_part(id))?;
        let far = (place.x_m - source.x_m).hypot(place.y_m - source.y_m);
        if !fed.iter().any(|(_, _, known)| *known == id) {
            fed.push((far, (place.x_m, place.y_m), id));
        }
    }
    // From the nearest to the farthest, as the pipe passes them.
    fed.sort_by(|a, b| a.0.total_cmp(&b.0));
    let Some(((_, _, farthest), others)) =
        fed.split_last().filter(|(_, others)| !others.is_empty())
    else {
        let what = "a manifold feeds at least two vessels";
        return Err(EditError::new(what, "draw it over two or more vessels").part(from));
    };
    let (mut after, main, _) = with_run(layout, from, farthest, &[])?;
    let mut made = vec![main.clone()];
    let mut trunk = main;
    for (_, place, id) in others {
        let (split, joint) = tee::with_tee(&after, &trunk, *place)?;
        // The part after the tee becomes the trunk.
        trunk = behind(&split, &joint).unwrap_or(trunk);
        let (mut with, branch, _) = with_run(&split, &joint, id, &[])?;
        if let Some(run) = with.runs.iter_mut().find(|run| run.id == branch) {
            run.valves.push(ball());
        }
        made.extend([joint, branch, trunk.clone()]);
        after = with;
    }
    if let Some(last) = after.runs.iter_mut().find(|run| run.id == trunk) {
        last.valves.push(ball());
    }
    let words = format!(" to {} vessels", fed.len());
    let name = Sentence(vec![
        "Build a manifold from ".into(),
        from.into(),
        words.into(),
    ]);
    let edit = Edit::between(name, layout, &after).tried_on(layout)?;
    made.dedup();
    Ok((edit, made))
}

/// The run that begins at a joint.
fn behind(layout: &Layout, joint: &Id) -> Option<Id> {
    let run = layout.runs.iter().find(|run| run.from.at == *joint)?;
    Some(run.id.clone())
}

/// Each branch is adjusted by its own valve, or the nearest would take most.
fn ball() -> ValveUse {
    ValveUse {
        kind: "ball".to_owned(),
        opening: 1.0,
        k: None,
        at_m: None,
        near: None,
    }
}
