//! Places along a run, and priming by hand.

use super::replace::replace;
use super::within::RemovedItem;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::layout::{Id, Layout, PlacedMut, Run, RunEnd};
use crate::units::Quantity;

/// The place of a fitting, a valve or equipment along its run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Along {
    /// Not given.
    NotGiven,
    /// At an end of the run.
    Near(RunEnd),
    /// Distance from the start of the run, metres.
    At(f64),
}

impl Along {
    /// The place, from its two fields in the file.
    pub fn of(at_m: Option<f64>, near: Option<RunEnd>) -> Along {
        match (at_m, near) {
            (Some(at_m), _) => Along::At(at_m),
            (None, Some(end)) => Along::Near(end),
            (None, None) => Along::NotGiven,
        }
    }
}

/// Places a fitting, a valve or equipment along its run.
///
/// # Errors
/// A missing run or item, a run without a pipe, or a distance beyond the run.
pub fn place_along(
    layout: &Layout,
    run: &Id,
    item: RemovedItem,
    to: Along,
) -> Result<Edit, EditError> {
    let mut after = layout.run(run).cloned().ok_or_else(|| no_part(run))?;
    let place = slot(&mut after, item).ok_or_else(|| {
        let what = "the run has no such item";
        EditError::new(what, "choose an existing item").part(run)
    })?;
    (*place.at_m, *place.near) = match to {
        Along::NotGiven => (None, None),
        Along::Near(end) => (None, Some(end)),
        Along::At(at_m) => (Some(at_m), None),
    };
    let end = |end: RunEnd| Piece::Part(after.end(end).at.clone());
    let thing = item.words();
    let mut name: Vec<Piece> = match to {
        Along::NotGiven => vec![format!("Clear the place of the {thing} in ").into()],
        _ => vec![format!("Place the {thing} in ").into()],
    };
    name.push(run.into());
    match to {
        Along::NotGiven => {}
        Along::Near(which) => name.extend([" near ".into(), end(which)]),
        Along::At(at_m) => name.extend([
            " ".into(),
            Piece::Number(Quantity::Length, at_m),
            " from ".into(),
            end(RunEnd::From),
        ]),
    }
    replace(layout, after, Sentence(name))
}

fn slot(run: &mut Run, item: RemovedItem) -> Option<PlacedMut<'_>> {
    let before_valves = run.fittings.len();
    let before_equipment = before_valves + run.valves.len();
    let index = match item {
        RemovedItem::Fitting(index) if index < run.fittings.len() => index,
        RemovedItem::Valve(index) if index < run.valves.len() => before_valves + index,
        RemovedItem::Equipment(index) if index < run.equipment.len() => before_equipment + index,
        _ => return None,
    };
    run.places_mut().nth(index)
}

/// Whether a run is filled by hand before use.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Priming {
    /// Filled by hand.
    ByHand,
    /// Not filled by hand.
    Itself,
}

/// Sets whether a run is filled by hand before use.
///
/// # Errors
/// A missing run.
pub fn priming(layout: &Layout, run: &Id, to: Priming) -> Result<Edit, EditError> {
    let mut after = layout.run(run).cloned().ok_or_else(|| no_part(run))?;
    after.starts_primed = to == Priming::ByHand;
    let (verb, rest) = match to {
        Priming::ByHand => ("Fill ", " by hand before use"),
        Priming::Itself => ("Let ", " fill by itself"),
    };
    let name = vec![verb.into(), run.into(), rest.into()];
    replace(layout, after, Sentence(name))
}
