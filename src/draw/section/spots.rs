//! Where on the page each run meets its vessels.
//!
//! Heights are those of the openings. Side by side, openings share the width of their vessel: those that lead
//! to the right stand at the right wall, those that lead to the left at the left one.

use super::standing::{Stand, Standing};
use crate::draw::view::{At, at};
use crate::layout::{End, Id, Layout, Opening, Pipe, Run, RunEnd, Turned};
use std::collections::HashMap;

/// Of the width of a vessel: from the wall to the first opening inside, and on to the next.
const FIRST_SHARE: f64 = 0.13;
const NEXT_SHARE: f64 = 0.14;
/// How far a level pipe reaches into its vessel, of its width.
const STUB_SHARE: f64 = 0.07;

/// How a run meets a part, as far as drawing goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meets {
    /// At a joint.
    Joint,
    /// A standing pipe: it leaves downwards.
    Upstand,
    /// Through the wall: it leaves sideways.
    Wall,
    /// Through the floor: it leaves downwards.
    Floor,
    /// An open end facing sideways.
    LevelMouth,
    /// An open end facing down: it comes from above.
    DownMouth,
    /// An open end facing up: it comes from below.
    UpMouth,
    /// A rising leg inside, out sideways at its crest.
    Raised,
}

/// One end of a run on the page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// The lip, crest, hole or joint.
    pub at: At,
    /// Lip of the intake of a raised-intake overflow, metres.
    pub intake_m: Option<f64>,
    /// How it meets the part.
    pub meets: Meets,
    /// +1 where it leads to the right, −1 to the left.
    pub side: f64,
    /// Index of its vessel, where it ends at one.
    pub vessel: Option<usize>,
    /// The builder sets its height.
    pub settable: bool,
}

/// The part that an end names.
#[derive(Clone, Copy)]
enum Part {
    Vessel(usize),
    Fixed(usize),
    Joint(usize),
}

/// The ends `[from, to]` of every run, in the order of the layout.
pub fn spots(layout: &Layout, stand: &Stand) -> Vec<[Spot; 2]> {
    let parts = parts(layout);
    let along = |id: &Id| match parts.get(id) {
        Some(&Part::Vessel(index)) => stand.vessels.get(index).map(|one| one.along_m),
        Some(&Part::Fixed(index)) => stand.fixed.get(index).map(|one| one.along_m),
        Some(&Part::Joint(index)) => stand.joints.get(index).map(|one| one.along_m),
        None => None,
    };
    let mut spots: Vec<[Spot; 2]> = Vec::with_capacity(layout.runs.len());
    for run in &layout.runs {
        let from = along(&run.from.at);
        let to = along(&run.to.at);
        let (here, there) = (from.or(to).unwrap_or(0.0), to.or(from).unwrap_or(0.0));
        spots.push([
            spot(Side::of(run, RunEnd::From, &parts), stand, there),
            spot(Side::of(run, RunEnd::To, &parts), stand, here),
        ]);
    }
    share_width(layout, stand, &parts, &mut spots);
    spots
}

fn parts(layout: &Layout) -> HashMap<&Id, Part> {
    let vessels = layout.vessels.iter().enumerate();
    let fixed = layout.fixed.iter().enumerate();
    let joints = layout.joints.iter().enumerate();
    vessels
        .map(|(index, part)| (&part.id, Part::Vessel(index)))
        .chain(fixed.map(|(index, part)| (&part.id, Part::Fixed(index))))
        .chain(joints.map(|(index, part)| (&part.id, Part::Joint(index))))
        .collect()
}

/// An end of a run, and the part that it is at.
struct Side<'a> {
    end: &'a End,
    part: Option<Part>,
    /// Height of the other end's opening, which without a pipe is this one too.
    shared_m: Option<f64>,
}

impl<'a> Side<'a> {
    fn of(run: &'a Run, which: RunEnd, parts: &HashMap<&Id, Part>) -> Side<'a> {
        let (end, other) = (run.end(which), run.end(which.other()));
        let shares = run.pipe == Pipe::Open && end.opening.is_none();
        let shared = other.opening.as_ref().filter(|_| shares);
        Side {
            end,
            part: parts.get(&end.at).copied(),
            shared_m: shared.and_then(Opening::crest_m),
        }
    }
}

impl Side<'_> {
    fn meets(&self, standing: &Standing, at_vessel: bool) -> Meets {
        match self.shared_m {
            // What comes from higher up falls in over the rim.
            Some(shared_m) if shared_m > standing.rim_m => Meets::DownMouth,
            Some(_) => Meets::Wall,
            None => meets(self.end.opening.as_ref(), at_vessel),
        }
    }
}

/// An end in the middle of its part.
fn spot(side: Side<'_>, stand: &Stand, other_along_m: f64) -> Spot {
    let end = side.end;
    let (standing, vessel) = match side.part {
        Some(Part::Vessel(index)) => (stand.vessels.get(index), Some(index)),
        Some(Part::Fixed(index)) => (stand.fixed.get(index), None),
        Some(Part::Joint(index)) => {
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
        Meets::Floor => standing.floor_m,
        _ => inside,
    });
    Spot {
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

fn joint(place: At, other_along_m: f64) -> Spot {
    Spot {
        at: place,
        intake_m: None,
        meets: Meets::Joint,
        side: if other_along_m >= place.along_m {
            1.0
        } else {
            -1.0
        },
        vessel: None,
        settable: false,
    }
}

fn meets(opening: Option<&Opening>, at_vessel: bool) -> Meets {
    match opening {
        None if at_vessel => Meets::Floor,
        None
        | Some(Opening::Submerged { .. } | Opening::SideHole { .. } | Opening::Notch { .. }) => {
            Meets::Wall
        }
        Some(Opening::Upstand { .. }) => Meets::Upstand,
        Some(Opening::Floor { .. }) => Meets::Floor,
        Some(Opening::RaisedIntake { .. }) => Meets::Raised,
        Some(Opening::Mouth { turned, .. }) => match turned {
            Turned::Horizontal => Meets::LevelMouth,
            Turned::Up => Meets::UpMouth,
            Turned::Down => Meets::DownMouth,
        },
    }
}

/// Sets openings side by side in their vessels.
fn share_width(
    layout: &Layout,
    stand: &Stand,
    parts: &HashMap<&Id, Part>,
    spots: &mut [[Spot; 2]],
) {
    let mut by_part: HashMap<&Id, Vec<(usize, usize)>> = HashMap::new();
    for (index, run) in layout.runs.iter().enumerate() {
        by_part.entry(&run.from.at).or_default().push((index, 0));
        by_part.entry(&run.to.at).or_default().push((index, 1));
    }
    for (id, mut ends) in by_part {
        // What leads up highest, or leaves to the highest place, stands nearest the wall: legs cross less.
        let leads_to = |&(run, end): &(usize, usize)| {
            let both = spots.get(run);
            both.and_then(|both| both.get(1 - end))
                .map_or(0.0, |spot| spot.at.z_m)
        };
        ends.sort_by(|a, b| leads_to(b).total_cmp(&leads_to(a)));
        let standing = match parts.get(id) {
            Some(&Part::Vessel(index)) => stand.vessels.get(index),
            Some(&Part::Fixed(index)) => stand.fixed.get(index),
            _ => None,
        };
        let Some(standing) = standing else { continue };
        share_one(layout, standing, &ends, spots);
    }
}

/// From one opening inside a vessel to the next, of its width.
fn next_share(ends: &[(usize, usize)], spots: &[[Spot; 2]]) -> f64 {
    let is_inside = |spot: &Spot| !matches!(spot.meets, Meets::Wall | Meets::LevelMouth);
    let count = ends
        .iter()
        .filter(|(run, end)| spots.get(*run).is_some_and(|both| is_inside(&both[*end])))
        .count();
    // Few parts: a small cast that loses nothing.
    NEXT_SHARE.min((1.0 - 2.0 * FIRST_SHARE) / count.max(1) as f64)
}

fn share_one(
    layout: &Layout,
    standing: &Standing,
    ends: &[(usize, usize)],
    spots: &mut [[Spot; 2]],
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
            (Meets::Wall, _) => edge,
            (Meets::LevelMouth, _) => edge - spot.side * STUB_SHARE * standing.width_m,
            (_, Some(along_m)) => along_m,
            (_, None) => {
                let place = usize::from(spot.side < 0.0);
                let share = FIRST_SHARE + taken[place] * next;
                taken[place] += 1.0;
                let wanted = standing.along_m + spot.side * (0.5 - share) * standing.width_m;
                // In a cone the openings stand closer together further down.
                let limit = half.max(0.0);
                wanted.clamp(standing.along_m - limit, standing.along_m + limit)
            }
        };
    }
}
