//! The ends of a run: their positions and ports.

use super::nodes::Part;
use super::opening::{self, AirOutlet};
use super::pipe::Bore;
use super::problem::Problem;
use super::{LoweringContext, edges, mouths, screens, sills};
use crate::geometry::Corner;
use crate::hydraulics::openings::coefficients;
use crate::hydraulics::openings::inlet::Inlet;
use crate::layout::{self, Direction, End, Id, Opening, Pipe, Run, RunEnd, Turned};
use crate::network::{Outlet, Port, Raised};
use petgraph::graph::NodeIndex;

/// One end of a run.
pub(super) struct LoweredEnd {
    pub node: NodeIndex,
    pub port: Port,
    /// Bore on which an entrance or exit loss is based; none at a joint.
    pub bore_m: Option<f64>,
    /// Entrance loss coefficient there.
    pub entrance_k: f64,
    pub raised: Option<Raised>,
    /// Where the pipe ends.
    pub corner: Corner,
    /// How the pipe continues; it need not begin at the height of the end, as with a lip that faces up or a deeply
    /// submerged end.
    pub lip: Lip,
    /// The end names an existing part.
    pub found: bool,
}

/// How the pipe continues from an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lip {
    /// Level: a hole in a wall, a horizontal mouth.
    Horizontal,
    /// Through a joint.
    Joint,
    /// Upwards, from a mouth that faces down.
    Down,
    /// Downwards, from a lip that faces up.
    Up,
    /// From an unknown height, submerged.
    Unknown,
}

fn lip(opening: Option<&Opening>) -> Lip {
    match opening {
        None => Lip::Joint,
        Some(Opening::SideHole { .. }) => Lip::Horizontal,
        Some(Opening::Mouth { turned, .. }) => match turned {
            Turned::Horizontal => Lip::Horizontal,
            Turned::Down => Lip::Down,
            Turned::Up => Lip::Up,
        },
        Some(Opening::Upstand { .. } | Opening::RaisedIntake { .. }) => Lip::Up,
        Some(Opening::Floor { .. } | Opening::Notch { .. }) => Lip::Up,
        Some(Opening::Submerged { lip_m, .. }) if lip_m.is_some() => Lip::Up,
        Some(Opening::Submerged { .. }) => Lip::Unknown,
    }
}

/// The ends `[from, to]` of a run as drawn.
pub(super) fn ends(
    context: &LoweringContext<'_>,
    run: &Run,
    (bore, pump_on, pumped): (&Bore, bool, bool),
    out: &mut Vec<Problem>,
) -> [LoweredEnd; 2] {
    let pushed_out = match &run.pump {
        Some(pump) if pump_on => Some(pump.pushes),
        _ => None,
    };
    // What the pump of another run pushes through joints discharges full at either end.
    let through_joints = pumped && !pump_on;
    let leaves = |way: Direction| {
        if through_joints || pushed_out == Some(way) {
            AirOutlet::Pushed
        } else {
            AirOutlet::ByGravity
        }
    };
    let from_opening = effective(context, run, RunEnd::From);
    let mut to_opening = effective(context, run, RunEnd::To);
    if let (Some(Opening::RaisedIntake { .. }), Some(Opening::RaisedIntake { crest_m, .. })) =
        (&from_opening, &to_opening)
    {
        out.push(Problem::TwoRaisedIntakes {
            run: run.id.clone(),
            at: run.to.at.clone(),
        });
        to_opening = Some(Opening::Upstand {
            crest_m: *crest_m,
            bore_m: None,
        });
    }
    let mut ends = [
        meeting(
            context,
            (run, RunEnd::From, from_opening),
            bore,
            leaves(Direction::Backward),
        ),
        meeting(
            context,
            (run, RunEnd::To, to_opening),
            bore,
            leaves(Direction::Forward),
        ),
    ];
    sills::lay(run, &mut ends);
    ends
}

/// The opening that an end is computed with: none at a joint, submerged at a fixed level without one,
/// an outlet in the floor at a vessel without one. Without a pipe an end without an opening has that of
/// the other end, seen from its other side.
fn effective(context: &LoweringContext<'_>, run: &Run, which: RunEnd) -> Option<Opening> {
    let end = run.end(which);
    let part = context.place(&end.at)?.part;
    if run.pipe == Pipe::Open && end.opening.is_none() && !matches!(part, Part::Joint(_)) {
        let other = run.end(which.other());
        if let Some(shared) = &other.opening {
            return Some(seen_from_behind(context, shared, &other.at));
        }
    }
    match part {
        Part::Joint(_) => None,
        Part::Vessel(_) => Some(end.opening.clone().unwrap_or(Opening::Floor {
            lip_m: None,
            bore_m: None,
        })),
        Part::Fixed(_) => Some(end.opening.clone().unwrap_or(Opening::Submerged {
            lip_m: None,
            bore_m: None,
        })),
    }
}

/// A floor outlet has its lip at that floor, whichever side it is seen from.
fn seen_from_behind(context: &LoweringContext<'_>, opening: &Opening, at: &Id) -> Opening {
    let floor_m = match context.place(at).map(|place| place.part) {
        Some(Part::Vessel(vessel)) => Some(vessel.floor_m),
        _ => None,
    };
    match *opening {
        Opening::Floor { lip_m, bore_m } => Opening::Floor {
            lip_m: lip_m.or(floor_m),
            bore_m,
        },
        _ => opening.clone(),
    }
}

fn meeting(
    context: &LoweringContext<'_>,
    (run, which, opening): (&Run, RunEnd, Option<Opening>),
    bore: &Bore,
    leaves: AirOutlet,
) -> LoweredEnd {
    let end = run.end(which);
    let place = context.place(&end.at);
    let floor_m = match place.map(|place| place.part) {
        Some(Part::Vessel(vessel)) => Some(vessel.floor_m),
        _ => None,
    };
    let own_bore = |opening: &Opening| match opening.bore_m() {
        Some(own_m) => context.worn_m(own_m),
        None => bore.bore_m,
    };
    let screen = screens::facts(context, end);
    let coefficients = edges::coefficients(context, run, which);
    let mut port = opening.as_ref().map_or(Port::closed(), |opening| {
        let sizes = (own_bore(opening), floor_m);
        opening::port(context, opening, sizes, (leaves, &coefficients))
    });
    if run.pipe == Pipe::Open {
        // A thin wall: no water stands on its far side.
        port.outlet = Outlet::Lip;
    }
    let own_bore_m = opening.as_ref().map(own_bore);
    if let Some(opening) = &opening {
        let leads = mouths::leads(context, (run, which), opening, bore);
        let gravity_m_s2 = context.coefficients.gravity_m_s2;
        port.inlet = port.inlet.leading_to(leads, gravity_m_s2);
    }
    if let Some(screen) = &screen {
        screens::put(context, screen, &mut port);
    }
    break_siphon(context, (run, which), &mut port, own_bore_m);
    draw_over_lip(context, &mut port, floor_m, own_bore_m);
    LoweredEnd {
        node: context.nodes.node(&end.at),
        port,
        bore_m: own_bore_m,
        entrance_k: coefficients.entrance_k,
        raised: opening
            .as_ref()
            .and_then(|opening| opening::raised(context, opening, (bore, coefficients.entrance_k))),
        corner: corner(end, opening.as_ref(), (place.map(|place| place.part), bore)),
        lip: lip(opening.as_ref()),
        found: place.is_some(),
    }
}

/// Makes an end draw only above the height of its siphon break.
fn break_siphon(
    context: &LoweringContext<'_>,
    (run, which): (&Run, RunEnd),
    port: &mut Port,
    bore_m: Option<f64>,
) {
    let given = run.siphon_break.filter(|given| given.near == which);
    let (Some(given), Some(bore_m)) = (given, bore_m) else {
        return;
    };
    if context.is_grown_over(given.bore_m) {
        return;
    }
    port.draws_from_m = Some(given.height_m);
    if port.inlet == Inlet::Unlimited {
        // An end without a limit would stop with a step where air enters.
        port.inlet = Inlet::lip(bore_m, &context.coefficients);
    }
}

/// Inflow capacity of a deeply submerged end relative to that of a plain lip: whatever its run carries, until
/// only a millimetre is left over it. A choice, so that a vessel that is drawn empty ends in a law and not in a step.
const DEEP: f64 = 5000.0;

/// Makes an end draw only what stands over its lip and, at a vessel, over the floor: below them there is no water.
/// `floor_m`: that of its vessel, metres; none where it is at none. `bore_m`: of the end, metres; none at a joint.
fn draw_over_lip(
    context: &LoweringContext<'_>,
    port: &mut Port,
    floor_m: Option<f64>,
    bore_m: Option<f64>,
) {
    if let Some(floor_m) = floor_m.filter(|floor_m| port.intake_m() < *floor_m) {
        port.draws_from_m = Some(floor_m);
    }
    // At a fixed level without a lip there is water however low it draws.
    let may_run_dry = port.intake_m().is_finite();
    if let (Inlet::Unlimited, true, Some(bore_m)) = (port.inlet, may_run_dry, bore_m) {
        let plain = context.coefficients;
        let deep = coefficients::Coefficients {
            weir: DEEP * plain.weir,
            orifice: DEEP * plain.orifice,
            ..plain
        };
        port.inlet = Inlet::lip(bore_m, &deep);
    }
}

/// In plan the position of the end itself or of the part; in height the crest, invert or lip, else that of the part.
/// At a joint it is the invert of the clean pipe, whose centre is that of the joint.
fn corner(end: &End, opening: Option<&Opening>, (part, bore): (Option<Part<'_>>, &Bore)) -> Corner {
    let (place, z_m) = match part {
        Some(Part::Vessel(vessel)) => (vessel.place, vessel.floor_m),
        Some(Part::Joint(joint)) => (joint.place, joint.elevation_m - 0.5 * bore.new_m),
        Some(Part::Fixed(fixed)) => (fixed.place, fixed.level_m),
        None => (layout::Place::default(), 0.0),
    };
    let place = end.place.unwrap_or(place);
    let z_m = opening.and_then(Opening::crest_m).unwrap_or(z_m);
    let mut corner = Corner::at(place.x_m, place.y_m, z_m);
    if let Some(Part::Joint(joint)) = part {
        (corner.vented, corner.vent_top_m) = (joint.vented, joint.vent_top_m);
    }
    corner
}
