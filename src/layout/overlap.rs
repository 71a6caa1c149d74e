//! Vessels that overlap.

use super::{Id, Layout, Pipe, Vessel};
use crate::geometry::{PlanPoint, overlap_m};

/// Overlap up to which two vessels count as touching, metres: setting out by tape is no more exact. A choice.
pub const TOUCH_M: f64 = 0.01;
/// Rounding error of a sum of lengths, metres.
const ROUNDED_M: f64 = 1e-9;
/// Number of corners that approximate a round vessel.
const CORNERS: u16 = 24;
/// Most pairs reported.
const MOST: usize = 20;

/// Two vessels that overlap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overlap<'a> {
    /// Ids of the two vessels.
    pub vessels: [&'a Id; 2],
    /// Depth of the overlap, in the plan or in height, whichever is less, metres.
    pub by_m: f64,
}

/// A vessel with its outline in the plan and the extent of that in x.
struct Body<'a> {
    vessel: &'a Vessel,
    outline: Vec<PlanPoint>,
    left_m: f64,
    right_m: f64,
}

/// Returns the first few pairs of vessels that overlap both in the plan and in height.
///
/// Vessels without a place in the plan are left out. Two vessels that are joined by an opening without a pipe, or of
/// which one spills into the other, are meant to overlap: a basket in a pit, a chamber in a pond.
pub fn overlaps(layout: &Layout) -> Vec<Overlap<'_>> {
    let placed = layout.vessels.iter().filter(|vessel| has_place(vessel));
    let mut bodies: Vec<Body<'_>> = placed.map(body).collect();
    bodies.sort_by(|a, b| a.left_m.total_cmp(&b.left_m));
    let mut found = Vec::new();
    for (index, one) in bodies.iter().enumerate() {
        let next = bodies.iter().skip(index + 1);
        for other in next.take_while(|other| other.left_m < one.right_m - TOUCH_M) {
            let by_m = meets_m(one, other);
            if by_m > TOUCH_M + ROUNDED_M && !is_meant(layout, one.vessel, other.vessel) {
                let vessels = [&one.vessel.id, &other.vessel.id];
                found.push(Overlap { vessels, by_m });
            }
            if found.len() == MOST {
                return found;
            }
        }
    }
    found
}

/// Returns whether the vessel was given a place; the origin of the plan means none.
fn has_place(vessel: &Vessel) -> bool {
    let place = vessel.place;
    place.x_m != 0.0 || place.y_m != 0.0
}

/// Returns whether one vessel spills into the other, or a run without a pipe joins them.
fn is_meant(layout: &Layout, one: &Vessel, other: &Vessel) -> bool {
    let spills = |from: &Vessel, to: &Vessel| from.spills_to.as_ref() == Some(&to.id);
    let ends = [&one.id, &other.id];
    let mut runs = layout.runs.iter().filter(|run| run.pipe == Pipe::Open);
    spills(one, other)
        || spills(other, one)
        || runs.any(|run| {
            run.from.at != run.to.at
                && [&run.from.at, &run.to.at]
                    .iter()
                    .all(|at| ends.contains(at))
        })
}

fn meets_m(one: &Body<'_>, other: &Body<'_>) -> f64 {
    let top_m = one.vessel.rim_m.min(other.vessel.rim_m);
    let high_m = top_m - one.vessel.floor_m.max(other.vessel.floor_m);
    high_m.min(overlap_m(&one.outline, &other.outline))
}

fn body(vessel: &Vessel) -> Body<'_> {
    let outline = vessel.outline();
    let x = outline.iter().map(|spot| spot.x_m);
    Body {
        vessel,
        left_m: x.clone().fold(f64::INFINITY, f64::min),
        right_m: x.fold(f64::NEG_INFINITY, f64::max),
        outline,
    }
}

impl Vessel {
    /// Returns the outline of the vessel in the plan, as a polygon.
    pub fn outline(&self) -> Vec<PlanPoint> {
        let (long_m, wide_m) = self.shape.footprint_m();
        let place = self.place;
        let (sin, cos) = place.turned_deg.to_radians().sin_cos();
        let corner = |(along, across): (f64, f64)| PlanPoint {
            x_m: place.x_m + along * cos - across * sin,
            y_m: place.y_m + along * sin + across * cos,
        };
        let (half, side) = (long_m / 2.0, wide_m / 2.0);
        if self.shape.is_round() {
            let around = (0..CORNERS).map(|step| {
                let angle = f64::from(step) / f64::from(CORNERS) * std::f64::consts::TAU;
                (half * angle.cos(), half * angle.sin())
            });
            return around.map(corner).collect();
        }
        let corners = [(half, side), (-half, side), (-half, -side), (half, -side)];
        corners.map(corner).to_vec()
    }
}
