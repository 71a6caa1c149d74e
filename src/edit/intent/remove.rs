//! Deletes parts, with the runs that end there.

use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::layout::{FloatSwitch, Id, Layout, Run};
use std::collections::HashSet;

/// Deletes parts: vessels, joints, fixed levels, runs, and pumps from their runs.
///
/// Runs that end at a deleted vessel, joint or fixed level are deleted too. References to deleted parts (where water
/// spills to, a float switch, an operating mode) are removed.
///
/// # Errors
/// A missing part.
pub fn remove(layout: &Layout, parts: &[Id]) -> Result<Edit, EditError> {
    if let Some(missing) = parts.iter().find(|part| !layout.has(part)) {
        return Err(no_part(missing));
    }
    let mut gone: HashSet<&Id> = parts.iter().collect();
    let ends_there = |run: &&Run| gone.contains(&run.from.at) || gone.contains(&run.to.at);
    let runs: Vec<&Id> = layout
        .runs
        .iter()
        .filter(ends_there)
        .map(|run| &run.id)
        .collect();
    let with: usize = runs.iter().filter(|run| !gone.contains(**run)).count();
    gone.extend(runs);
    let outcome = without(layout, &gone);
    Edit::between(Sentence(words(layout, parts, with)), layout, &outcome).tried_on(layout)
}

fn without(layout: &Layout, gone: &HashSet<&Id>) -> Layout {
    let mut outcome = layout.clone();
    outcome.vessels.retain(|part| !gone.contains(&part.id));
    outcome.joints.retain(|part| !gone.contains(&part.id));
    outcome.fixed.retain(|part| !gone.contains(&part.id));
    outcome.runs.retain(|part| !gone.contains(&part.id));
    for vessel in &mut outcome.vessels {
        vessel.spills_to = vessel.spills_to.take().filter(|id| !gone.contains(id));
    }
    for run in &mut outcome.runs {
        run.pump = run.pump.take().filter(|pump| !gone.contains(&pump.id));
        // A float switch is removed with the vessel that it hangs in.
        if let Some(pump) = &mut run.pump {
            let hangs = |float: &FloatSwitch| float.at.as_ref().is_none_or(|id| !gone.contains(id));
            pump.float = pump.float.take().filter(hangs);
        }
    }
    let pumped = |id: &Id| {
        outcome
            .runs
            .iter()
            .any(|run| run.id == *id && run.pump.is_some())
    };
    outcome.ways.retain(|way| !gone.contains(&way.id));
    for way in &mut outcome.ways {
        way.valves.retain(|set| !gone.contains(&set.run));
        way.out.retain(|out| !gone.contains(&out.run));
        way.pumps_off.retain(|run| pumped(run));
    }
    outcome
}

/// The parts are named as text, because they are gone when the name is read.
fn words(layout: &Layout, parts: &[Id], with: usize) -> Vec<Piece> {
    let what = match parts {
        [one] => layout.name_of(one).to_owned(),
        many => format!("{} parts", many.len()),
    };
    let with = match with {
        0 => String::new(),
        1 => " with 1 run".to_owned(),
        more => format!(" with {more} runs"),
    };
    vec![format!("Delete {what}{with}").into()]
}
