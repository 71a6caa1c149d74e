//! Routing of runs without a given route: horizontal and vertical legs that leave and arrive as the openings face.
//!
//! A few candidates are compared by cost. The cost is a choice: short, with few corners, no pocket in a falling run,
//! and above all not through vessels.

use super::run_end_points::{Connection, RunEndPoint};
use super::standing::PartOnPage;
use crate::draw::page::view::{SectionPoint, at};

/// Costs of a corner, a rise in a falling run, turning back, and passing through the run's own and another vessel, in
/// lengths of the whole section.
const CORNER: f64 = 0.03;
const RISE: f64 = 0.25;
const BACK: f64 = 3.0;
const OWN_BODY: f64 = 1.0;
const OTHER_BODY: f64 = 0.2;
/// Cost of a standing pipe that leaves through the wall and not through the floor.
const BY_THE_WALL: f64 = 0.12;

/// Properties of the section that routes depend on.
#[derive(Clone, Copy)]
pub struct RoutingContext<'a> {
    /// Clearance of legs from what they pass, metres along and up.
    pub off: SectionPoint,
    /// Length and height of the section, metres, above 0.
    pub size: SectionPoint,
    /// All vessels; empty if there are too many to check.
    pub vessels: &'a [PartOnPage],
}

/// A way out of a vessel: an optional corner inside and the first point outside.
#[derive(Clone, Copy)]
struct Exit {
    corner: Option<SectionPoint>,
    out: SectionPoint,
    cost: f64,
}

/// Returns the corners of the cheapest route between the two ends, which are not included.
pub fn drawn_for(
    ends: &[RunEndPoint; 2],
    standing: [Option<&PartOnPage>; 2],
    routing: RoutingContext<'_>,
    lift: RouteKind,
) -> Vec<SectionPoint> {
    if ends.iter().all(|end| end.meets == Connection::Joint) {
        return Vec::new();
    }
    let mut best: Option<(f64, Vec<SectionPoint>)> = None;
    let off = stand_off(standing, routing.off);
    for first in exits(&ends[0], standing[0], ends[1].at, off) {
        for last in exits(&ends[1], standing[1], ends[0].at, off) {
            let tried = RouteTried {
                ends,
                standing,
                routing,
                lift,
                exits: [first, last],
            };
            tried.all(&mut best);
        }
    }
    best.map(|(_, line)| inner(&line)).unwrap_or_default()
}

/// Whether water falls through a run or is pumped.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum RouteKind {
    /// It falls from the start to the end.
    Falls,
    /// A pump lifts it.
    Pumped,
}

fn inner(line: &[SectionPoint]) -> Vec<SectionPoint> {
    let last = line.len().saturating_sub(1);
    line.get(1..last).unwrap_or_default().to_vec()
}

/// Returns the clearance of legs, at most half of the gap between the two vessels.
fn stand_off(standing: [Option<&PartOnPage>; 2], off: SectionPoint) -> SectionPoint {
    let [Some(a), Some(b)] = standing else {
        return off;
    };
    let half = |gap: f64, most: f64| if gap > 0.0 { most.min(gap / 2.0) } else { most };
    let beside = (b.left_m() - a.right_m()).max(a.left_m() - b.right_m());
    let over = (a.floor_m - b.rim_m).max(b.floor_m - a.rim_m);
    // For vessels side by side the height is not limited, for vessels above one another the width is not.
    let up = if beside > 0.0 {
        off.z_m
    } else {
        half(over, off.z_m)
    };
    at(half(beside, off.along_m), up)
}

/// Returns the exits of one end, at least `off` from its vessel; `other` is the other end of the run.
fn exits(
    spot: &RunEndPoint,
    standing: Option<&PartOnPage>,
    other: SectionPoint,
    off: SectionPoint,
) -> Vec<Exit> {
    let place = spot.at;
    let plain = |out: SectionPoint| Exit {
        corner: None,
        out,
        cost: 0.0,
    };
    let Some(one) = standing else {
        return vec![plain(place)];
    };
    let beside = |z_m: f64| {
        let half = one.half_width_m(z_m.max(one.floor_m));
        one.along_m + spot.side * (half + off.along_m)
    };
    let under = place.z_m.min(one.floor_m) - off.z_m;
    match spot.meets {
        Connection::Joint => vec![plain(place)],
        Connection::Floor => vec![plain(at(place.along_m, under))],
        Connection::DownMouth => vec![plain(at(place.along_m, place.z_m.max(one.rim_m) + off.z_m))],
        Connection::Wall | Connection::LevelMouth | Connection::Raised => {
            vec![plain(at(beside(place.z_m), place.z_m))]
        }
        Connection::Upstand | Connection::UpMouth => {
            let mut exits = vec![plain(at(place.along_m, under))];
            // A leg below the floor and up again would be a pocket.
            let room = 0.1 * (one.rim_m - one.floor_m);
            if other.z_m > one.floor_m - room && place.z_m > one.floor_m + room {
                let z_m = other.z_m.clamp(one.floor_m + room, place.z_m);
                exits.push(Exit {
                    corner: Some(at(place.along_m, z_m)),
                    out: at(beside(z_m), z_m),
                    cost: BY_THE_WALL,
                });
            }
            exits
        }
    }
}

/// Two exits to be joined by a route.
struct RouteTried<'a> {
    ends: &'a [RunEndPoint; 2],
    standing: [Option<&'a PartOnPage>; 2],
    routing: RoutingContext<'a>,
    lift: RouteKind,
    exits: [Exit; 2],
}

impl RouteTried<'_> {
    /// Tries all routes between the exits and keeps the cheapest.
    fn all(&self, best: &mut Option<(f64, Vec<SectionPoint>)>) {
        let [a, b] = self.exits.map(|exit| exit.out);
        let (across, up) = self.places();
        for &x in &across {
            for &z in &up {
                self.one([at(a.along_m, z), at(x, z), at(x, b.z_m)], best);
                self.one([at(x, a.z_m), at(x, z), at(b.along_m, z)], best);
            }
        }
    }

    /// Returns the distances along and heights at which a leg may be, the most promising first.
    fn places(&self) -> (Vec<f64>, Vec<f64>) {
        let [a, b] = self.exits.map(|exit| exit.out);
        let off = self.routing.off;
        let mut across = vec![(a.along_m + b.along_m) / 2.0, a.along_m, b.along_m];
        let mut up = vec![a.z_m, b.z_m];
        if self.routing.vessels.is_empty() {
            return (across, up);
        }
        up.push((a.z_m + b.z_m) / 2.0);
        for one in self.standing.iter().flatten() {
            across.push(one.right_m() + off.along_m);
            across.push(one.left_m() - off.along_m);
            up.push(one.rim_m + off.z_m);
            up.push(one.floor_m - off.z_m);
        }
        (across, up)
    }

    fn one(&self, middle: [SectionPoint; 3], best: &mut Option<(f64, Vec<SectionPoint>)>) {
        let [a, b] = self.exits;
        let mut line = Vec::with_capacity(9);
        line.push(self.ends[0].at);
        line.extend(a.corner);
        line.push(a.out);
        line.extend(middle);
        line.push(b.out);
        line.extend(b.corner);
        line.push(self.ends[1].at);
        let mut cost = a.cost + b.cost + self.shape_cost(&line);
        if best.as_ref().is_some_and(|(least, _)| *least <= cost) {
            return;
        }
        let outside = [a.out, middle[0], middle[1], middle[2], b.out];
        cost += self.body_cost(&outside);
        if best.as_ref().is_none_or(|(least, _)| cost < *least) {
            simplify(&mut line);
            *best = Some((cost, line));
        }
    }

    /// Returns the cost of length, corners, rises and turning back.
    fn shape_cost(&self, line: &[SectionPoint]) -> f64 {
        let size = self.routing.size;
        let mut cost = 0.0;
        let mut before: Option<(f64, f64)> = None;
        for pair in line.windows(2) {
            let [from, to] = *pair else { continue };
            let step = (
                (to.along_m - from.along_m) / size.along_m,
                (to.z_m - from.z_m) / size.z_m,
            );
            let length = step.0.abs() + step.1.abs();
            if length < 1e-9 {
                continue;
            }
            cost += length;
            if self.lift == RouteKind::Falls && step.1 > 0.0 {
                cost += RISE + step.1;
            }
            if let Some(before) = before {
                let along = before.0 * step.0 + before.1 * step.1;
                let turned = (before.0 * step.1 - before.1 * step.0).abs() > 1e-15;
                if turned {
                    cost += CORNER;
                } else if along < 0.0 {
                    cost += BACK;
                }
            }
            before = Some(step);
        }
        cost
    }

    /// Returns the cost of passing through vessels between the exits.
    fn body_cost(&self, line: &[SectionPoint]) -> f64 {
        let through = |one: &PartOnPage| line.windows(2).filter(|leg| passes(leg, one)).count();
        let own: usize = self.standing.iter().flatten().map(|one| through(one)).sum();
        let all: usize = self.routing.vessels.iter().map(through).sum();
        // There are few legs, so the cast is exact.
        let count = |count: usize| count as f64;
        count(own) * OWN_BODY + count(all) * OTHER_BODY
    }
}

/// Returns whether a horizontal or vertical leg passes through a vessel, walls and floor excluded.
fn passes(leg: &[SectionPoint], one: &PartOnPage) -> bool {
    let &[from, to] = leg else { return false };
    let slack = 1e-6;
    let (low, high) = (from.z_m.min(to.z_m), from.z_m.max(to.z_m));
    let (left, right) = (from.along_m.min(to.along_m), from.along_m.max(to.along_m));
    let half = one
        .half_width_m(low.max(one.floor_m))
        .max(one.half_width_m(high));
    high > one.floor_m + slack
        && low < one.rim_m - slack
        && right > one.along_m - half + slack
        && left < one.along_m + half - slack
}

/// Removes points that repeat the one before or lie on a straight leg, but keeps the ends.
fn simplify(line: &mut Vec<SectionPoint>) {
    let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
    line.dedup_by(|a, b| same(a.along_m, b.along_m) && same(a.z_m, b.z_m));
    let mut index = 1;
    while index + 1 < line.len() {
        let straight = match line.get(index - 1..=index + 1) {
            Some(&[a, b, c]) => {
                (same(a.along_m, b.along_m) && same(b.along_m, c.along_m))
                    || (same(a.z_m, b.z_m) && same(b.z_m, c.z_m))
            }
            _ => false,
        };
        if straight {
            line.remove(index);
        } else {
            index += 1;
        }
    }
}
