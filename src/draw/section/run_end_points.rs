//! Positions where runs meet their vessels in the section.
//!
//! Heights are those of the openings. Openings share the width of their vessel side by side: those of runs to the right
//! are at the right wall, those of runs to the left at the left wall.

use super::standing::{PartOnPage, PartsOnPage};
use crate::draw::page::view::{SectionPoint, at};
use crate::layout::{End, Id, Layout, Opening, Pipe, Run, RunEnd, Turned};
use std::collections::HashMap;

/// Distance from the wall to the first opening inside, and from one opening to the next, as shares of the width of a
/// vessel.
const FIRST_SHARE: f64 = 0.13;
const NEXT_SHARE: f64 = 0.14;
/// Length of a horizontal pipe end inside a vessel, as a share of its width.
const STUB_SHARE: f64 = 0.07;

/// How a run meets a part, as far as drawing is concerned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Connection {
    /// At a joint.
    Joint,
    /// Standing pipe that leaves downwards.
    Upstand,
    /// Through the wall, sideways.
    Wall,
    /// Through the floor, downwards.
    Floor,
    /// Open end that faces sideways.
    LevelMouth,
    /// Open end that faces down and comes from above.
    DownMouth,
    /// Open end that faces up and comes from below.
    UpMouth,
    /// Rising leg inside that leaves sideways at its crest.
    Raised,
}

/// One end of a run in the section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunEndPoint {
    /// Position of the lip, crest, hole or joint.
    pub at: SectionPoint,
    /// Elevation of the intake lip of a raised-intake overflow, metres.
    pub intake_m: Option<f64>,
    /// Kind of connection.
    pub meets: Connection,
    /// +1 if the run leads to the right, −1 to the left.
    pub side: f64,
    /// Index of its vessel, if it ends at one.
    pub vessel: Option<usize>,
    /// Whether the builder sets its height.
    pub settable: bool,
}

/// Part at an end.
#[derive(Clone, Copy)]
enum EndPart {
    Vessel(usize),
    Fixed(usize),
    Joint(usize),
}

/// Returns the ends `[from, to]` of every run, in the order of the layout.
pub fn run_end_points(layout: &Layout, stand: &PartsOnPage) -> Vec<[RunEndPoint; 2]> {
    let parts = parts(layout);
    let along = |id: &Id| match parts.get(id) {
        Some(&EndPart::Vessel(index)) => stand.vessels.get(index).map(|one| one.along_m),
        Some(&EndPart::Fixed(index)) => stand.fixed.get(index).map(|one| one.along_m),
        Some(&EndPart::Joint(index)) => stand.joints.get(index).map(|one| one.along_m),
        None => None,
    };
    let mut spots: Vec<[RunEndPoint; 2]> = Vec::with_capacity(layout.runs.len());
    for run in &layout.runs {
        let from = along(&run.from.at);
        let to = along(&run.to.at);
        let (here, there) = (from.or(to).unwrap_or(0.0), to.or(from).unwrap_or(0.0));
        spots.push([
            run_end_point(EndSide::of(run, RunEnd::From, &parts), stand, there),
            run_end_point(EndSide::of(run, RunEnd::To, &parts), stand, here),
        ]);
    }
    share_width(layout, stand, &parts, &mut spots);
    spots
}

fn parts(layout: &Layout) -> HashMap<&Id, EndPart> {
    let vessels = layout.vessels.iter().enumerate();
    let fixed = layout.fixed.iter().enumerate();
    let joints = layout.joints.iter().enumerate();
    vessels
        .map(|(index, part)| (&part.id, EndPart::Vessel(index)))
        .chain(fixed.map(|(index, part)| (&part.id, EndPart::Fixed(index))))
        .chain(joints.map(|(index, part)| (&part.id, EndPart::Joint(index))))
        .collect()
}

/// An end of a run and its part.
struct EndSide<'a> {
    end: &'a End,
    part: Option<EndPart>,
    /// Height of the opening at the other end, which without a pipe is the opening here too.
    shared_m: Option<f64>,
}

impl<'a> EndSide<'a> {
    fn of(run: &'a Run, which: RunEnd, parts: &HashMap<&Id, EndPart>) -> EndSide<'a> {
        let (end, other) = (run.end(which), run.end(which.other()));
        let shares = run.pipe == Pipe::Open && end.opening.is_none();
        let shared = other.opening.as_ref().filter(|_| shares);
        EndSide {
            end,
            part: parts.get(&end.at).copied(),
            shared_m: shared.and_then(Opening::crest_m),
        }
    }
}

impl EndSide<'_> {
    fn meets(&self, standing: &PartOnPage, at_vessel: bool) -> Connection {
        match self.shared_m {
            // Water from higher up falls in over the rim.
            Some(shared_m) if shared_m > standing.rim_m => Connection::DownMouth,
            Some(_) => Connection::Wall,
            None => meets(self.end.opening.as_ref(), at_vessel),
        }
    }
}

/// Returns an end at the middle of its part.
fn run_end_point(side: EndSide<'_>, stand: &PartsOnPage, other_along_m: f64) -> RunEndPoint {
    let end = side.end;
    let (standing, vessel) = match side.part {
        Some(EndPart::Vessel(index)) => (stand.vessels.get(index), Some(index)),
        Some(EndPart::Fixed(index)) => (stand.fixed.get(index), None),
        Some(EndPart::Joint(index)) => {
            let place = stand.joints.get(index).copied().unwrap_or_default();
            return joint(place, other_along_m);
        }
        None => return joint(at(other_along_m, 0.0), other_along_m),
    };
    let Some(standing) = standing else {
        return joint(at(other_along_m, 0.0), other_along_m);
    };
    let meets = side.meets(standing, vessel.is_some());
    let own = end.opening.as_ref().and_then(Opening::crest_m);
    let shared_m = side.shared_m;
    let height = own.or(shared_m.map(|z_m| z_m.clamp(standing.floor_m, standing.rim_m)));
    let inside = standing.floor_m + 0.15 * (standing.rim_m - standing.floor_m);
    let z_m = height.unwrap_or(match meets {
        Connection::Floor => standing.floor_m,
        _ => inside,
    });
    RunEndPoint {
        at: at(standing.along_m, z_m),
        intake_m: match end.opening {
            Some(Opening::RaisedIntake { intake_m, .. }) => Some(intake_m),
            _ => None,
        },
        meets,
        side: if other_along_m >= standing.along_m {
            1.0
        } else {
            -1.0
        },
        vessel,
        settable: own.is_some(),
    }
}

fn joint(place: SectionPoint, other_along_m: f64) -> RunEndPoint {
    RunEndPoint {
        at: place,
        intake_m: None,
        meets: Connection::Joint,
        side: if other_along_m >= place.along_m {
            1.0
        } else {
            -1.0
        },
        vessel: None,
        settable: false,
    }
}

fn meets(opening: Option<&Opening>, at_vessel: bool) -> Connection {
    match opening {
        None if at_vessel => Connection::Floor,
        None
        | Some(Opening::Submerged { .. } | Opening::SideHole { .. } | Opening::Notch { .. }) => {
            Connection::Wall
        }
        Some(Opening::Upstand { .. }) => Connection::Upstand,
        Some(Opening::Floor { .. }) => Connection::Floor,
        Some(Opening::RaisedIntake { .. }) => Connection::Raised,
        Some(Opening::Mouth { turned, .. }) => match turned {
            Turned::Horizontal => Connection::LevelMouth,
            Turned::Up => Connection::UpMouth,
            Turned::Down => Connection::DownMouth,
        },
    }
}

/// Places openings side by side in their vessels.
fn share_width(
    layout: &Layout,
    stand: &PartsOnPage,
    parts: &HashMap<&Id, EndPart>,
    spots: &mut [[RunEndPoint; 2]],
) {
    let mut by_part: HashMap<&Id, Vec<(usize, usize)>> = HashMap::new();
    for (index, run) in layout.runs.iter().enumerate() {
        by_part.entry(&run.from.at).or_default().push((index, 0));
        by_part.entry(&run.to.at).or_default().push((index, 1));
    }
    for (id, mut ends) in by_part {
        // Runs that lead to the highest point are nearest the wall, so that legs cross less.
        let leads_to = |&(run, end): &(usize, usize)| {
            let both = spots.get(run);
            both.and_then(|both| both.get(1 - end))
                .map_or(0.0, |spot| spot.at.z_m)
        };
        ends.sort_by(|a, b| leads_to(b).total_cmp(&leads_to(a)));
        let standing = match parts.get(id) {
            Some(&EndPart::Vessel(index)) => stand.vessels.get(index),
            Some(&EndPart::Fixed(index)) => stand.fixed.get(index),
            _ => None,
        };
        let Some(standing) = standing else { continue };
        share_one(layout, standing, &ends, spots);
    }
}

/// Returns the distance between openings inside a vessel, as a share of its width.
fn next_share(ends: &[(usize, usize)], spots: &[[RunEndPoint; 2]]) -> f64 {
    let is_inside =
        |spot: &RunEndPoint| !matches!(spot.meets, Connection::Wall | Connection::LevelMouth);
    let count = ends
        .iter()
        .filter(|(run, end)| spots.get(*run).is_some_and(|both| is_inside(&both[*end])))
        .count();
    // There are few parts, so the cast is exact.
    NEXT_SHARE.min((1.0 - 2.0 * FIRST_SHARE) / count.max(1) as f64)
}

fn share_one(
    layout: &Layout,
    standing: &PartOnPage,
    ends: &[(usize, usize)],
    spots: &mut [[RunEndPoint; 2]],
) {
    let next = next_share(ends, spots);
    let mut taken = [0.0_f64; 2];
    for &(run, end) in ends {
        let given = layout.runs.get(run).and_then(|run| {
            let end = if end == 0 { &run.from } else { &run.to };
            end.place.map(|place| place.along_m).filter(|x| *x != 0.0)
        });
        let Some(spot) = spots.get_mut(run).and_then(|both| both.get_mut(end)) else {
            continue;
        };
        let half = standing.half_width_m(spot.at.z_m.max(standing.floor_m));
        let edge = standing.along_m + spot.side * half;
        let inside = given.filter(|x| (standing.left_m()..=standing.right_m()).contains(x));
        spot.at.along_m = match (spot.meets, inside) {
            (Connection::Wall, _) => edge,
            (Connection::LevelMouth, _) => edge - spot.side * STUB_SHARE * standing.width_m,
            (_, Some(along_m)) => along_m,
            (_, None) => {
                let place = usize::from(spot.side < 0.0);
                let share = FIRST_SHARE + taken[place] * next;
                taken[place] += 1.0;
                let wanted = standing.along_m + spot.side * (0.5 - share) * standing.width_m;
                // Towards the tip of a cone the openings are closer together.
                let limit = half.max(0.0);
                wanted.clamp(standing.along_m - limit, standing.along_m + limit)
            }
        };
    }
}
