//! What a pump does whose curve is a guess: its duty at both edges of the band.

use crate::catalogue::Catalogue;
use crate::edit;
use crate::evaluate;
use crate::layout::{CurveForm, Id, Layout};

/// Where a pump works.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Duty {
    /// Flow the way it pushes, m³/s.
    pub flow_m3_s: f64,
    /// Head it adds, m.
    pub head_m: f64,
}

/// The duty at the edges of a guessed curve, the rest of the layout as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess {
    /// By the edge with the least head; none where the pump then does not run, or nothing could be solved.
    pub low: Option<Duty>,
    /// By the edge with the most head.
    pub high: Option<Duty>,
}

/// The duty of a pump at both edges of its guessed curve, by the direct jump of [`evaluate::preview`]; other pumps
/// stay on the middle of theirs. Takes two previews.
///
/// None where there is no such pump, its curve is no guess, or `go_on` says no.
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
