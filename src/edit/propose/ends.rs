//! The openings of a proposed run, from the use of its vessels and their heights.
//!
//! All heights here are common practice, no source: starting points for the user.

use crate::layout::{
    Edge, End, Fixed, Id, Joint, Layout, Opening, Place, Role, Shape, Turned, Vessel,
};

/// Least height of an open end above a rim, metres, and at least two bores.
const AIR_GAP_M: f64 = 0.03;
/// Height of a suction above its floor, metres.
const SUCTION_M: f64 = 0.06;
/// From the wall to an upstand, metres.
const OFF_WALL_M: f64 = 0.15;
/// Height of a low hole in a wall above its floor, metres.
const LOW_HOLE_M: f64 = 0.05;
/// From the rim down to a crest, where the vessel is filled to the rim, metres.
const UNDER_RIM_M: f64 = 0.05;
/// Levels that differ by no more than this count as equal, metres.
const SAME_LEVEL_M: f64 = 0.05;

/// The part at an end of a run.
#[derive(Clone, Copy)]
pub(super) enum EndPart<'a> {
    Vessel(&'a Vessel),
    Joint(&'a Joint),
    Fixed(&'a Fixed),
}

impl<'a> EndPart<'a> {
    pub(super) fn of(layout: &'a Layout, id: &Id) -> Option<EndPart<'a>> {
        let vessel = layout.vessel(id).map(EndPart::Vessel);
        vessel
            .or_else(|| {
                layout
                    .joints
                    .iter()
                    .find(|one| one.id == *id)
                    .map(EndPart::Joint)
            })
            .or_else(|| {
                layout
                    .fixed
                    .iter()
                    .find(|one| one.id == *id)
                    .map(EndPart::Fixed)
            })
    }

    pub(super) fn place(self) -> (f64, f64) {
        let place = match self {
            EndPart::Vessel(part) => part.place,
            EndPart::Joint(part) => part.place,
            EndPart::Fixed(part) => part.place,
        };
        (place.x_m, place.y_m)
    }

    pub(super) fn id(self) -> &'a Id {
        match self {
            EndPart::Vessel(part) => &part.id,
            EndPart::Joint(part) => &part.id,
            EndPart::Fixed(part) => &part.id,
        }
    }

    /// Its intended level, metres; for a joint its height.
    fn level_m(self) -> f64 {
        match self {
            EndPart::Vessel(part) => part.fill_m.min(part.rim_m),
            EndPart::Joint(part) => part.elevation_m,
            EndPart::Fixed(part) => part.level_m,
        }
    }

    /// The height that water must be lifted over to enter from above, metres.
    pub(super) fn top_m(self) -> f64 {
        match self {
            EndPart::Vessel(part) => part.rim_m,
            EndPart::Joint(part) => part.elevation_m,
            EndPart::Fixed(part) => part.level_m,
        }
    }
}

/// How water gets from one part to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FlowManner {
    /// By gravity.
    Falls,
    /// Both have the same level, which stays equal.
    Evens,
    /// A pump lifts it.
    Pumped,
}

/// How water gets from one part to the other, from their fill levels.
pub(super) fn manner(from: EndPart<'_>, to: EndPart<'_>) -> FlowManner {
    let (here, there) = (from.level_m(), to.level_m());
    let overlap = match (from, to) {
        (EndPart::Vessel(a), EndPart::Vessel(b)) => {
            a.floor_m.max(b.floor_m) + LOW_HOLE_M < here.min(there)
        }
        _ => false,
    };
    if here > there + SAME_LEVEL_M {
        FlowManner::Falls
    } else if overlap && (here - there).abs() <= SAME_LEVEL_M {
        FlowManner::Evens
    } else if matches!(from, EndPart::Joint(_)) || matches!(to, EndPart::Joint(_)) {
        // A joint has no level: whatever is upstream drives the water.
        FlowManner::Falls
    } else {
        FlowManner::Pumped
    }
}

/// The outlet of a part by gravity: the opening, and whether it goes through the wall.
pub(super) fn outlet(from: EndPart<'_>) -> Option<Opening> {
    match from {
        EndPart::Joint(_) | EndPart::Fixed(_) => None,
        EndPart::Vessel(part) => Some(match part.role {
            Role::Header | Role::Supply => {
                side_hole((part.floor_m + LOW_HOLE_M).min(crest_m(part)))
            }
            _ => Opening::Upstand {
                crest_m: crest_m(part),
                bore_m: None,
            },
        }),
    }
}

/// The crest that keeps a vessel at its fill level, metres.
fn crest_m(part: &Vessel) -> f64 {
    let depth = part.rim_m - part.floor_m;
    let most = part.rim_m - UNDER_RIM_M.min(0.15 * depth);
    let least = part.floor_m + 0.1 * depth;
    millimetres(part.fill_m.min(most).max(least))
}

fn side_hole(invert_m: f64) -> Opening {
    Opening::SideHole {
        invert_m: millimetres(invert_m),
        bore_m: None,
    }
}

/// Openings of a run that equalises two vessels: low in both walls.
pub(super) fn evens(a: EndPart<'_>, b: EndPart<'_>) -> [Option<Opening>; 2] {
    let floor = |part: EndPart<'_>| match part {
        EndPart::Vessel(part) => part.floor_m,
        _ => f64::NEG_INFINITY,
    };
    let invert_m = floor(a).max(floor(b)) + LOW_HOLE_M;
    [a, b].map(|part| matches!(part, EndPart::Vessel(_)).then(|| side_hole(invert_m)))
}

/// An open end above the rim of a part, facing down, in air.
pub(super) fn over_rim(to: EndPart<'_>, bore_m: f64) -> Option<Opening> {
    match to {
        EndPart::Joint(_) => None,
        _ => Some(Opening::Mouth {
            lip_m: millimetres(to.top_m() + AIR_GAP_M.max(2.0 * bore_m)),
            turned: Turned::Down,
            bore_m: None,
            air_gap: true,
        }),
    }
}

/// An open end through the wall: above the water where possible, below it where necessary.
///
/// `highest_m`: no water comes from above this height.
pub(super) fn through_wall(to: &Vessel, bore_m: f64, highest_m: f64) -> Opening {
    let under_rim = to.rim_m - bore_m - 0.01;
    let wanted = under_rim.min(highest_m);
    Opening::Mouth {
        lip_m: millimetres(wanted.max(to.floor_m + LOW_HOLE_M)),
        turned: Turned::Horizontal,
        bore_m: None,
        air_gap: false,
    }
}

/// The intake of a pump.
pub(super) fn suction(from: EndPart<'_>) -> Option<Opening> {
    match from {
        EndPart::Vessel(part) => Some(Opening::Mouth {
            lip_m: millimetres(part.floor_m + SUCTION_M.min(0.3 * (part.rim_m - part.floor_m))),
            turned: Turned::Down,
            bore_m: None,
            air_gap: false,
        }),
        _ => None,
    }
}

/// An end at a part with this opening, on the side `towards` a place in the plan.
pub(super) fn end(part: EndPart<'_>, opening: Option<Opening>, towards: (f64, f64)) -> End {
    let place = match (part, &opening) {
        (EndPart::Vessel(vessel), Some(opening)) => Some(place_in(vessel, opening, towards)),
        _ => None,
    };
    End {
        at: part.id().clone(),
        opening,
        place,
        screen: None,
        edge: Edge::Plain,
        orifice: None,
        entrance_k: None,
    }
}

/// The position of an opening in a vessel, from its centre towards a place: in the wall, or a little inside.
fn place_in(vessel: &Vessel, opening: &Opening, towards: (f64, f64)) -> Place {
    let (x, y) = (vessel.place.x_m, vessel.place.y_m);
    let (dx, dy) = (towards.0 - x, towards.1 - y);
    let far = dx.hypot(dy);
    if far < 1e-9 {
        return Place {
            x_m: x,
            y_m: y,
            ..Place::default()
        };
    }
    let (ux, uy) = (dx / far, dy / far);
    let (sin, cos) = vessel.place.turned_deg.to_radians().sin_cos();
    let wall = wall_m(&vessel.shape, (ux * cos + uy * sin, uy * cos - ux * sin));
    let in_wall = matches!(
        opening,
        Opening::SideHole { .. } | Opening::Notch { .. } | Opening::Submerged { .. }
    ) || matches!(
        opening,
        Opening::Mouth {
            turned: Turned::Horizontal,
            ..
        }
    );
    let off = if in_wall {
        wall
    } else {
        wall - OFF_WALL_M.min(wall / 2.0)
    };
    Place {
        x_m: millimetres(x + ux * off),
        y_m: millimetres(y + uy * off),
        ..Place::default()
    }
}

/// From the centre of a vessel to its wall in a direction of length 1, metres.
fn wall_m(shape: &Shape, (ux, uy): (f64, f64)) -> f64 {
    let in_box = |length: f64, width: f64| {
        let across = |half: f64, share: f64| {
            if share.abs() > 1e-12 {
                half / share.abs()
            } else {
                f64::INFINITY
            }
        };
        across(length / 2.0, ux).min(across(width / 2.0, uy))
    };
    let (length_m, width_m) = shape.footprint_m();
    if shape.is_round() {
        length_m / 2.0
    } else {
        in_box(length_m, width_m)
    }
}

/// Rounds to the millimetre, which a builder can mark.
pub(super) fn millimetres(length_m: f64) -> f64 {
    (length_m * 1000.0).round() / 1000.0
}
