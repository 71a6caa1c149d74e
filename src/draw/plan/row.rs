//! Routes of runs between parts in the row: straight between neighbours, in lanes around other parts.

use super::plan_points::PlanPoints;
use crate::draw::parts::fall::StandingPart;
use crate::geometry::Corner;
use crate::layout::{Id, Layout, Opening, Run, RunEnd};
use std::collections::HashMap;

/// Distances from the row to the first lane, between lanes, and between two runs of the same neighbours, metres.
const FIRST_M: f64 = 0.35;
const LANE_M: f64 = 0.25;
const BETWEEN_M: f64 = 0.15;
/// Share of the width of a part over which its runs are spread, and the smallest such width, metres.
const SPREAD: f64 = 0.7;
const LEAST_M: f64 = 0.1;

/// Index of a run in the row, and the seats of its ends.
struct RowRun {
    run: usize,
    seats: [usize; 2],
}

impl RowRun {
    fn is_between_neighbours(&self) -> bool {
        self.seats[0].abs_diff(self.seats[1]) == 1
    }
}

/// Returns the line of each run with both ends in the row; `None` for every other.
pub(super) fn routes(
    layout: &Layout,
    places: &PlanPoints,
    things: &HashMap<&Id, StandingPart>,
) -> Vec<Option<Vec<Corner>>> {
    let mut routes = vec![None; layout.runs.len()];
    if places.row.is_empty() {
        return routes;
    }
    let seats = places.row.iter().enumerate();
    let seats: HashMap<StandingPart, usize> = seats.map(|(seat, thing)| (*thing, seat)).collect();
    let seat = |id: &Id| things.get(id).and_then(|thing| seats.get(thing)).copied();
    let inner = layout.runs.iter().enumerate().filter_map(|(run, part)| {
        let seats = [seat(&part.from.at)?, seat(&part.to.at)?];
        Some(RowRun { run, seats })
    });
    let inner: Vec<RowRun> = inner.collect();
    let spread = spread(layout, places, &inner);
    let mut lanes = [RowLanes::default(), RowLanes::default()];
    let mut by_span: Vec<usize> = (0..inner.len()).collect();
    by_span.sort_by_key(|index| {
        inner
            .get(*index)
            .map_or(0, |one| one.seats[0].abs_diff(one.seats[1]))
    });
    for index in by_span {
        let (Some(one), Some(xs)) = (inner.get(index), spread.get(index)) else {
            continue;
        };
        let Some(run) = layout.runs.get(one.run) else {
            continue;
        };
        let line = line(run, one, *xs, places, &mut lanes);
        if let Some(slot) = routes.get_mut(one.run) {
            *slot = Some(line);
        }
    }
    routes
}

fn line(
    run: &Run,
    one: &RowRun,
    xs: [f64; 2],
    places: &PlanPoints,
    lanes: &mut [RowLanes; 2],
) -> Vec<Corner> {
    let height = |which: RunEnd| run.end(which).opening.as_ref().and_then(Opening::crest_m);
    let floor = |seat: usize| places.row.get(seat).and_then(|thing| places.of(*thing));
    let [from, to] =
        [(RunEnd::From, one.seats[0]), (RunEnd::To, one.seats[1])].map(|(which, seat)| {
            height(which)
                .or(floor(seat).map(|at| at.z_m))
                .unwrap_or(0.0)
        });
    let high = from.max(to);
    let (low_m, high_m) = places.row_low_high_m;
    let middle = (low_m + high_m) / 2.0;
    let corner = |x_m: f64, y_m: f64, z_m: f64| Corner::at(x_m, y_m, z_m);
    if one.is_between_neighbours() {
        let beside = lanes[0].lane_beyond(one.seats[0].min(one.seats[1]));
        let y_m = middle + beside;
        return vec![corner(xs[0], y_m, from), corner(xs[1], y_m, to)];
    }
    let pumped = usize::from(run.pump.is_some());
    let lane = lanes[pumped].take((xs[0].min(xs[1]), xs[0].max(xs[1])));
    let off = FIRST_M + LANE_M * lane;
    let y_m = if pumped == 1 {
        high_m + off
    } else {
        low_m - off
    };
    vec![
        corner(xs[0], middle, from),
        corner(xs[0], y_m, high),
        corner(xs[1], y_m, high),
        corner(xs[1], middle, to),
    ]
}

/// Returns the x of both ends of each run: side by side in their part, in the order of the parts that they lead to.
fn spread(layout: &Layout, places: &PlanPoints, inner: &[RowRun]) -> Vec<[f64; 2]> {
    let mut by_seat: HashMap<usize, Vec<(usize, usize)>> = HashMap::new();
    for (index, one) in inner.iter().enumerate() {
        for (end, seat) in one.seats.iter().enumerate() {
            by_seat.entry(*seat).or_default().push((index, end));
        }
    }
    let mut xs = vec![[0.0; 2]; inner.len()];
    for (seat, mut ends) in by_seat {
        let leads_to =
            |&(index, end): &(usize, usize)| inner.get(index).map_or(0, |one| one.seats[1 - end]);
        ends.sort_by_key(|end| (leads_to(end), *end));
        let Some(thing) = places.row.get(seat) else {
            continue;
        };
        let middle = places.of(*thing).unwrap_or_default().x_m;
        let width = SPREAD * width_m(layout, *thing);
        // There are few parts, so the cast is exact.
        let step = width / (ends.len() + 1) as f64;
        let mut x_m = middle - width / 2.0;
        for (index, end) in ends {
            x_m += step;
            if let Some(slot) = xs.get_mut(index).and_then(|both| both.get_mut(end)) {
                *slot = x_m;
            }
        }
    }
    xs
}

fn width_m(layout: &Layout, thing: StandingPart) -> f64 {
    let vessel = match thing {
        StandingPart::Vessel(index) => layout.vessels.get(index),
        StandingPart::Fixed(_) | StandingPart::Joint(_) => None,
    };
    let Some(part) = vessel else { return LEAST_M };
    let bounds = super::outline::Outline::of(part, Corner::default()).bounds();
    (bounds.right_m - bounds.left_m).max(LEAST_M)
}

/// Lanes beside the row, nearest first, with the spans taken in each.
#[derive(Default)]
struct RowLanes {
    taken: Vec<Vec<(f64, f64)>>,
    beside: HashMap<usize, f64>,
}

/// Most lanes; runs that find no free lane share the last.
const MOST_LANES: usize = 64;

impl RowLanes {
    /// Takes the nearest lane that is free from `span.0` to `span.1`.
    fn take(&mut self, span: (f64, f64)) -> f64 {
        let meets = |other: &(f64, f64)| other.0 < span.1 + LANE_M && span.0 < other.1 + LANE_M;
        let free = self.taken.iter().position(|lane| !lane.iter().any(meets));
        let lane = free.unwrap_or(self.taken.len()).min(MOST_LANES - 1);
        if lane == self.taken.len() {
            self.taken.push(Vec::new());
        }
        if let Some(list) = self.taken.get_mut(lane) {
            list.push(span);
        }
        // There are few lanes, so the cast is exact.
        lane as f64
    }

    /// Returns the offset from the middle of the next run between these neighbours: 0, then alternately to either side.
    fn lane_beyond(&mut self, seat: usize) -> f64 {
        let next = self.beside.entry(seat).or_insert(0.0);
        let off = *next;
        *next = if off > 0.0 { -off } else { BETWEEN_M - off };
        off
    }
}
