//! Crossings of runs in the plan, runs under vessels, and vessels under one another.

use super::buckets::Buckets;
use super::outline::{Outline, between};
use super::plan_run::{Gap, PlanLeg, PlanRun};
use crate::draw::page::view::Bounds;
use crate::geometry::Corner;

/// Distance up to which a point is on a line, metres.
const ON_M: f64 = 1e-9;
/// Most pairs of legs that are checked; with more, nobody can follow a line anyway.
const MOST_PAIRS: usize = 4_000_000;
/// Distance below a floor up to which a run is not hidden by it, metres.
const UNDER_M: f64 = 1e-6;

/// Returns where two legs cross, as shares of each; `None` if they only touch, end on one another or lie along one
/// another. Each leg is given with the far end of the leg that follows it, if any: a corner that lies on the other leg
/// is a crossing if the run continues on its other side.
pub(super) fn crossing(
    one: (Corner, Corner, Option<Corner>),
    other: (Corner, Corner, Option<Corner>),
) -> Option<(f64, f64)> {
    let (p, q, next) = one;
    let (r, s, after) = other;
    let (a, b) = (off_m((r, s), p), off_m((r, s), q));
    let (c, d) = (off_m((p, q), r), off_m((p, q), s));
    let apart = |one: f64, other: f64| (one > 0.0 && other < 0.0) || (one < 0.0 && other > 0.0);
    let goes_on = |line: (Corner, Corner), before: f64, next: Option<Corner>| {
        next.is_some_and(|next| apart(before, off_m(line, next)))
    };
    let through = apart(a, b) && apart(c, d);
    let at_corner = b == 0.0 && apart(c, d) && goes_on((r, s), a, next);
    let at_other = d == 0.0 && apart(a, b) && goes_on((p, q), c, after);
    (through || at_corner || at_other).then(|| (a / (a - b), c / (c - d)))
}

/// Returns the distance of a point from a line, metres, positive to its left; 0 on the line.
fn off_m(line: (Corner, Corner), at: Corner) -> f64 {
    let (from, to) = line;
    let (dx, dy) = (to.x_m - from.x_m, to.y_m - from.y_m);
    let cross = dx * (at.y_m - from.y_m) - dy * (at.x_m - from.x_m);
    let off = cross / dx.hypot(dy);
    if off.abs() <= ON_M { 0.0 } else { off }
}

/// A leg, the index of its run, and the end of the next leg.
struct CrossingLeg<'c> {
    run: usize,
    leg: &'c PlanLeg,
    next: Option<Corner>,
}

/// Finds where runs cross; the lower one gets a gap.
pub(super) fn find_gaps(courses: &mut [PlanRun]) {
    let all: Vec<CrossingLeg<'_>> = courses
        .iter()
        .enumerate()
        .flat_map(|(run, course)| found(run, course))
        .collect();
    let bounds: Vec<Bounds> = all.iter().map(|one| around(one.leg)).collect();
    let buckets = Buckets::new(&bounds);
    let (mut near, mut pairs) = (Vec::new(), 0);
    let mut gaps: Vec<(usize, Gap)> = Vec::new();
    for (index, (one, area)) in all.iter().zip(&bounds).enumerate() {
        buckets.near(area, &mut near);
        pairs += near.len();
        if pairs > MOST_PAIRS {
            break;
        }
        let later = near.iter().filter(|other| **other > index);
        gaps.extend(later.filter_map(|other| gap(one, all.get(*other)?)));
    }
    drop(all);
    for (run, gap) in gaps {
        if let Some(course) = courses.get_mut(run) {
            course.gaps.push(gap);
        }
    }
}

fn found(run: usize, course: &PlanRun) -> impl Iterator<Item = CrossingLeg<'_>> {
    let next = course.legs.iter().skip(1).map(|leg| Some(leg.to));
    let legs = course.legs.iter().zip(next.chain(std::iter::once(None)));
    legs.map(move |(leg, next)| CrossingLeg { run, leg, next })
}

/// Returns the gap at a crossing and the run that has it: the lower one, or at equal heights the one drawn later.
fn gap(one: &CrossingLeg<'_>, other: &CrossingLeg<'_>) -> Option<(usize, Gap)> {
    let legs = [one.leg, other.leg];
    let (first, second) = crossing(
        (legs[0].from, legs[0].to, one.next),
        (legs[1].from, legs[1].to, other.next),
    )?;
    let z_m = |leg: &PlanLeg, share: f64| between(leg.from, leg.to, share).z_m;
    let (low, share, over) = if z_m(legs[0], first) < z_m(legs[1], second) {
        (one, first, other.run)
    } else {
        (other, second, one.run)
    };
    let gap = Gap {
        at_m: low.leg.start_m + share * low.leg.plan_m(),
        over,
        sine: sine(legs[0], legs[1]),
    };
    Some((low.run, gap))
}

/// Returns the sine of the angle between two legs that are not parallel.
fn sine(a: &PlanLeg, b: &PlanLeg) -> f64 {
    let (ax, ay) = (a.to.x_m - a.from.x_m, a.to.y_m - a.from.y_m);
    let (bx, by) = (b.to.x_m - b.from.x_m, b.to.y_m - b.from.y_m);
    ((ax * by - ay * bx) / (ax.hypot(ay) * bx.hypot(by)))
        .abs()
        .max(1e-6)
}

fn around(leg: &PlanLeg) -> Bounds {
    Bounds {
        left_m: leg.from.x_m.min(leg.to.x_m),
        right_m: leg.from.x_m.max(leg.to.x_m),
        low_m: leg.from.y_m.min(leg.to.y_m),
        high_m: leg.from.y_m.max(leg.to.y_m),
    }
}

/// Finds where runs are under the floor of a vessel.
pub(super) fn find_hidden(courses: &mut [PlanRun], vessels: &[Outline]) {
    let bounds: Vec<Bounds> = vessels.iter().map(Outline::bounds).collect();
    let buckets = Buckets::new(&bounds);
    let (mut near, mut pairs) = (Vec::new(), 0);
    for course in courses {
        let mut hidden: Vec<(f64, f64)> = Vec::new();
        for leg in &course.legs {
            buckets.near(&around(leg), &mut near);
            pairs += near.len();
            if pairs > MOST_PAIRS {
                break;
            }
            let over = near.iter().filter_map(|index| vessels.get(*index));
            hidden.extend(over.filter_map(|vessel| under(leg, vessel)));
        }
        course.hidden = joined(hidden);
    }
}

/// Returns the part of a leg that is under a vessel, metres along its run.
fn under(leg: &PlanLeg, vessel: &Outline) -> Option<(f64, f64)> {
    let (mut enter, mut leave) = vessel.inside(leg.from, leg.to)?;
    let floor_m = vessel.middle.z_m - UNDER_M;
    let (start, end) = (leg.from.z_m - floor_m, leg.to.z_m - floor_m);
    if start >= 0.0 && end >= 0.0 {
        return None;
    }
    // Share of the leg at which it passes the height of the floor.
    let through = start / (start - end);
    if start > 0.0 {
        enter = enter.max(through);
    } else if end > 0.0 {
        leave = leave.min(through);
    }
    let plan_m = leg.plan_m();
    let hidden = (leg.start_m + enter * plan_m, leg.start_m + leave * plan_m);
    (enter < leave).then_some(hidden)
}

/// Sorts spans and merges those that meet.
pub(super) fn joined(mut spans: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut joined: Vec<(f64, f64)> = Vec::new();
    for span in spans {
        match joined.last_mut() {
            Some(last) if span.0 <= last.1 => last.1 = last.1.max(span.1),
            _ => joined.push(span),
        }
    }
    joined
}

/// Returns the pieces of vessel edges that are under a higher vessel, with the index of the lower one.
pub(super) fn covered_edges(vessels: &[Outline], order: &[usize]) -> Vec<(usize, [Corner; 2])> {
    let bounds: Vec<Bounds> = vessels.iter().map(Outline::bounds).collect();
    let buckets = Buckets::new(&bounds);
    let mut rank = vec![0; vessels.len()];
    for (place, index) in order.iter().enumerate() {
        if let Some(slot) = rank.get_mut(*index) {
            *slot = place;
        }
    }
    let (mut near, mut pairs, mut edges) = (Vec::new(), 0, Vec::new());
    for (index, (one, area)) in vessels.iter().zip(&bounds).enumerate() {
        buckets.near(area, &mut near);
        pairs += near.len();
        if pairs > MOST_PAIRS {
            break;
        }
        let is_over = |other: &&usize| rank.get(**other) > rank.get(index);
        for higher in near
            .iter()
            .filter(is_over)
            .filter_map(|other| vessels.get(*other))
        {
            let corners = one.corners(one.form);
            let next = corners.iter().cycle().skip(1);
            let inside = corners.iter().zip(next).filter_map(|(from, to)| {
                let (enter, leave) = higher.inside(*from, *to)?;
                Some([between(*from, *to, enter), between(*from, *to, leave)])
            });
            edges.extend(inside.map(|edge| (index, edge)));
        }
    }
    edges
}
