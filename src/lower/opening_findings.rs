//! Findings on openings that need no computed level.

use super::LoweringContext;
use super::SAME_HEIGHT_M;
use super::findings::{advice, finding};
use super::nodes::Part;
use crate::finding::{Change, Code, Cure, Finding, Piece, Sentence, Severity};
use crate::layout::{Direction, Id, Opening, Pipe, Run, RunEnd, Vent, Vessel};
use crate::layout::{EndField, NumberField};
use crate::units::Quantity;

/// An opening in its vessel.
struct OpeningInVessel<'a> {
    run: &'a Run,
    vessel: &'a Vessel,
    opening: &'a Opening,
    /// `from` or `to`.
    end: RunEnd,
    /// Water leaves the run here, according to the drawing and the pump.
    lets_out: bool,
}

/// Findings on the openings of a run at its two ends.
pub(super) fn openings(context: &LoweringContext<'_>, run: &Run, out: &mut Vec<Finding>) {
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
            out.push(may_siphon(&run.id, &end.at));
        }
        if let Some(Part::Vessel(vessel)) = context.place(&end.at).map(|place| place.part) {
            let set = OpeningInVessel {
                run,
                vessel,
                opening,
                end: set_at,
                lets_out: pushes == outward,
            };
            out.extend(above_rim(context, &set));
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
fn above_rim(context: &LoweringContext<'_>, set: &OpeningInVessel<'_>) -> Option<Finding> {
    let pours_in = set.lets_out
        && matches!(
            set.opening,
            Opening::Upstand { .. } | Opening::Mouth { .. } | Opening::Notch { .. }
        );
    let crest_m = set.opening.crest_m()?;
    if pours_in || crest_m <= set.vessel.rim_m + SAME_HEIGHT_M {
        return None;
    }
    let text = vec![
        "The opening of ".into(),
        (&set.run.id).into(),
        " in ".into(),
        (&set.vessel.id).into(),
        " is at ".into(),
        Piece::Number(Quantity::Height, crest_m),
        ", above the rim at ".into(),
        Piece::Number(Quantity::Height, set.vessel.rim_m),
        ": the vessel spills before the run takes any water.".into(),
    ];
    let mut found = of_heights(set, (Code::CrestAboveRim, Severity::Problem), text);
    found.measured = Some(crest_m);
    found.limit = Some(set.vessel.rim_m);
    found.cures.extend(lower_it(context, set, crest_m));
    Some(found)
}

fn of_heights(set: &OpeningInVessel<'_>, kind: (Code, Severity), text: Vec<Piece>) -> Finding {
    let mut found = finding(kind, &[&set.vessel.id, &set.run.id], text);
    found.quantity = Quantity::Height;
    found
}

/// Lowered to the freeboard below the rim, where that is still above the floor.
fn lower_it(
    context: &LoweringContext<'_>,
    set: &OpeningInVessel<'_>,
    crest_m: f64,
) -> Option<Cure> {
    let to = set.vessel.rim_m - context.layout.limits.freeboard_m;
    let lowest_m = match set.opening {
        Opening::RaisedIntake { intake_m, .. } => intake_m.max(set.vessel.floor_m),
        _ => set.vessel.floor_m,
    };
    if to <= lowest_m {
        return None;
    }
    Some(Cure {
        text: Sentence(vec![
            "Lower it to ".into(),
            Piece::Number(Quantity::Height, to),
            " or less: the water stands above it when it flows.".into(),
        ]),
        changes: vec![Change {
            part: set.run.id.clone(),
            field: NumberField::End(set.end, EndField::crest_of(set.opening)),
            from: crest_m,
            to,
            quantity: Quantity::Height,
        }],
    })
}

fn below_floor(set: &OpeningInVessel<'_>) -> Option<Finding> {
    let lowest_m = match set.opening {
        Opening::RaisedIntake {
            intake_m, crest_m, ..
        } => intake_m.min(*crest_m),
        other => other.crest_m()?,
    };
    if lowest_m >= set.vessel.floor_m - SAME_HEIGHT_M {
        return None;
    }
    let text = vec![
        "The opening of ".into(),
        (&set.run.id).into(),
        " in ".into(),
        (&set.vessel.id).into(),
        " is at ".into(),
        Piece::Number(Quantity::Height, lowest_m),
        ", below the floor at ".into(),
        Piece::Number(Quantity::Height, set.vessel.floor_m),
        ".".into(),
    ];
    let mut found = of_heights(set, (Code::OpeningBelowFloor, Severity::Warning), text);
    found.measured = Some(lowest_m);
    found.limit = Some(set.vessel.floor_m);
    let cure = "Check the height of the opening against the floor: both count from the datum.";
    found.cures.push(advice(vec![cure.into()]));
    Some(found)
}

fn may_siphon(run: &Id, at: &Id) -> Finding {
    let text = vec![
        "The overflow of ".into(),
        run.into(),
        " in ".into(),
        at.into(),
        " has no open vent: once it runs full it may prime as a siphon and draw the water down to its intake. "
            .into(),
        "The levels are those with air in it; those once it has primed stand beside them.".into(),
    ];
    let mut found = finding((Code::MaySiphon, Severity::Warning), &[run, at], text);
    let cure = "Open the top of the crest to the air.";
    found.cures.push(advice(vec![cure.into()]));
    found
}

/// A raised intake at each end of one run.
pub(super) fn two_raised(run: &Id, second: &Id) -> Finding {
    let text = vec![
        run.into(),
        " is a raised-intake overflow at both ends; the one at ".into(),
        second.into(),
        " is computed as a plain upstand at its crest.".into(),
    ];
    let mut found = finding((Code::MaySiphon, Severity::Warning), &[run, second], text);
    let cure = "Give one end a plain opening, or put a joint between the two crests.";
    found.cures.push(advice(vec![cure.into()]));
    found
}
