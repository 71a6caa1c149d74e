//! Copies parts: once, in a row, or into another layout.

use super::fresh::{fresh_id, stem_of};
use super::shift::{Shift, moved};
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::layout::{FloatSwitch, Id, Layout, Run};
use std::collections::HashMap;

/// The most copies made at once.
pub const MOST_COPIES: usize = 200;

/// Copies parts with the runs between them, under new names, moved by `by`. Returns the edit and the ids of the
/// copies.
///
/// # Errors
/// A missing part, or more parts than a layout can hold.
pub fn duplicate(layout: &Layout, parts: &[Id], by: Shift) -> Result<(Edit, Vec<Id>), EditError> {
    if let Some(missing) = parts.iter().find(|part| !layout.has(part)) {
        return Err(no_part(missing));
    }
    let picked = excerpt(layout, parts);
    let (outcome, ids) = joined(layout, &picked);
    let outcome = moved(&outcome, &ids, by);
    let name = named("Copy ", parts, "");
    let edit = Edit::between(name, layout, &outcome).tried_on(layout)?;
    Ok((edit, ids))
}

/// Repeats parts in a row: `count` in all, each `step` from the one before, with the runs between them and the runs
/// without a pump that lead from them to other parts. Returns the edit and the ids of the copies.
///
/// # Errors
/// A missing part, a count under 2 or over [`MOST_COPIES`], or more parts than a layout can hold.
pub fn row(
    layout: &Layout,
    parts: &[Id],
    count: usize,
    step: Shift,
) -> Result<(Edit, Vec<Id>), EditError> {
    if let Some(missing) = parts.iter().find(|part| !layout.has(part)) {
        return Err(no_part(missing));
    }
    if !(2..=MOST_COPIES).contains(&count) {
        let cure = format!("type a total number from 2 to {MOST_COPIES}");
        return Err(EditError::new(
            format!("a row of {count} is not possible"),
            cure,
        ));
    }
    let mut picked = excerpt(layout, parts);
    picked.runs.extend(leading_out(layout, parts, &picked));
    let mut outcome = layout.clone();
    let mut all = Vec::new();
    for turn in 1..count {
        let (next, ids) = joined(&outcome, &picked);
        // At most MOST_COPIES: the cast loses nothing.
        let far = turn as f64;
        let by = Shift {
            x_m: step.x_m * far,
            y_m: step.y_m * far,
            along_m: step.along_m * far,
            up_m: step.up_m * far,
        };
        let ends: Vec<Id> = ids
            .iter()
            .filter(|id| next.run(id).is_none())
            .cloned()
            .collect();
        outcome = moved(&next, &ends, by);
        all.extend(ids);
    }
    let name = named("Repeat ", parts, &format!(" in a row of {count}"));
    let edit = Edit::between(name, layout, &outcome).tried_on(layout)?;
    Ok((edit, all))
}

/// Adds all parts of another layout under new ids and names, moved by `by`. Returns the edit and the new ids.
///
/// # Errors
/// An empty layout, or more parts than a layout can hold.
pub fn paste(layout: &Layout, picked: &Layout, by: Shift) -> Result<(Edit, Vec<Id>), EditError> {
    let (outcome, ids) = joined(layout, picked);
    if ids.is_empty() {
        let what = "there are no parts to paste";
        return Err(EditError::new(what, "copy some parts of a layout first"));
    }
    let outcome = moved(&outcome, &ids, by);
    let words = match ids.len() {
        1 => "Paste 1 part".to_owned(),
        more => format!("Paste {more} parts"),
    };
    let name = Sentence(vec![words.into()]);
    let edit = Edit::between(name, layout, &outcome).tried_on(layout)?;
    Ok((edit, ids))
}

/// The named parts with the runs between them, as a layout of their own.
///
/// A named run is included only with both of its ends.
pub fn excerpt(layout: &Layout, parts: &[Id]) -> Layout {
    let wanted = |id: &Id| parts.contains(id);
    let mut picked = Layout {
        title: layout.title.clone(),
        units: layout.units,
        vessels: layout
            .vessels
            .iter()
            .filter(|part| wanted(&part.id))
            .cloned()
            .collect(),
        joints: layout
            .joints
            .iter()
            .filter(|part| wanted(&part.id))
            .cloned()
            .collect(),
        fixed: layout
            .fixed
            .iter()
            .filter(|part| wanted(&part.id))
            .cloned()
            .collect(),
        ..Layout::default()
    };
    let inside = |run: &&Run| picked.has(&run.from.at) && picked.has(&run.to.at);
    let runs: Vec<Run> = layout.runs.iter().filter(inside).cloned().collect();
    picked.runs = runs;
    let known: Vec<Id> = picked.vessels.iter().map(|part| part.id.clone()).collect();
    let fixed: Vec<Id> = picked.fixed.iter().map(|part| part.id.clone()).collect();
    for vessel in &mut picked.vessels {
        vessel.spills_to = vessel
            .spills_to
            .take()
            .filter(|id| known.contains(id) || fixed.contains(id));
    }
    // A float switch whose vessel is not copied would hang in another one, so it is not copied either.
    for pump in picked.runs.iter_mut().filter_map(|run| run.pump.as_mut()) {
        let stays = |float: &FloatSwitch| float.at.as_ref().is_none_or(|id| known.contains(id));
        pump.float = pump.float.take().filter(stays);
    }
    picked
}

/// Runs without a pump that connect the picked parts to others.
fn leading_out(layout: &Layout, parts: &[Id], picked: &Layout) -> Vec<Run> {
    let leads = |run: &&Run| {
        let ends = [&run.from.at, &run.to.at];
        ends.iter().any(|end| parts.contains(end))
            && run.pump.is_none()
            && picked.run(&run.id).is_none()
    };
    layout.runs.iter().filter(leads).cloned().collect()
}

/// The layout with copies of all parts of `picked`, and their ids.
fn joined(layout: &Layout, picked: &Layout) -> (Layout, Vec<Id>) {
    let mut outcome = layout.clone();
    let mut ids: HashMap<Id, Id> = HashMap::new();
    let mut order = Vec::new();
    let mut take = |outcome: &Layout, old: &Id, name: &str| {
        let name = other_name(outcome, name);
        let stem = stem_of(&name);
        let id = fresh_id(outcome, if stem.is_empty() { old.as_str() } else { &stem });
        ids.insert(old.clone(), id.clone());
        order.push(id.clone());
        (id, name)
    };
    for part in &picked.vessels {
        let mut part = part.clone();
        (part.id, part.name) = take(&outcome, &part.id, &part.name);
        outcome.vessels.push(part);
    }
    for part in &picked.joints {
        let mut part = part.clone();
        (part.id, part.name) = take(&outcome, &part.id, &part.name);
        outcome.joints.push(part);
    }
    for part in &picked.fixed {
        let mut part = part.clone();
        (part.id, part.name) = take(&outcome, &part.id, &part.name);
        outcome.fixed.push(part);
    }
    let first = outcome.runs.len();
    for part in &picked.runs {
        let mut part = part.clone();
        let pump = part.pump.take();
        (part.id, part.name) = take(&outcome, &part.id, &part.name);
        outcome.runs.push(part);
        // The pump gets its id after the run is added, so that it cannot take the id of that run.
        let pump = pump.map(|mut pump| {
            pump.id = fresh_id(&outcome, pump.id.as_str());
            pump.name = other_name(&outcome, &pump.name);
            pump
        });
        if let Some(run) = outcome.runs.last_mut() {
            run.pump = pump;
        }
    }
    named_anew(&mut outcome, first, &ids);
    (outcome, order)
}

/// Makes references among the copies point to the copies.
fn named_anew(outcome: &mut Layout, first_run: usize, ids: &HashMap<Id, Id>) {
    let renew = |id: &mut Id| {
        if let Some(new) = ids.get(id) {
            id.clone_from(new);
        }
    };
    for run in outcome.runs.iter_mut().skip(first_run) {
        renew(&mut run.from.at);
        renew(&mut run.to.at);
        if let Some(at) = run
            .pump
            .as_mut()
            .and_then(|pump| pump.float.as_mut()?.at.as_mut())
        {
            renew(at);
        }
    }
    let copies: Vec<&Id> = ids.values().collect();
    for vessel in outcome
        .vessels
        .iter_mut()
        .filter(|part| copies.contains(&&part.id))
    {
        vessel.spills_to.iter_mut().for_each(renew);
    }
}

/// The name if it is free, else with the next free number.
fn other_name(layout: &Layout, name: &str) -> String {
    let name = name.trim();
    let is_free = |name: &str| !super::fresh::is_named(layout, name);
    if name.is_empty() || is_free(name) {
        return name.to_owned();
    }
    super::fresh::next_name(layout, name)
}

fn named(before: &str, parts: &[Id], after: &str) -> Sentence {
    let what: Piece = match parts {
        [one] => one.into(),
        many => format!("{} parts", many.len()).into(),
    };
    Sentence(vec![before.into(), what, after.into()])
}
