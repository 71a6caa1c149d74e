//! The line of each run in the section: true heights, and lengths along the page as far as the plan lengths allow.

use super::routes::{RouteKind, RoutingContext, drawn_for};
use super::run_end_points::{Connection, RunEndPoint};
use super::standing::PartOnPage;
use crate::draw::page::view::{SectionPoint, at};
use crate::geometry::{self, Corner};
use crate::layout::{Direction, Pump, Run};

/// A run in the section.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionRun {
    /// Line from its `from` end to its `to` end, metres.
    pub line: Vec<SectionPoint>,
    /// Position of each point of `line` along the run, as a share of its length.
    pub shares: Vec<f64>,
    /// Position of each corner of its route, as a share of its length.
    pub corners: Vec<f64>,
    /// Its ends `[from, to]`.
    pub ends: [RunEndPoint; 2],
    /// Number of points of `line` at the start and at the end that are inside the vessels at its ends.
    pub inside: [usize; 2],
    /// Position of its pump.
    pub pump: Option<SectionPoint>,
}

/// A point of a line and its position along the run, as a share.
#[derive(Clone, Copy)]
struct RunStation {
    at: SectionPoint,
    share: f64,
}

/// Returns the line of a run. `standing`: the vessels or fixed levels at its ends, if any; `given`: its ends as given
/// in the layout.
pub fn section_run(
    run: &Run,
    ends: [RunEndPoint; 2],
    standing: [Option<&PartOnPage>; 2],
    given: [Corner; 2],
    routing: RoutingContext<'_>,
) -> SectionRun {
    let outside = if run.route.is_empty() {
        let lift = match run.pump {
            Some(_) => RouteKind::Pumped,
            None => RouteKind::Falls,
        };
        drawn_for(&ends, standing, routing, lift)
    } else {
        as_given(run, &ends, given)
    };
    let mut places = vec![ends[0].at];
    places.extend(outside);
    places.push(ends[1].at);
    let shares = shares(run, &places, given);
    let corners = match run.route.len() {
        0 => Vec::new(),
        count => shares.get(1..=count).unwrap_or_default().to_vec(),
    };
    let mut line = stations(&ends, places, shares);
    let inside = split_at_walls(&mut line, standing);
    let mut way = SectionRun {
        inside,
        pump: None,
        line: line.iter().map(|station| station.at).collect(),
        shares: line.iter().map(|station| station.share).collect(),
        corners,
        ends,
    };
    way.pump = run.pump.as_ref().map(|pump| {
        let inside = under_water(pump, &way, standing);
        inside.unwrap_or_else(|| pump_place(run, &way))
    });
    way
}

/// Returns the points of a line from intake to intake, without duplicates.
fn stations(
    ends: &[RunEndPoint; 2],
    places: Vec<SectionPoint>,
    shares: Vec<f64>,
) -> Vec<RunStation> {
    let mut line = Vec::with_capacity(places.len() + 4);
    let station = |(at, share)| RunStation { at, share };
    line.extend(intake(&ends[0]).map(|at| station((at, 0.0))));
    line.extend(places.into_iter().zip(shares).map(station));
    line.extend(intake(&ends[1]).map(|at| station((at, 1.0))));
    line.dedup_by(|a, b| {
        let (a, b) = (a.at, b.at);
        (a.along_m - b.along_m).abs() < 1e-9 && (a.z_m - b.z_m).abs() < 1e-9
    });
    line
}

/// Returns the position of each point along the run: by the route if it was drawn, else by the section.
fn shares(run: &Run, places: &[SectionPoint], [first, last]: [Corner; 2]) -> Vec<f64> {
    if run.route.is_empty() {
        let steps = places.windows(2).map(|pair| match *pair {
            [a, b] => (b.along_m - a.along_m).hypot(b.z_m - a.z_m),
            _ => 0.0,
        });
        return geometry::shares(steps.collect());
    }
    let mut corners = vec![first];
    corners.extend(&run.route);
    corners.push(last);
    geometry::route_shares(&corners)
}

/// Returns the point at a share of a line, with its leg; `shares` are those of the points, in order.
pub(super) fn on_line<P: Copy>(
    points: &[P],
    shares: &[f64],
    share: f64,
    between: impl Fn(P, P, f64) -> P,
) -> Option<(P, (P, P))> {
    let legs = points.windows(2).zip(shares.windows(2));
    let mut found = None;
    for (leg, ends) in legs {
        let (&[from, to], &[start, end]) = (leg, ends) else {
            continue;
        };
        if end <= start {
            continue;
        }
        let far = ((share - start) / (end - start)).clamp(0.0, 1.0);
        found = Some((between(from, to, far), (from, to)));
        if share <= end {
            break;
        }
    }
    found
}

impl SectionRun {
    /// Returns the point at a share of the length of the run.
    pub fn at_share(&self, share: f64) -> Option<SectionPoint> {
        let between = |a: SectionPoint, b: SectionPoint, far: f64| {
            at(
                a.along_m + (b.along_m - a.along_m) * far,
                a.z_m + (b.z_m - a.z_m) * far,
            )
        };
        on_line(&self.line, &self.shares, share, between).map(|(at, _)| at)
    }
}

fn intake(spot: &RunEndPoint) -> Option<SectionPoint> {
    spot.intake_m.map(|z_m| at(spot.at.along_m, z_m))
}

/// Returns the drawn corners with true heights and horizontal legs to scale, apart from the longest, which takes up the
/// difference between the page and the plan.
fn as_given(run: &Run, ends: &[RunEndPoint; 2], given: [Corner; 2]) -> Vec<SectionPoint> {
    let in_plan = |corner: &Corner| (corner.x_m, corner.y_m);
    let mut corners = vec![in_plan(&given[0])];
    corners.extend(run.route.iter().map(in_plan));
    corners.push(in_plan(&given[1]));
    let legs: Vec<f64> = corners
        .windows(2)
        .map(|pair| match *pair {
            [(ax, ay), (bx, by)] => (bx - ax).hypot(by - ay),
            _ => 0.0,
        })
        .collect();
    let span = ends[1].at.along_m - ends[0].at.along_m;
    let shares = stretched(&legs, span);
    let mut along_m = ends[0].at.along_m;
    run.route
        .iter()
        .zip(shares)
        .map(|(corner, leg)| {
            along_m += leg;
            at(along_m, corner.z_m)
        })
        .collect()
}

/// Returns steps along the page with the sum `span`, from the lengths of horizontal legs.
fn stretched(legs: &[f64], span: f64) -> Vec<f64> {
    let total: f64 = legs.iter().sum();
    let longest = legs.iter().copied().fold(0.0, f64::max);
    let rest = total - longest;
    if total <= 0.0 {
        // Without horizontal legs the line steps across in its last leg.
        let mut steps = vec![0.0; legs.len()];
        if let Some(last) = steps.last_mut() {
            *last = span;
        }
        return steps;
    }
    if rest > span.abs() {
        return legs.iter().map(|leg| leg / total * span).collect();
    }
    let sign = if span < 0.0 { -1.0 } else { 1.0 };
    let mut stretched = false;
    legs.iter()
        .map(|leg| {
            if *leg == longest && !stretched {
                stretched = true;
                span - sign * rest
            } else {
                sign * leg
            }
        })
        .collect()
}

/// Inserts a point where the line passes the wall, floor or rim of the vessels at its ends; returns how many points at
/// its start and at its end are inside.
fn split_at_walls(line: &mut Vec<RunStation>, standing: [Option<&PartOnPage>; 2]) -> [usize; 2] {
    let mut inside = [0, 0];
    if let Some(one) = standing[0] {
        inside[0] = split_front(line, one);
    }
    if let Some(one) = standing[1] {
        line.reverse();
        inside[1] = split_front(line, one);
        line.reverse();
        // A line that never leaves the first vessel counts as inside it.
        let most = line.len().saturating_sub(inside[0].saturating_sub(1));
        inside[1] = inside[1].min(most);
    }
    inside
}

/// Counts the points at the front of `line` that are inside, and adds one on the wall after them.
fn split_front(line: &mut Vec<RunStation>, standing: &PartOnPage) -> usize {
    let top = line
        .first()
        .map_or(standing.rim_m, |first| first.at.z_m.max(standing.rim_m));
    let slack = 1e-6;
    let inside = |place: &RunStation| {
        let place = place.at;
        let half = standing.half_width_m(place.z_m.max(standing.floor_m)) + slack;
        place.z_m >= standing.floor_m - slack
            && place.z_m <= top + slack
            && (place.along_m - standing.along_m).abs() <= half
    };
    if !line.first().is_some_and(inside) {
        return 0;
    }
    let out = line.iter().position(|place| !inside(place));
    let Some(out) = out else { return line.len() };
    let (Some(&last_in), Some(&first_out)) = (line.get(out - 1), line.get(out)) else {
        return out;
    };
    let between = |share: f64| {
        let (a, b) = (last_in.at, first_out.at);
        RunStation {
            at: at(
                a.along_m + (b.along_m - a.along_m) * share,
                a.z_m + (b.z_m - a.z_m) * share,
            ),
            share: last_in.share + (first_out.share - last_in.share) * share,
        }
    };
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..30 {
        let half = (low + high) / 2.0;
        if inside(&between(half)) {
            low = half;
        } else {
            high = half;
        }
    }
    line.insert(out, between(low));
    out + 1
}

/// Distance from the wall of a pump that draws through it, as a share of the width of its vessel.
const OFF_WALL: f64 = 0.16;

/// Returns the intake of a submersible pump in its vessel; `None` for a dry-mounted pump or one that draws from no
/// vessel.
fn under_water(
    pump: &Pump,
    way: &SectionRun,
    standing: [Option<&PartOnPage>; 2],
) -> Option<SectionPoint> {
    let end = usize::from(pump.pushes == Direction::Backward);
    let (spot, vessel) = (way.ends.get(end)?, standing.get(end).copied().flatten()?);
    if !pump.is_wet() || spot.vessel.is_none() {
        return None;
    }
    let z_m = spot.intake_m.unwrap_or(spot.at.z_m);
    let off_m = match spot.meets {
        Connection::Wall => OFF_WALL * (vessel.right_m() - vessel.left_m()),
        _ => 0.0,
    };
    Some(at(spot.at.along_m - spot.side * off_m, z_m))
}

/// Distance from a height up to which a corner counts as at it, metres.
const NEAR_M: f64 = 0.01;

/// Returns the point where a leg passes a height; `None` if it does not.
fn passes(leg: &[SectionPoint], z_m: f64) -> Option<SectionPoint> {
    let &[from, to] = leg else { return None };
    let share = (z_m - from.z_m) / (to.z_m - from.z_m);
    (0.0..=1.0)
        .contains(&share)
        .then(|| at(from.along_m + share * (to.along_m - from.along_m), z_m))
}

/// Returns the position of a pump beside the vessel that it draws from, at the elevation of its suction if given.
fn pump_place(run: &Run, way: &SectionRun) -> SectionPoint {
    let forward = run
        .pump
        .as_ref()
        .is_none_or(|pump| pump.pushes == Direction::Forward);
    let mut outside: Vec<SectionPoint> = way
        .line
        .get(
            way.inside[0].saturating_sub(1)
                ..way
                    .line
                    .len()
                    .saturating_sub(way.inside[1].saturating_sub(1)),
        )
        .map(<[SectionPoint]>::to_vec)
        .unwrap_or_default();
    if !forward {
        outside.reverse();
    }
    let suction = run.pump.as_ref().and_then(|pump| pump.suction);
    if let Some(suction) = suction {
        let corners = outside.iter().skip(1).rev().skip(1).rev();
        let off = |place: &&SectionPoint| (place.z_m - suction.elevation_m).abs();
        let nearest = corners.min_by(|a, b| off(a).total_cmp(&off(b)));
        // A corner at that height is preferred to the first point where the pipe passes it.
        if let Some(place) = nearest.filter(|place| off(place) < NEAR_M) {
            return *place;
        }
        let legs = outside.windows(2);
        let mut crossed = legs.filter_map(|leg| passes(leg, suction.elevation_m));
        if let Some(place) = crossed.next().or(nearest.copied()) {
            return place;
        }
    }
    match outside.as_slice() {
        [a, b, ..] => at((a.along_m + b.along_m) / 2.0, (a.z_m + b.z_m) / 2.0),
        [only] => *only,
        [] => way.line.first().copied().unwrap_or_default(),
    }
}
