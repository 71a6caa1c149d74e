//! Finds the target under the pointer.
//!
//! Small targets win over large ones: handles, then pumps and joints, then runs, then vessels. Among equals the
//! nearest wins, and at equal distance the front one.

use crate::draw::page::shape::{Point, pt};
use crate::draw::section::{Pick, TouchArea, TouchTarget};

/// The target under `point`, with a pick tolerance around small ones.
pub fn at(targets: &[TouchTarget], point: Point, tolerance: f64) -> Option<&TouchTarget> {
    let mut best: Option<(&TouchTarget, (u8, f64))> = None;
    for target in targets {
        let Some(off) = distance(&target.reach, point, tolerance) else {
            continue;
        };
        let rank = (class(target), off);
        if best.is_none_or(|(_, held)| rank.0 < held.0 || (rank.0 == held.0 && rank.1 <= held.1)) {
            best = Some((target, rank));
        }
    }
    best.map(|(target, _)| target)
}

fn class(target: &TouchTarget) -> u8 {
    match (&target.pick, &target.reach) {
        (Pick::Crest { .. } | Pick::Rim(_) | Pick::Floor(_) | Pick::Corner { .. }, _) => 0,
        (_, TouchArea::Spot { .. }) => 1,
        (_, TouchArea::Line { .. }) => 2,
        (_, TouchArea::Area(_) | TouchArea::Disc { .. } | TouchArea::Polygon(_)) => 3,
    }
}

/// Distance of `point` from a shape, points; none beyond the tolerance.
fn distance(reach: &TouchArea, point: Point, tolerance: f64) -> Option<f64> {
    match reach {
        TouchArea::Spot { centre, radius } => within(centre.distance(point), radius + tolerance),
        TouchArea::Area(rect) => rect.holds(point).then_some(0.0),
        TouchArea::Disc { centre, radius } => (centre.distance(point) <= *radius).then_some(0.0),
        TouchArea::Polygon(corners) => holds(corners, point).then_some(0.0),
        TouchArea::Line { points, half_width } => {
            let off = points
                .windows(2)
                .filter_map(|pair| match *pair {
                    [from, to] => Some(off_leg(point, from, to)),
                    _ => None,
                })
                .fold(f64::INFINITY, f64::min);
            within(off, half_width + tolerance)
        }
    }
}

fn within(off: f64, most: f64) -> Option<f64> {
    (off <= most).then_some(off)
}

/// Distance of a point from a leg, points.
fn off_leg(point: Point, from: Point, to: Point) -> f64 {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let length2 = dx * dx + dy * dy;
    let share = if length2 > 0.0 {
        (((point.x - from.x) * dx + (point.y - from.y) * dy) / length2).clamp(0.0, 1.0)
    } else {
        0.0
    };
    point.distance(pt(from.x + dx * share, from.y + dy * share))
}

/// A convex polygon contains a point that is on one side of all its edges, or on one of them.
fn holds(corners: &[Point], point: Point) -> bool {
    let next = corners.iter().cycle().skip(1);
    let (mut left, mut right) = (false, false);
    for (from, to) in corners.iter().zip(next) {
        let side = (to.x - from.x) * (point.y - from.y) - (to.y - from.y) * (point.x - from.x);
        left |= side > 0.0;
        right |= side < 0.0;
    }
    corners.len() > 2 && !(left && right)
}
