//! Finds overlapping vessels, and free places for new ones.

use super::Shift;
use crate::geometry::{PlanPoint, overlap};
use crate::layout::{Id, Layout, Vessel};

/// Walls that overlap by less than this only touch, metres.
const TOUCH_M: f64 = 0.01;
/// Corners of the polygon for a round vessel.
const CORNERS: u16 = 24;
/// Most pairs reported.
const MOST: usize = 20;
/// Most displacements tried.
const MOST_STEPS: u32 = 400;

/// The space that a vessel takes, with its limits in x and in height.
struct VesselBody<'a> {
    id: &'a Id,
    outline: Vec<PlanPoint>,
    left_m: f64,
    right_m: f64,
    low_m: f64,
    high_m: f64,
}

/// The vessels that overlap in the plan and in height. The first few pairs.
pub fn overlaps(layout: &Layout) -> Vec<[Id; 2]> {
    let mut bodies: Vec<VesselBody<'_>> = layout.vessels.iter().map(body).collect();
    bodies.sort_by(|a, b| a.left_m.total_cmp(&b.left_m));
    let mut found = Vec::new();
    for (index, one) in bodies.iter().enumerate() {
        let next = bodies.iter().skip(index + 1);
        for other in next.take_while(|other| other.left_m < one.right_m - TOUCH_M) {
            if meets(one, other) {
                found.push([one.id.clone(), other.id.clone()]);
            }
            if found.len() == MOST {
                return found;
            }
        }
    }
    found
}

/// Steps to the side that bring copies clear of all vessels and tees of the layout: at least `least`. Where none of
/// the first few hundred is free, `least`.
pub fn clear_of(layout: &Layout, picked: &Layout, step: Shift, least: u32) -> Shift {
    let bodies: Vec<VesselBody<'_>> = layout.vessels.iter().map(body).collect();
    let is_free = |by: &Shift| {
        let apart = |one: &Vessel| {
            let mut one = one.clone();
            one.place.x_m += by.x_m;
            one.place.y_m += by.y_m;
            let one = body(&one).outline;
            // At any height: in the plan it would hide the other part.
            !bodies
                .iter()
                .any(|other| overlap(&one, &other.outline, TOUCH_M))
        };
        let spots = |layout: &Layout| -> Vec<(f64, f64)> {
            let joints = layout.joints.iter().map(|part| part.place);
            let places = joints.chain(layout.fixed.iter().map(|part| part.place));
            places.map(|place| (place.x_m, place.y_m)).collect()
        };
        let there = spots(layout);
        let off = |(x_m, y_m): &(f64, f64)| {
            let near = |at: &(f64, f64)| (at.0 - x_m - by.x_m).hypot(at.1 - y_m - by.y_m) < TOUCH_M;
            !there.iter().any(near)
        };
        picked.vessels.iter().all(apart) && spots(picked).iter().all(off)
    };
    let by = |steps: u32| {
        let far = f64::from(steps);
        Shift {
            x_m: step.x_m * far,
            y_m: step.y_m * far,
            along_m: step.along_m * far,
            up_m: step.up_m * far,
        }
    };
    let mut tried = (least..least + MOST_STEPS).map(by);
    tried.find(is_free).unwrap_or_else(|| by(least))
}

fn meets(one: &VesselBody<'_>, other: &VesselBody<'_>) -> bool {
    let high_m = one.high_m.min(other.high_m) - one.low_m.max(other.low_m);
    high_m > TOUCH_M && overlap(&one.outline, &other.outline, TOUCH_M)
}

fn body(vessel: &Vessel) -> VesselBody<'_> {
    let outline = outline(vessel);
    let x = outline.iter().map(|spot| spot.x_m);
    VesselBody {
        id: &vessel.id,
        left_m: x.clone().fold(f64::INFINITY, f64::min),
        right_m: x.fold(f64::NEG_INFINITY, f64::max),
        outline,
        low_m: vessel.floor_m,
        high_m: vessel.rim_m,
    }
}

fn outline(vessel: &Vessel) -> Vec<PlanPoint> {
    let (long_m, wide_m) = vessel.shape.footprint_m();
    let place = vessel.place;
    let (sin, cos) = place.turned_deg.to_radians().sin_cos();
    let corner = |(along, across): (f64, f64)| PlanPoint {
        x_m: place.x_m + along * cos - across * sin,
        y_m: place.y_m + along * sin + across * cos,
    };
    let (half, side) = (long_m / 2.0, wide_m / 2.0);
    if vessel.shape.is_round() {
        let around = (0..CORNERS).map(|step| {
            let angle = f64::from(step) / f64::from(CORNERS) * std::f64::consts::TAU;
            (half * angle.cos(), half * angle.sin())
        });
        return around.map(corner).collect();
    }
    let corners = [(half, side), (-half, side), (-half, -side), (half, -side)];
    corners.map(corner).to_vec()
}
