//! Keeps items along a run on it when the run gets shorter.

use super::{EditStep, Part};
use crate::layout::{Fault, Layout, Run};

/// Steps that move items left beyond the end of a run to its end. Items beyond the end are a fault of the result.
///
/// Only an item that was there before moves: a place given by the edit itself is refused, because it may be a
/// mistake.
pub(super) fn onto_runs(before: &Layout, outcome: &Layout, faults: &[Fault]) -> Vec<EditStep> {
    let misplaced = |run: &Run| {
        let of_it = |fault: &&Fault| fault.part.as_ref() == Some(&run.id);
        let mut of_it = faults.iter().filter(of_it);
        of_it.any(|fault| fault.field.ends_with(".at_m"))
    };
    let runs = outcome.runs.iter().enumerate();
    let shortened = runs.filter(|(_, run)| misplaced(run));
    shortened
        .filter_map(|(place, run)| {
            let after = onto(before.run(&run.id), outcome, run)?;
            Some(EditStep::Part {
                place,
                before: Some(run.clone().into()),
                after: Some(Part::from(after)),
            })
        })
        .collect()
}

/// The run without items beyond its end that its earlier version had there; none where there are none.
fn onto(before: Option<&Run>, outcome: &Layout, run: &Run) -> Option<Run> {
    let length_m = outcome.length_of(run);
    let stood = |at_m: f64| before.is_none_or(|run| run.places().any(|(at, _)| at == Some(at_m)));
    let mut fitted = run.clone();
    let mut changed = None;
    for place in fitted.places_mut() {
        let beyond = place.at_m.as_mut().filter(|at_m| **at_m > length_m);
        if let Some(at_m) = beyond.filter(|at_m| stood(**at_m)) {
            *at_m = length_m;
            changed = Some(());
        }
    }
    changed.map(|()| fitted)
}
