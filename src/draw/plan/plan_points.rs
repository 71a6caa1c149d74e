//! Positions of parts in the plan; parts without a place are set out in a row.

use super::outline::place;
use crate::draw::page::view::{Bounds, at};
use crate::draw::parts::fall;
use crate::draw::parts::fall::StandingPart;
use crate::geometry::Corner;
use crate::layout::{Fixed, Id, Joint, Layout, Place, Vessel};
use std::collections::HashMap;

/// Gap between vessels in the row, and between the row and the parts with a place, metres.
const GAP_M: f64 = 0.6;
/// Size of a fixed level in the row, metres.
const FIXED_M: f64 = 1.0;
/// Size of a joint in the row, metres.
const JOINT_M: f64 = 0.2;

/// Middle of every part in the plan, at its floor, level or centre. Lists are in the order of the layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct PlanPoints {
    pub vessels: Vec<Corner>,
    pub fixed: Vec<Corner>,
    pub joints: Vec<Corner>,
    /// Parts in the row, from its left.
    pub row: Vec<StandingPart>,
    /// Lower and upper edge of the row, metres.
    pub row_low_high_m: (f64, f64),
}

/// Returns the position of every part of a layout in the plan.
///
/// If several parts are at 0, 0, they have no place, since that is the default in a file. They are set out below all
/// parts with a place, in the order in which water falls.
pub(super) fn plan_points(layout: &Layout) -> PlanPoints {
    let corner = |place: &Place, z_m: f64| Corner::at(place.x_m, place.y_m, z_m);
    let vessel = |part: &Vessel| corner(&part.place, part.floor_m);
    let fixed = |part: &Fixed| corner(&part.place, part.level_m);
    let joint = |part: &Joint| corner(&part.place, part.elevation_m);
    let mut places = PlanPoints {
        vessels: layout.vessels.iter().map(vessel).collect(),
        fixed: layout.fixed.iter().map(fixed).collect(),
        joints: layout.joints.iter().map(joint).collect(),
        ..PlanPoints::default()
    };
    let order = fall::in_order(layout).into_iter();
    let row: Vec<StandingPart> = order.filter(|thing| places.is_at_origin(*thing)).collect();
    if row.len() > 1 {
        set_out(layout, &mut places, row);
    }
    places
}

impl PlanPoints {
    /// Returns the middle of a part.
    pub fn of(&self, thing: StandingPart) -> Option<Corner> {
        match thing {
            StandingPart::Vessel(index) => self.vessels.get(index).copied(),
            StandingPart::Fixed(index) => self.fixed.get(index).copied(),
            StandingPart::Joint(index) => self.joints.get(index).copied(),
        }
    }

    fn is_at_origin(&self, thing: StandingPart) -> bool {
        self.of(thing)
            .is_some_and(|place| place.x_m == 0.0 && place.y_m == 0.0)
    }

    fn set(&mut self, thing: StandingPart, x_m: f64, y_m: f64) {
        let place = match thing {
            StandingPart::Vessel(index) => self.vessels.get_mut(index),
            StandingPart::Fixed(index) => self.fixed.get_mut(index),
            StandingPart::Joint(index) => self.joints.get_mut(index),
        };
        if let Some(place) = place {
            (place.x_m, place.y_m) = (x_m, y_m);
        }
    }
}

/// Sets out the row: side by side, below all parts with a place.
fn set_out(layout: &Layout, places: &mut PlanPoints, row: Vec<StandingPart>) {
    let size = |thing: &StandingPart| match thing {
        StandingPart::Vessel(index) => layout.vessels.get(*index).map_or((0.0, 0.0), extent),
        StandingPart::Fixed(_) => (FIXED_M, FIXED_M),
        StandingPart::Joint(_) => (JOINT_M, JOINT_M),
    };
    let sizes: Vec<(f64, f64)> = row.iter().map(size).collect();
    let height = sizes.iter().map(|size| size.1).fold(0.0, f64::max);
    let given = given(layout, places, &row);
    let (left, middle) = match given {
        Some(given) => (given.left_m, given.low_m - GAP_M - height / 2.0),
        None => (0.0, 0.0),
    };
    let mut x_m = left;
    for (thing, (width, _)) in row.iter().zip(&sizes) {
        places.set(*thing, x_m + width / 2.0, middle);
        x_m += width + GAP_M;
    }
    places.row = row;
    places.row_low_high_m = (middle - height / 2.0, middle + height / 2.0);
}

/// Returns the extent of all parts with a place; `None` if there are none.
fn given(layout: &Layout, places: &PlanPoints, row: &[StandingPart]) -> Option<Bounds> {
    if row.len() == layout.vessels.len() + layout.fixed.len() + layout.joints.len() {
        return None;
    }
    let taken: std::collections::HashSet<&StandingPart> = row.iter().collect();
    let vessels = layout.vessels.iter().zip(&places.vessels).enumerate();
    let vessels = vessels.filter(|(index, _)| !taken.contains(&StandingPart::Vessel(*index)));
    let corners = vessels.flat_map(|(_, (part, middle))| {
        let (width, height) = extent(part);
        [-0.5, 0.5].map(|half| at(middle.x_m + half * width, middle.y_m + half * height))
    });
    let fixed = places.fixed.iter().enumerate();
    let fixed = fixed.filter(|(index, _)| !taken.contains(&StandingPart::Fixed(*index)));
    let joints = places.joints.iter().enumerate();
    let joints = joints.filter(|(index, _)| !taken.contains(&StandingPart::Joint(*index)));
    let points = fixed.chain(joints).map(|(_, one)| at(one.x_m, one.y_m));
    let routes = layout.runs.iter().flat_map(|run| &run.route);
    let routes = routes.filter(|corner| corner.x_m != 0.0 || corner.y_m != 0.0);
    let routes = routes.map(|corner| at(corner.x_m, corner.y_m));
    Some(Bounds::of(corners.chain(points).chain(routes)))
}

/// Returns width and height of the bounding rectangle of a vessel, metres.
fn extent(part: &Vessel) -> (f64, f64) {
    let bounds = super::outline::Outline::of(part, place(0.0, 0.0)).bounds();
    (bounds.right_m - bounds.left_m, bounds.high_m - bounds.low_m)
}

/// Returns every part that a run can end at, by id.
pub(super) fn things(layout: &Layout) -> HashMap<&Id, StandingPart> {
    let vessels = layout.vessels.iter().enumerate();
    let fixed = layout.fixed.iter().enumerate();
    let joints = layout.joints.iter().enumerate();
    vessels
        .map(|(index, part)| (&part.id, StandingPart::Vessel(index)))
        .chain(fixed.map(|(index, part)| (&part.id, StandingPart::Fixed(index))))
        .chain(joints.map(|(index, part)| (&part.id, StandingPart::Joint(index))))
        .collect()
}
