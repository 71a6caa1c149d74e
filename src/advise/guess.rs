//! Duty points of a pump whose curve is a guess, at both edges of the guess.

use crate::catalogue::Catalogue;
use crate::edit;
use crate::evaluate;
use crate::layout::{CurveForm, Id, Layout};

/// Duty point of a pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty {
    /// Flow in the direction in which it pushes, m³/s.
    pub flow_m3_s: f64,
    /// Head it adds, m.
    pub head_m: f64,
}

/// Duty points at the edges of a guessed curve, with the rest of the layout unchanged.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// At the edge with the least head; none where the pump then does not run, or nothing could be solved.
    pub low: Option<Duty>,
    /// At the edge with the most head; none as for the other edge.
    pub high: Option<Duty>,
}

/// Returns the duty points of a pump at both edges of its guessed curve, by the steady-state solve of
/// [`evaluate::preview`]; other pumps stay on the middle of theirs. Takes two previews.
///
/// None where there is no such pump, its curve is not a guess, or `go_on` returns false.
pub fn guess(
    layout: &Layout,
    catalogue: &Catalogue,
    pump: &Id,
    go_on: &dyn Fn() -> bool,
) -> Option<Guess> {
    let mut pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
    let found = pumps.find(|one| one.id == *pump)?;
    let [low, high] = evaluate::edges_of_guess(&found.curve)?;
    let low = duty(layout, catalogue, (pump, low));
    if !go_on() {
        return None;
    }
    let high = duty(layout, catalogue, (pump, high));
    Some(Guess { low, high })
}

fn duty(layout: &Layout, catalogue: &Catalogue, (pump, curve): (&Id, CurveForm)) -> Option<Duty> {
    let edit = edit::pump_curve(layout, pump, curve).ok()?;
    let other = edit.apply(layout).ok()?;
    let report = evaluate::preview(&other, catalogue)?;
    let mut pumps = report.pumps.iter();
    let found = pumps.find(|one| one.id == *pump && one.on)?;
    Some(Duty {
        flow_m3_s: found.flow_m3_s,
        head_m: found.head_m,
    })
}
