//! The corners of a proposed run: where it leaves, its way, where it enters.

use super::ends::{EndPart, millimetres};
use crate::geometry::Corner;
use crate::layout::{End, Layout, Opening, Turned};

/// The fall of a gravity run per metre.
///
/// Common practice, no source: a centimetre on a metre.
pub(super) const FALL: f64 = 0.01;
/// Least depth of a pipe below a floor, metres.
pub(super) const UNDER_FLOOR_M: f64 = 0.08;
/// Least height of a pipe above a rim, metres.
const OVER_RIM_M: f64 = 0.12;

/// Corners of a gravity run, without its ends.
pub(super) fn falling(layout: &Layout, ends: [&End; 2], via: &[(f64, f64)]) -> Vec<Corner> {
    let [first, last] = ends.map(|end| layout.corner_at(end));
    let leaves_m = leaves_m(layout, ends[0], first.z_m, last.z_m);
    let mut plan = vec![(first.x_m, first.y_m)];
    plan.extend(via);
    plan.push((last.x_m, last.y_m));
    let whole = length_m(&plan);
    // Down to the end, except an end that faces down, which is reached from above.
    let faces_down = faces(ends[1].opening.as_ref(), Turned::Down);
    let lowest_m = if faces_down {
        last.z_m + 0.05
    } else {
        last.z_m
    };
    let arrives_m = (leaves_m - FALL * whole).max(lowest_m.min(leaves_m));
    let mut corners = Vec::new();
    let mut gone = 0.0;
    for (index, place) in plan.iter().enumerate() {
        let before = index.checked_sub(1).and_then(|before| plan.get(before));
        gone += before.map_or(0.0, |before| apart_m(*before, *place));
        let share = if whole > 0.0 { gone / whole } else { 1.0 };
        corners.push(corner(*place, leaves_m + (arrives_m - leaves_m) * share));
    }
    between(corners, [first, last])
}

/// The height at which a gravity run leaves its vessel, metres.
fn leaves_m(layout: &Layout, from: &End, crest_m: f64, to_m: f64) -> f64 {
    let (Some(Opening::Upstand { .. }), Some(vessel)) = (&from.opening, layout.vessel(&from.at))
    else {
        return crest_m;
    };
    let under_m = vessel.floor_m - UNDER_FLOOR_M;
    if under_m >= to_m {
        return under_m;
    }
    // Below the floor it would have to rise again: it leaves through the wall.
    (to_m + 0.02).clamp(vessel.floor_m, crest_m.max(vessel.floor_m))
}

/// Corners of a pumped run: up, over every rim on the way, and down.
pub(super) fn lifted(
    layout: &Layout,
    (ends, parts): ([&End; 2], [EndPart<'_>; 2]),
    via: &[(f64, f64)],
) -> Vec<Corner> {
    let [first, last] = ends.map(|end| layout.corner_at(end));
    let top = parts.map(|part| match part {
        EndPart::Joint(joint) => joint.elevation_m - OVER_RIM_M,
        other => other.top_m(),
    });
    let high_m = (top[0].max(top[1]) + OVER_RIM_M).max(last.z_m + 0.05);
    let mut plan = vec![(first.x_m, first.y_m)];
    plan.extend(via);
    plan.push((last.x_m, last.y_m));
    let corners = plan.iter().map(|place| corner(*place, high_m)).collect();
    between(corners, [first, last])
}

/// Corners of a run between two ends of one height.
pub(super) fn level(layout: &Layout, ends: [&End; 2], via: &[(f64, f64)]) -> Vec<Corner> {
    let [first, last] = ends.map(|end| layout.corner_at(end));
    let corners = via
        .iter()
        .map(|place| corner(*place, first.z_m.min(last.z_m)));
    between(corners.collect(), [first, last])
}

/// Returns the corners that are neither an end nor in line with their neighbours.
fn between(corners: Vec<Corner>, [first, last]: [Corner; 2]) -> Vec<Corner> {
    let mut all = vec![first];
    all.extend(corners);
    all.push(last);
    simplified(&all)
}

/// The inner corners of a line, without repeated ones and those on a straight leg.
pub(super) fn simplified(all: &[Corner]) -> Vec<Corner> {
    let mut kept: Vec<Corner> = Vec::new();
    for (index, corner) in all.iter().enumerate() {
        let last = index + 1 == all.len();
        if let (Some(before), false) = (kept.last(), last) {
            let next = all.get(index + 1).copied().unwrap_or(*corner);
            let here = before.distance_m(*corner);
            let straight = here + corner.distance_m(next) - before.distance_m(next) < 1e-6;
            if here < 1e-6 || straight {
                continue;
            }
        }
        kept.push(*corner);
    }
    let inner = kept.get(1..kept.len().saturating_sub(1));
    inner.unwrap_or_default().to_vec()
}

fn corner((x_m, y_m): (f64, f64), z_m: f64) -> Corner {
    Corner::at(millimetres(x_m), millimetres(y_m), millimetres(z_m))
}

pub(super) fn length_m(plan: &[(f64, f64)]) -> f64 {
    plan.windows(2)
        .map(|pair| match *pair {
            [from, to] => apart_m(from, to),
            _ => 0.0,
        })
        .sum()
}

fn apart_m(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

fn faces(opening: Option<&Opening>, way: Turned) -> bool {
    matches!(opening, Some(Opening::Mouth { turned, .. }) if *turned == way)
}
