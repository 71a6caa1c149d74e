//! The opening of a valve.

use super::number::named_number;
use crate::edit::{Edit, EditError};
use crate::finding::Piece;
use crate::layout::{Id, Layout, RunField};
use crate::units::Quantity;

/// Sets the opening of a valve: `index` counts the valves of the run from 0, `opening` is 0 shut to 1 fully open.
///
/// # Errors
/// A missing run or valve, or an opening below 0 or above 1.
pub fn valve(layout: &Layout, run: &Id, index: usize, opening: f64) -> Result<Edit, EditError> {
    let valves = layout.run(run).map_or(0, |run| run.valves.len());
    if index >= valves {
        let what = "the run has no such valve";
        return Err(EditError::new(what, "choose an existing valve").part(run));
    }
    let which = match valves {
        1 => "the valve of ".to_owned(),
        _ => format!("valve {} of ", index + 1),
    };
    let (before, after) = words(opening);
    let mut name: Vec<Piece> = vec![format!("{before}{which}").into(), run.into()];
    name.extend(after);
    let field = RunField::ValveOpening(index).into();
    named_number(layout, run, field, opening, name)
}

/// The words before and after the valve in the name.
fn words(opening: f64) -> (&'static str, Vec<Piece>) {
    if opening == 0.0 {
        ("Shut ", Vec::new())
    } else if opening == 1.0 {
        ("Open ", vec![" fully".into()])
    } else {
        let share = Piece::Number(Quantity::Ratio, opening);
        ("Set ", vec![" to ".into(), share, " of fully open".into()])
    }
}
