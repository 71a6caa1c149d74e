//! The ends of a run: where they are and what port they have.

use super::nodes::Part;
use super::opening::{self, Leaves};
use super::pipe::Bore;
use super::{Ground, opening_findings};
use crate::finding::Finding;
use crate::geometry::Corner;
use crate::layout::{self, Direction, End, Opening, Run, Turned};
use crate::network::{Port, Raised};
use petgraph::graph::NodeIndex;

/// One end of a run.
pub(super) struct Meeting {
    pub node: NodeIndex,
    pub port: Port,
    /// Bore on which an entrance or exit is counted; none at a joint.
    pub bore_m: Option<f64>,
    pub raised: Option<Raised>,
    /// Where the pipe ends.
    pub corner: Corner,
    /// Its height is not where the pipe begins: a lip that faces up, or an end deep under water.
    pub lip: Lip,
    /// The end names a part that is there.
    pub found: bool,
}

/// How the pipe goes on from an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lip {
    /// Level: a hole in a wall, a horizontal mouth; a joint.
    Horizontal,
    /// Upwards, from a mouth that faces down.
    Down,
    /// Downwards, from a lip that faces up.
    Up,
    /// At a height that was not given, under water.
    Unknown,
}

fn lip(opening: Option<&Opening>) -> Lip {
    match opening {
        None | Some(Opening::SideHole { .. }) => Lip::Horizontal,
        Some(Opening::Mouth { turned, .. }) => match turned {
            Turned::Horizontal => Lip::Horizontal,
            Turned::Down => Lip::Down,
            Turned::Up => Lip::Up,
        },
        Some(Opening::Upstand { .. } | Opening::RaisedIntake { .. }) => Lip::Up,
        Some(Opening::Floor { .. }) => Lip::Up,
        Some(Opening::Submerged { lip_m, .. }) if lip_m.is_some() => Lip::Up,
        Some(Opening::Submerged { .. }) => Lip::Unknown,
    }
}

/// The ends `[from, to]` of a run as drawn.
pub(super) fn ends(
    ground: &Ground<'_>,
    run: &Run,
    (bore, pump_on): (&Bore, bool),
    out: &mut Vec<Finding>,
) -> [Meeting; 2] {
    let pushed_out = match &run.pump {
        Some(pump) if pump_on => Some(pump.pushes),
        _ => None,
    };
    let leaves = |way: Direction| {
        if pushed_out == Some(way) {
            Leaves::Pushed
        } else {
            Leaves::ByGravity
        }
    };
    let from_opening = effective(ground, &run.from);
    let mut to_opening = effective(ground, &run.to);
    if let (Some(Opening::RaisedIntake { .. }), Some(Opening::RaisedIntake { crest_m, .. })) =
        (&from_opening, &to_opening)
    {
        out.push(opening_findings::two_raised(&run.id, &run.to.at));
        to_opening = Some(Opening::Upstand {
            crest_m: *crest_m,
            bore_m: None,
        });
    }
    [
        meeting(
            ground,
            (&run.from, from_opening),
            bore,
            leaves(Direction::Backward),
        ),
        meeting(
            ground,
            (&run.to, to_opening),
            bore,
            leaves(Direction::Forward),
        ),
    ]
}

/// The opening that an end is computed with: none at a joint, under water at a fixed level without one,
/// an outlet in the floor at a vessel without one.
fn effective(ground: &Ground<'_>, end: &End) -> Option<Opening> {
    match ground.place(&end.at)?.part {
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

fn meeting(
    ground: &Ground<'_>,
    (end, opening): (&End, Option<Opening>),
    bore: &Bore,
    leaves: Leaves,
) -> Meeting {
    let place = ground.place(&end.at);
    let floor_m = match place.map(|place| place.part) {
        Some(Part::Vessel(vessel)) => Some(vessel.floor_m),
        _ => None,
    };
    let own_bore = |opening: &Opening| opening.bore_m().unwrap_or(bore.bore_m);
    Meeting {
        node: ground.nodes.node(&end.at),
        port: opening.as_ref().map_or(Port::closed(), |opening| {
            opening::port(ground, opening, (own_bore(opening), floor_m), leaves)
        }),
        bore_m: opening.as_ref().map(own_bore),
        raised: opening
            .as_ref()
            .and_then(|opening| opening::raised(ground, opening, bore)),
        corner: corner(end, opening.as_ref(), place.map(|place| place.part)),
        lip: lip(opening.as_ref()),
        found: place.is_some(),
    }
}

/// In the plan the end's own place or the part's; in height the crest, invert or lip, else the part's.
fn corner(end: &End, opening: Option<&Opening>, part: Option<Part<'_>>) -> Corner {
    let (place, z_m) = match part {
        Some(Part::Vessel(vessel)) => (vessel.place, vessel.floor_m),
        Some(Part::Joint(joint)) => (joint.place, joint.elevation_m),
        Some(Part::Fixed(fixed)) => (fixed.place, fixed.level_m),
        None => (layout::Place::default(), 0.0),
    };
    let place = end.place.unwrap_or(place);
    Corner {
        x_m: place.x_m,
        y_m: place.y_m,
        z_m: opening.and_then(Opening::crest_m).unwrap_or(z_m),
    }
}
