//! Vessels and joints moved up or down, with all that is fixed to them.

use crate::layout::{Direction, Id, Layout, Opening, Run, RunEnd, Vent, Vessel};
use std::collections::HashMap;

/// How far each part moves up, metres; what is not in it stays.
pub(super) type Moved = HashMap<Id, f64>;

/// Moves what is fixed to the vessels and joints of `moved`: not their own floors, rims and centres.
///
/// With a vessel go its filled level, the top of its medium, its float valve, its openings, the siphon
/// breaks beside them, the float switches that hang in it and the inlet of the pump that draws from it.
/// The corners of a run follow its two ends in proportion, so that a run whose ends move alike moves whole.
pub(super) fn carry_along(layout: &mut Layout, moved: &Moved) {
    let mut moved = moved.clone();
    for part in &layout.fixed {
        // A pipe is not fixed to the water of a lake.
        moved.remove(&part.id);
    }
    let by = |id: &Id| moved.get(id).copied().unwrap_or(0.0);
    for vessel in &mut layout.vessels {
        let by_m = by(&vessel.id);
        contents(vessel, by_m);
    }
    for run in &mut layout.runs {
        let (from_m, to_m) = (by(&run.from.at), by(&run.to.at));
        end(run, RunEnd::From, from_m);
        end(run, RunEnd::To, to_m);
        corners(run, from_m, to_m);
        pump(run, &moved);
    }
}

fn contents(vessel: &mut Vessel, by_m: f64) {
    vessel.fill_m += by_m;
    if let Some(medium) = &mut vessel.medium {
        medium.top_m += by_m;
    }
    if let Some(valve) = &mut vessel.float_valve {
        valve.shut_m += by_m;
        valve.open_m += by_m;
    }
}

fn end(run: &mut Run, which: RunEnd, by_m: f64) {
    let end = match which {
        RunEnd::From => &mut run.from,
        RunEnd::To => &mut run.to,
    };
    if let Some(given) = &mut end.opening {
        opening(given, by_m);
    }
    if let Some(hole) = run.siphon_break.as_mut().filter(|hole| hole.near == which) {
        hole.height_m += by_m;
    }
}

/// Every height of an opening.
fn opening(opening: &mut Opening, by_m: f64) {
    match opening {
        Opening::Upstand { crest_m, .. } | Opening::Notch { crest_m, .. } => *crest_m += by_m,
        Opening::SideHole { invert_m, .. } => *invert_m += by_m,
        Opening::Mouth { lip_m, .. } => *lip_m += by_m,
        Opening::Floor { lip_m, .. } | Opening::Submerged { lip_m, .. } => {
            if let Some(lip_m) = lip_m {
                *lip_m += by_m;
            }
        }
        Opening::RaisedIntake {
            intake_m,
            crest_m,
            vent,
            ..
        } => {
            *intake_m += by_m;
            *crest_m += by_m;
            if let Vent::OpenTo { top_m } = vent {
                *top_m += by_m;
            }
        }
    }
}

/// Corner by corner from the one end to the other.
fn corners(run: &mut Run, from_m: f64, to_m: f64) {
    // A route has far fewer corners than would not fit in a float.
    #[allow(clippy::cast_precision_loss)]
    let steps = (run.route.len() + 1) as f64;
    let mut share = 0.0;
    for corner in &mut run.route {
        share += 1.0 / steps;
        corner.z_m += from_m + (to_m - from_m) * share;
    }
}

fn pump(run: &mut Run, moved: &Moved) {
    let Run { from, to, pump, .. } = run;
    let Some(pump) = pump else { return };
    let draws_from = match pump.pushes {
        Direction::Forward => &from.at,
        Direction::Backward => &to.at,
    };
    let by = |id: &Id| moved.get(id).copied().unwrap_or(0.0);
    if let Some(suction) = &mut pump.suction {
        suction.elevation_m += by(draws_from);
    }
    if let Some(switch) = &mut pump.float {
        let by_m = by(switch.at.as_ref().unwrap_or(draws_from));
        switch.on_m += by_m;
        switch.off_m += by_m;
    }
}
