//! Finds free places for new vessels.

use super::Shift;
use crate::geometry::{PlanPoint, overlap};
use crate::layout::{Layout, TOUCH_M, Vessel};

/// Most displacements tried.
const MOST_STEPS: u32 = 400;

/// Returns a shift by whole steps, at least `least`, that brings copies clear of all vessels, joints and fixed levels
/// of the layout; `least` steps where none of the first few hundred is clear.
pub fn clear_of(layout: &Layout, picked: &Layout, step: Shift, least: u32) -> Shift {
    let bodies: Vec<Vec<PlanPoint>> = layout.vessels.iter().map(Vessel::outline).collect();
    let is_free = |by: &Shift| {
        let apart = |one: &Vessel| {
            let mut one = one.clone();
            one.place.x_m += by.x_m;
            one.place.y_m += by.y_m;
            let one = one.outline();
            // Heights do not count: in the plan it would hide what is there.
            !bodies.iter().any(|other| overlap(&one, other, TOUCH_M))
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
