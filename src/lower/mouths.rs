//! What the mouths of a run lead to: air, a closed pipe, or a pump.

use super::LoweringContext;
use super::pipe::Bore;
use crate::geometry::route_shares;
use crate::hydraulics::openings::submergence::CLOSED_BORES;
use crate::hydraulics::openings::submergence::MouthLeadsTo;
use crate::layout::{Direction, Opening, Pipe, Run, RunEnd};

/// What an end of a run leads to.
pub(super) fn leads(
    context: &LoweringContext<'_>,
    (run, which): (&Run, RunEnd),
    opening: &Opening,
    bore: &Bore,
) -> MouthLeadsTo {
    if run.pipe == Pipe::Open {
        return MouthLeadsTo::ToAir;
    }
    let draws = run.pump.as_ref().map(|pump| match pump.pushes {
        Direction::Forward => RunEnd::From,
        Direction::Backward => RunEnd::To,
    });
    if draws == Some(which) {
        return MouthLeadsTo::ToPump;
    }
    let hole = run.siphon_break.filter(|hole| hole.near == which);
    if hole.is_some_and(|hole| !context.is_grown_over(hole.bore_m)) {
        return MouthLeadsTo::ToAir;
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
            closed_m(context, run, which),
            opening.bore_m().unwrap_or(bore.new_m),
        ),
    };
    if closed_m >= CLOSED_BORES * bore_m {
        MouthLeadsTo::ToPipe
    } else {
        MouthLeadsTo::ToAir
    }
}

/// Length of the pipe from an end to its first vent, or to its other end, metres.
fn closed_m(context: &LoweringContext<'_>, run: &Run, which: RunEnd) -> f64 {
    let length_m = context.layout.length_of(run);
    let mut corners = context.layout.corners_of(run);
    if which == RunEnd::To {
        corners.reverse();
    }
    let shares = route_shares(&corners);
    let between = corners.iter().zip(shares).skip(1).take(run.route.len());
    let vent = between.into_iter().find(|(corner, _)| corner.vented);
    vent.map_or(length_m, |(_, share)| share * length_m)
}
