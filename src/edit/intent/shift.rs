//! Moves parts in the plan, along the section and in height, with everything fixed to them.

use super::each::moved_each;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::geometry::Corner;
use crate::layout::{End, Id, Layout, Opening, Place, Run, RunEnd, Vessel};
use crate::units::Quantity;
use std::collections::HashMap;

/// A displacement, metres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Shift {
    /// X in the plan.
    pub x_m: f64,
    /// Y in the plan.
    pub y_m: f64,
    /// Along the section.
    pub along_m: f64,
    /// In height.
    pub up_m: f64,
}

impl Shift {
    /// Height only.
    pub fn up(up_m: f64) -> Shift {
        Shift {
            up_m,
            ..Shift::default()
        }
    }
}

/// Fixes the position of every part along the section, metres from the staff, so that the drawing stays as it is
/// seen.
pub fn set_out(layout: &Layout, along_m: &[(Id, f64)]) -> Layout {
    let mut outcome = layout.clone();
    let wanted: std::collections::HashMap<&Id, f64> =
        along_m.iter().map(|(id, along_m)| (id, *along_m)).collect();
    let put = |id: &Id, place: &mut Place| {
        if let Some(along_m) = wanted.get(id) {
            place.along_m = tidy(*along_m);
        }
    };
    for part in &mut outcome.vessels {
        put(&part.id, &mut part.place);
    }
    for part in &mut outcome.joints {
        put(&part.id, &mut part.place);
    }
    for part in &mut outcome.fixed {
        put(&part.id, &mut part.place);
    }
    outcome
}

/// Moves vessels, joints, fixed levels and runs together.
///
/// With a vessel move its fill level, medium and float valve, the openings of its runs and the levels of float
/// switches in it. A run follows with its corners: a leg keeps its direction and changes its length where it can. A
/// named run moves with all its corners, or with only those where both ends stay.
///
/// # Errors
/// A missing part, or an invalid place.
pub fn shift(layout: &Layout, parts: &[Id], by: Shift) -> Result<Edit, EditError> {
    if let Some(missing) = parts.iter().find(|part| !layout.has(part)) {
        return Err(no_part(missing));
    }
    let name = Sentence(words(parts, by));
    Edit::between(name, layout, &moved(layout, parts, by)).tried_on(layout)
}

/// As [`shift`], with every part first fixed along the section, as [`set_out`].
///
/// # Errors
/// As [`shift`].
pub fn shift_along(
    layout: &Layout,
    along_m: &[(Id, f64)],
    (parts, by): (&[Id], Shift),
) -> Result<Edit, EditError> {
    if let Some(missing) = parts.iter().find(|part| !layout.has(part)) {
        return Err(no_part(missing));
    }
    let name = Sentence(words(parts, by));
    let set = set_out(layout, along_m);
    Edit::between(name, layout, &moved(&set, parts, by)).tried_on(layout)
}

/// The layout with these parts moved, and their runs with them.
pub(super) fn moved(layout: &Layout, parts: &[Id], by: Shift) -> Layout {
    let each: HashMap<Id, Shift> = parts.iter().map(|part| (part.clone(), by)).collect();
    let mut outcome = moved_each(layout, &each);
    // A named run whose ends both stay is moved between them.
    let runs = outcome
        .runs
        .iter_mut()
        .filter(|run| each.contains_key(&run.id));
    let ends_stay = |run: &&mut Run| {
        RunEnd::BOTH
            .iter()
            .all(|which| !each.contains_key(&run.end(*which).at))
    };
    for run in runs.filter(ends_stay) {
        move_all(run, by);
    }
    outcome
}

fn words(parts: &[Id], by: Shift) -> Vec<Piece> {
    let what: Piece = match parts {
        [one] => one.into(),
        many => format!("{} parts", many.len()).into(),
    };
    let only_up = by.x_m == 0.0 && by.y_m == 0.0 && by.along_m == 0.0;
    if only_up && by.up_m != 0.0 {
        let verb = if by.up_m > 0.0 { "Raise " } else { "Lower " };
        let far = Piece::Number(Quantity::Height, by.up_m.abs());
        vec![verb.into(), what, " by ".into(), far]
    } else {
        vec!["Move ".into(), what]
    }
}

/// A moved height, without rounding errors of the sum.
pub(in crate::edit) fn up(height_m: f64, by_m: f64) -> f64 {
    if by_m == 0.0 {
        height_m
    } else {
        tidy(height_m + by_m)
    }
}

/// A length without rounding errors of the sum: to the hundredth of a micrometre.
pub(in crate::edit) fn tidy(length_m: f64) -> f64 {
    (length_m * 1e8).round() / 1e8
}

pub(super) fn move_place(place: &mut Place, by: Shift) {
    place.x_m = up(place.x_m, by.x_m);
    place.y_m = up(place.y_m, by.y_m);
    place.along_m = up(place.along_m, by.along_m);
}

pub(super) fn move_vessel(vessel: &mut Vessel, by: Shift) {
    vessel.floor_m = up(vessel.floor_m, by.up_m);
    vessel.rim_m = up(vessel.rim_m, by.up_m);
    vessel.fill_m = up(vessel.fill_m, by.up_m);
    if let Some(medium) = &mut vessel.medium {
        medium.top_m = up(medium.top_m, by.up_m);
    }
    if let Some(valve) = &mut vessel.float_valve {
        valve.shut_m = up(valve.shut_m, by.up_m);
        valve.open_m = up(valve.open_m, by.up_m);
        valve.outlet_m = valve.outlet_m.map(|outlet_m| up(outlet_m, by.up_m));
    }
    vessel.make_up_outlet_m = vessel
        .make_up_outlet_m
        .map(|outlet_m| up(outlet_m, by.up_m));
    move_place(&mut vessel.place, by);
}

pub(super) fn move_all(run: &mut Run, by: Shift) {
    for corner in &mut run.route {
        move_corner(corner, by);
    }
    if let Some(suction) = run.pump.as_mut().and_then(|pump| pump.suction.as_mut()) {
        suction.elevation_m = up(suction.elevation_m, by.up_m);
    }
}

fn move_corner(corner: &mut Corner, by: Shift) {
    corner.x_m = up(corner.x_m, by.x_m);
    corner.y_m = up(corner.y_m, by.y_m);
    corner.z_m = up(corner.z_m, by.up_m);
    corner.vent_top_m = corner.vent_top_m.map(|top_m| up(top_m, by.up_m));
}

pub(super) fn move_end(end: &mut End, by: Shift) {
    if let Some(place) = &mut end.place {
        move_place(place, by);
    }
    if let Some(opening) = &mut end.opening {
        raise(opening, by.up_m);
    }
    if let Some(screen) = &mut end.screen {
        screen.foot_m = screen.foot_m.map(|foot_m| up(foot_m, by.up_m));
    }
}

/// Raises an opening with its vessel, metres.
pub(super) fn raise(opening: &mut Opening, by_m: f64) {
    let height = |slot: &mut f64| *slot = up(*slot, by_m);
    match opening {
        Opening::Upstand { crest_m, .. } | Opening::Notch { crest_m, .. } => height(crest_m),
        Opening::SideHole { invert_m, .. } => height(invert_m),
        Opening::Floor { lip_m, .. } | Opening::Submerged { lip_m, .. } => {
            lip_m.iter_mut().for_each(height);
        }
        Opening::Mouth { lip_m, .. } => height(lip_m),
        Opening::RaisedIntake {
            intake_m,
            crest_m,
            vent,
            ..
        } => {
            height(intake_m);
            height(crest_m);
            if let crate::layout::Vent::OpenTo { top_m } = vent {
                height(top_m);
            }
        }
    }
}

/// Moves the corners along with an end that moved: along its direction a leg changes its length, across it the leg
/// moves its far corner.
pub(super) fn move_along<'c>(
    corners: impl Iterator<Item = &'c mut Corner>,
    start: Corner,
    mut by: Shift,
) {
    let mut last = start;
    for corner in corners {
        let was = *corner;
        let (dx, dy, dz) = (was.x_m - last.x_m, was.y_m - last.y_m, was.z_m - last.z_m);
        let level = dx.hypot(dy);
        if dz.abs() > level {
            by.up_m = 0.0;
        } else if dy.abs() <= 0.01 * level {
            by.x_m = 0.0;
        } else if dx.abs() <= 0.01 * level {
            by.y_m = 0.0;
        } else {
            by.x_m = 0.0;
            by.y_m = 0.0;
        }
        if by.x_m == 0.0 && by.y_m == 0.0 && by.up_m == 0.0 {
            return;
        }
        move_corner(corner, by);
        last = was;
    }
}
