//! Problems of openings that need no computed level.

use super::LoweringContext;
use super::SAME_HEIGHT_M;
use super::nodes::Part;
use super::problem::{OpeningHeight, Problem};
use crate::layout::{Direction, Opening, Pipe, Run, RunEnd, Vent, Vessel};

/// An opening in its vessel.
struct OpeningInVessel<'a> {
    run: &'a Run,
    vessel: &'a Vessel,
    opening: &'a Opening,
    end: RunEnd,
    /// Water leaves the run here, according to the drawing and the pump.
    lets_out: bool,
}

/// Problems of the openings of a run at its two ends.
pub(super) fn openings(context: &LoweringContext<'_>, run: &Run, out: &mut Vec<Problem>) {
    let pushes = run
        .pump
        .as_ref()
        .map(|pump| pump.pushes)
        .unwrap_or_default();
    let ends = [
        (RunEnd::From, Direction::Backward),
        (RunEnd::To, Direction::Forward),
    ];
    for (which, outward) in ends {
        let Some((opening, set_at)) = set_at(run, which) else {
            continue;
        };
        let end = run.end(which);
        if let Opening::RaisedIntake {
            vent: Vent::Shut, ..
        } = opening
        {
            out.push(Problem::UnventedOverflow {
                run: run.id.clone(),
                at: end.at.clone(),
            });
        }
        if let Some(Part::Vessel(vessel)) = context.place(&end.at).map(|place| place.part) {
            let set = OpeningInVessel {
                run,
                vessel,
                opening,
                end: set_at,
                lets_out: pushes == outward,
            };
            out.extend(above_rim(&set));
            out.extend(below_floor(&set));
        }
    }
}

/// The opening of an end, and the end that it is set at: without a pipe one may stand for both.
fn set_at(run: &Run, which: RunEnd) -> Option<(&Opening, RunEnd)> {
    let other = Some(which.other()).filter(|_| run.pipe == Pipe::Open);
    let ends = [Some(which), other];
    let mut found = ends.into_iter().flatten().filter_map(|end| {
        let opening = run.end(end).opening.as_ref();
        opening.map(|opening| (opening, end))
    });
    found.next()
}

/// A return may pour in from above the rim; an opening that takes water in cannot stand there.
fn above_rim(set: &OpeningInVessel<'_>) -> Option<Problem> {
    let pours_in = set.lets_out
        && matches!(
            set.opening,
            Opening::Upstand { .. } | Opening::Mouth { .. } | Opening::Notch { .. }
        );
    let crest_m = set.opening.crest_m()?;
    if pours_in || crest_m <= set.vessel.rim_m + SAME_HEIGHT_M {
        return None;
    }
    Some(Problem::CrestAboveRim {
        opening: height_of(set, crest_m),
        rim_m: set.vessel.rim_m,
    })
}

fn height_of(set: &OpeningInVessel<'_>, height_m: f64) -> OpeningHeight {
    OpeningHeight {
        run: set.run.id.clone(),
        end: set.end,
        vessel: set.vessel.id.clone(),
        height_m,
    }
}

fn below_floor(set: &OpeningInVessel<'_>) -> Option<Problem> {
    let lowest_m = match set.opening {
        Opening::RaisedIntake {
            intake_m, crest_m, ..
        } => intake_m.min(*crest_m),
        other => other.crest_m()?,
    };
    if lowest_m >= set.vessel.floor_m - SAME_HEIGHT_M {
        return None;
    }
    Some(Problem::OpeningBelowFloor {
        opening: height_of(set, lowest_m),
        floor_m: set.vessel.floor_m,
    })
}
