//! What the mouths of a run lead to: air, a closed pipe, or a pump.

use super::Ground;
use super::pipe::Bore;
use crate::geometry::route_shares;
use crate::hydraulics::deep::CLOSED_BORES;
use crate::hydraulics::inlet::Leads;
use crate::layout::{Direction, Opening, Pipe, Run, RunEnd};

/// What an end of a run leads to.
pub(super) fn leads(
    ground: &Ground<'_>,
    (run, which): (&Run, RunEnd),
    opening: &Opening,
    bore: &Bore,
) -> Leads {
    if run.pipe == Pipe::Open {
        return Leads::ToAir;
    }
    let draws = run.pump.as_ref().map(|pump| match pump.pushes {
        Direction::Forward => RunEnd::From,
        Direction::Backward => RunEnd::To,
    });
    if draws == Some(which) {
        return Leads::ToPump;
    }
    let hole = run.siphon_break.filter(|hole| hole.near == which);
    if hole.is_some_and(|hole| !ground.is_grown_over(hole.bore_m)) {
        return Leads::ToAir;
    }
    let (closed_m, bore_m) = match opening {
        // Up to its vent, or on over its crest.
        Opening::RaisedIntake {
            intake_m,
            crest_m,
            rise,
            ..
        } => (
            rise.length_m.unwrap_or((crest_m - intake_m).max(0.0)),
            rise.bore_m.unwrap_or(bore.new_m),
        ),
        _ => (
            closed_m(ground, run, which),
            opening.bore_m().unwrap_or(bore.new_m),
        ),
    };
    if closed_m >= CLOSED_BORES * bore_m {
        Leads::ToPipe
    } else {
        Leads::ToAir
    }
}

/// Length of the pipe from an end to its first vent, or to its other end, metres.
fn closed_m(ground: &Ground<'_>, run: &Run, which: RunEnd) -> f64 {
    let length_m = ground.layout.length_of(run);
    let mut corners = ground.layout.corners_of(run);
    if which == RunEnd::To {
        corners.reverse();
    }
    let shares = route_shares(&corners);
    let between = corners.iter().zip(shares).skip(1).take(run.route.len());
    let vent = between.into_iter().find(|(corner, _)| corner.vented);
    vent.map_or(length_m, |(_, share)| share * length_m)
}
