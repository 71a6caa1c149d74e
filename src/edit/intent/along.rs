//! Where things sit along a run, and whether the run is filled by hand.

use super::replace::replace;
use super::within::RemovedItem;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::layout::{Id, Layout, PlacedMut, Run, RunEnd};
use crate::units::Quantity;

/// Where a fitting, a valve or a piece of equipment sits along its run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Along {
    /// Not given.
    NotGiven,
    /// At an end of the run.
    Near(RunEnd),
    /// This far from the start of the run, metres.
    At(f64),
}

impl Along {
    /// Where something sits, by its two fields in the file.
    pub fn of(at_m: Option<f64>, near: Option<RunEnd>) -> Along {
        match (at_m, near) {
            (Some(at_m), _) => Along::At(at_m),
            (None, Some(end)) => Along::Near(end),
            (None, None) => Along::NotGiven,
        }
    }
}

/// Gives a fitting, a valve or a piece of equipment another place along its run.
///
/// # Errors
/// No such run, nothing there that has a place, a run without a pipe, or a distance beyond the run.
pub fn place_along(
    layout: &Layout,
    run: &Id,
    item: RemovedItem,
    to: Along,
) -> Result<Edit, EditError> {
    let mut after = layout.run(run).cloned().ok_or_else(|| no_part(run))?;
    let place = slot(&mut after, item).ok_or_else(|| {
        let what = "there is no such piece in the run";
        EditError::new(what, "choose one that is there").part(run)
    })?;
    (*place.at_m, *place.near) = match to {
        Along::NotGiven => (None, None),
        Along::Near(end) => (None, Some(end)),
        Along::At(at_m) => (Some(at_m), None),
    };
    let end = |end: RunEnd| Piece::Part(after.end(end).at.clone());
    let thing = item.words();
    let mut name: Vec<Piece> = match to {
        Along::NotGiven => vec![format!("Leave out the place of the {thing} in ").into()],
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

/// Whether somebody fills a run before it is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Priming {
    /// Filled by hand.
    ByHand,
    /// Left to itself.
    Itself,
}

/// Says whether a run is filled by hand before use.
///
/// # Errors
/// No such run.
pub fn priming(layout: &Layout, run: &Id, to: Priming) -> Result<Edit, EditError> {
    let mut after = layout.run(run).cloned().ok_or_else(|| no_part(run))?;
    after.starts_primed = to == Priming::ByHand;
    let (verb, rest) = match to {
        Priming::ByHand => ("Fill ", " by hand before use"),
        Priming::Itself => ("Leave ", " to fill by itself"),
    };
    let name = vec![verb.into(), run.into(), rest.into()];
    replace(layout, after, Sentence(name))
}
