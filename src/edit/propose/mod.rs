//! Proposes a run from one part to another: openings, route, fittings and pipe that such a run usually has.
//! Everything can be changed afterwards.
//!
//! Invariant: a proposal is an edit like any other, and one operation makes one proposal.

mod elbows;
mod ends;
mod manifold;
mod pipe;
mod reroute;
mod route;
mod shared;
mod tee;

pub use elbows::{Elbows, elbows};
pub use ends::FlowManner;
pub use manifold::manifold;
pub use reroute::{corner, place_end, reroute, unbend};
pub use tee::split;

use super::intent::fresh::{fresh_id, fresh_name};
use super::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::layout::{End, FittingUse, Id, Layout, Opening, Run, Turned, ValveUse};
use ends::EndPart;

/// A proposed run.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The edit that adds it.
    pub edit: Edit,
    /// The new run.
    pub run: Id,
    /// How water gets through it.
    pub manner: FlowManner,
}

/// A run from one vessel, joint or fixed level to another, through places in the plan.
///
/// Water falls where the first has the higher fill level, equalises where both are equal, and is pumped where the
/// second is higher. The openings follow from that and from the use of the vessels.
///
/// # Errors
/// A missing part, or a run from a part to itself.
pub fn run(layout: &Layout, from: &Id, to: &Id, via: &[(f64, f64)]) -> Result<Proposal, EditError> {
    let outcome = with_run(layout, from, to, via)?;
    let (after, run, manner) = outcome;
    let name = vec![
        format!("{} ", verb(manner)).into(),
        from.into(),
        " to ".into(),
        to.into(),
    ];
    let edit = Edit::between(Sentence(name), layout, &after).tried_on(layout)?;
    Ok(Proposal { edit, run, manner })
}

/// Start or end of a run being drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum PipeEnd {
    /// At a vessel, joint or fixed level.
    Part(Id),
    /// At a tee in a run, at the point of the run nearest to this place of the plan.
    On(Id, (f64, f64)),
}

/// A run between two ends, as [`run`]; an end on a run becomes a tee.
///
/// # Errors
/// As [`run`] and [`split`].
pub fn between(
    layout: &Layout,
    from: &PipeEnd,
    to: &PipeEnd,
    via: &[(f64, f64)],
) -> Result<Proposal, EditError> {
    if let (PipeEnd::Part(from), PipeEnd::Part(to)) = (from, to) {
        return run(layout, from, to, via);
    }
    let (after, from) = at(layout.clone(), from)?;
    let (after, to) = at(after, to)?;
    let (after, run, manner) = with_run(&after, &from, &to, via)?;
    let words = format!("{} ", verb(manner));
    let named = |id: &Id| after.name_of(id).to_owned();
    let words = format!("{words}{} to {}", named(&from), named(&to));
    let edit = Edit::between(Sentence(vec![words.into()]), layout, &after).tried_on(layout)?;
    Ok(Proposal { edit, run, manner })
}

fn at(layout: Layout, spot: &PipeEnd) -> Result<(Layout, Id), EditError> {
    match spot {
        PipeEnd::Part(id) => Ok((layout, id.clone())),
        PipeEnd::On(run, near) => tee::with_tee(&layout, run, *near),
    }
}

fn verb(manner: FlowManner) -> &'static str {
    match manner {
        FlowManner::Falls => "Add a drain from",
        FlowManner::Evens => "Add an equaliser from",
        FlowManner::Pumped => "Add a pumped run from",
    }
}

/// The layout with such a run, the run, and how water gets through it.
fn with_run(
    layout: &Layout,
    from: &Id,
    to: &Id,
    via: &[(f64, f64)],
) -> Result<(Layout, Id, FlowManner), EditError> {
    if from == to {
        let what = "a run must connect two parts";
        return Err(EditError::new(what, "end it at another vessel or joint").part(from));
    }
    let part = |id: &Id| EndPart::of(layout, id).ok_or_else(|| super::field::no_part(id));
    let (source, target) = (part(from)?, part(to)?);
    let manner = ends::manner(source, target);
    let new = proposed(layout, (source, target), via, manner);
    let mut after = layout.clone();
    let id = new.id.clone();
    after.runs.push(new);
    Ok((after, id, manner))
}

fn proposed(
    layout: &Layout,
    (from, to): (EndPart<'_>, EndPart<'_>),
    via: &[(f64, f64)],
    manner: FlowManner,
) -> Run {
    let mut pipe = pipe::pipe(layout, manner);
    let flow_m3_s = pipe::wanted_flow_m3_s(to);
    if manner == FlowManner::Pumped {
        pipe = pipe::wide_enough(pipe, flow_m3_s);
    }
    let bore_m = pipe::bore_m(&pipe);
    let [first, last] = ends_of(layout, (from, to), via, (manner, bore_m));
    let route = match manner {
        FlowManner::Falls if climbs(layout, &first, &last) => {
            route::lifted(layout, ([&first, &last], [from, to]), via)
        }
        FlowManner::Falls => route::falling(layout, [&first, &last], via),
        FlowManner::Evens => route::level(layout, [&first, &last], via),
        FlowManner::Pumped => route::lifted(layout, ([&first, &last], [from, to]), via),
    };
    let stem = match manner {
        FlowManner::Falls => "Drain",
        FlowManner::Evens => "Equaliser",
        FlowManner::Pumped => "Lift",
    };
    let name = fresh_name(layout, stem);
    let id = fresh_id(layout, &super::intent::fresh::stem_of(&name));
    let mut new = plain(id, name, (first, last), pipe);
    new.route = route;
    new.fittings = fittings(layout, &new);
    if manner == FlowManner::Pumped {
        let lift_m = layout.corner_at(&new.to).z_m - level_m(from);
        let id = fresh_id(layout, "pump");
        let name = fresh_name(layout, "Pump");
        new.pump = Some(pipe::pump(id, name, flow_m3_s, lift_m));
    }
    // A high vessel feeds a lower one through a valve, or it would run empty.
    let feeds =
        matches!(new.from.opening, Some(Opening::SideHole { .. })) && manner == FlowManner::Falls;
    if feeds || manner == FlowManner::Pumped {
        new.valves.push(ValveUse {
            kind: "ball".to_owned(),
            opening: 1.0,
            k: None,
            at_m: None,
            near: None,
        });
    }
    new
}

fn level_m(part: EndPart<'_>) -> f64 {
    match part {
        EndPart::Vessel(vessel) => vessel.fill_m,
        other => other.top_m(),
    }
}

/// Returns whether a run at a joint ends higher than it begins, since water may be pushed up from there.
fn climbs(layout: &Layout, first: &End, last: &End) -> bool {
    let joint = layout
        .joints
        .iter()
        .any(|joint| joint.id == first.at || joint.id == last.at);
    joint && layout.corner_at(last).z_m > layout.corner_at(first).z_m
}

/// Both ends, each towards the next corner of the run.
fn ends_of(
    layout: &Layout,
    (from, to): (EndPart<'_>, EndPart<'_>),
    via: &[(f64, f64)],
    (manner, bore_m): (FlowManner, f64),
) -> [End; 2] {
    let towards = via.first().copied().unwrap_or_else(|| to.place());
    let back = via.last().copied().unwrap_or_else(|| from.place());
    let (out, into) = match manner {
        FlowManner::Evens => {
            let [a, b] = ends::evens(from, to);
            (a, b)
        }
        FlowManner::Pumped => (ends::suction(from), ends::over_rim(to, bore_m)),
        FlowManner::Falls => {
            let out = ends::outlet(from);
            let first = ends::end(from, out.clone(), towards);
            (out, inlet(layout, (from, to), &first, bore_m))
        }
    };
    [ends::end(from, out, towards), ends::end(to, into, back)]
}

/// The inlet for falling water: above the rim where it comes from high enough, else through the wall.
fn inlet(
    layout: &Layout,
    (from, to): (EndPart<'_>, EndPart<'_>),
    first: &End,
    bore_m: f64,
) -> Option<Opening> {
    let EndPart::Vessel(vessel) = to else {
        return ends::over_rim(to, bore_m).filter(|_| matches!(to, EndPart::Fixed(_)));
    };
    let crest_m = layout.corner_at(first).z_m;
    let under_m = match (from, &first.opening) {
        (EndPart::Vessel(source), Some(Opening::Upstand { .. })) => {
            source.floor_m - route::UNDER_FLOOR_M
        }
        // From a joint, water may be pushed over any rim.
        (EndPart::Joint(_), _) => f64::INFINITY,
        _ => crest_m,
    };
    let (x, y) = from.place();
    let (u, v) = to.place();
    let fall_m = route::FALL * (x - u).hypot(y - v) + 0.05;
    let over = ends::over_rim(to, bore_m);
    let lip_m = over.as_ref().and_then(Opening::crest_m);
    match lip_m {
        Some(lip_m) if under_m - fall_m >= lip_m => over,
        _ => Some(ends::through_wall(vessel, bore_m, crest_m - 0.05)),
    }
}

/// Elbows for the bends, and a fitting wherever the pipe passes a wall or a floor.
fn fittings(layout: &Layout, run: &Run) -> Vec<FittingUse> {
    let bends = elbows(&layout.corners_of(run));
    let through = [&run.from, &run.to]
        .iter()
        .filter(|end| goes_through(end))
        .count();
    // One or two: the cast loses nothing.
    let through = through as u32;
    let rows = [
        ("elbow-90", bends.quarters),
        ("elbow-45", bends.eighths),
        ("bulkhead", through),
    ];
    let some = rows.into_iter().filter(|(_, count)| *count > 0);
    some.map(|(kind, count)| fitting(kind, count)).collect()
}

fn fitting(kind: &str, count: u32) -> FittingUse {
    FittingUse {
        kind: kind.to_owned(),
        count,
        k: None,
        choice: None,
        bore_m: None,
        at_m: None,
        near: None,
    }
}

/// Whether the pipe passes a wall or a floor at this end.
fn goes_through(end: &End) -> bool {
    match &end.opening {
        Some(Opening::Mouth { turned, .. }) => *turned == Turned::Horizontal,
        Some(Opening::Notch { .. }) | None => false,
        Some(_) => true,
    }
}

/// A run with nothing in it.
fn plain(id: Id, name: String, (from, to): (End, End), pipe: crate::layout::Pipe) -> Run {
    Run {
        id,
        name,
        from,
        to,
        pipe,
        route: Vec::new(),
        length_m: None,
        fittings: Vec::new(),
        valves: Vec::new(),
        equipment: Vec::new(),
        pump: None,
        check_valve: None,
        check_valve_failed: false,
        siphon_break: None,
        total_k: None,
        friction_factor: None,
        friction: None,
        carries_solids: false,
        already_built: false,
        starts_primed: false,
    }
}

/// The name of an edit of one run.
fn about(before: &str, run: &Id, after: &str) -> Sentence {
    let pieces: Vec<Piece> = vec![before.into(), run.into(), after.into()];
    Sentence(pieces)
}
