//! The course of a run in the plan, in metres.

use super::outline::{Outline, apart_m, between};
use super::plan_points::PlanPoints;
use super::sizes::{is_in_wall, length_m, widths_m};
use crate::draw::parts::fall::StandingPart;
use crate::geometry::{Corner, route_shares};
use crate::layout::{End, Id, Layout, Opening, Place, Run, RunEnd};
use std::collections::HashMap;

/// Length in the plan up to which a leg is vertical, metres.
const UPRIGHT_M: f64 = 1e-9;

/// A straight part of a run that is not vertical.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct PlanLeg {
    pub from: Corner,
    pub to: Corner,
    /// Distance of its start along the run in the plan, metres.
    pub start_m: f64,
}

impl PlanLeg {
    /// Returns its length in the plan, metres.
    pub fn plan_m(&self) -> f64 {
        apart_m(self.from, self.to)
    }
}

/// A point where a run rises or falls vertically.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Rise {
    pub at: Corner,
    /// Rise in the direction of the run, metres; negative: fall.
    pub by_m: f64,
}

/// A point where a run passes under another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gap {
    /// Distance along the run in the plan, metres.
    pub at_m: f64,
    /// Index of the run above.
    pub over: usize,
    /// Sine of the angle between the two, above 0.
    pub sine: f64,
}

/// The course of a run in the plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct PlanRun {
    /// Its ends and corners with their elevations, in order.
    pub points: Vec<Corner>,
    /// Its straight parts, without vertical ones.
    pub legs: Vec<PlanLeg>,
    /// Vertical rises between its ends.
    pub rises: Vec<Rise>,
    /// Whether `points` has the corners of its route between its ends; else the run was set out.
    pub by_route: bool,
    /// Indices of the vessels at its ends.
    pub vessels: [Option<usize>; 2],
    /// Whether each end is at a fixed level.
    pub at_fixed: [bool; 2],
    /// Span that is drawn, metres along it in the plan: from wall to wall where its openings are in walls and have no
    /// place.
    pub drawn_m: (f64, f64),
    /// Inside and outside width, metres.
    pub bore_m: f64,
    pub outside_m: f64,
    /// Length used for the computation, metres.
    pub length_m: f64,
    /// Spans hidden by vessels, metres along it in the plan.
    pub hidden: Vec<(f64, f64)>,
    /// Points where it passes under other runs.
    pub gaps: Vec<Gap>,
}

impl PlanRun {
    /// Returns its length in the plan, metres.
    pub fn plan_m(&self) -> f64 {
        self.legs
            .last()
            .map_or(0.0, |leg| leg.start_m + leg.plan_m())
    }

    /// Returns the point at a distance along it in the plan; `None` before its start or if it has no length.
    pub fn at_m(&self, along_m: f64) -> Option<Corner> {
        let mut legs = self.legs.iter().rev();
        let leg = legs.find(|leg| leg.start_m <= along_m)?;
        Some(between(
            leg.from,
            leg.to,
            (along_m - leg.start_m) / leg.plan_m(),
        ))
    }

    /// Returns the distance along it in the plan at which it is nearest to a point, metres.
    pub fn passes_m(&self, place: Corner) -> f64 {
        let near = self.legs.iter().map(|leg| {
            let (dx, dy) = (leg.to.x_m - leg.from.x_m, leg.to.y_m - leg.from.y_m);
            let (x, y) = (place.x_m - leg.from.x_m, place.y_m - leg.from.y_m);
            let share = (dx * x + dy * y) / (dx * dx + dy * dy).max(1e-18);
            let share = share.clamp(0.0, 1.0);
            let off_m = (x - share * dx).hypot(y - share * dy);
            (off_m, leg.start_m + share * leg.plan_m())
        });
        let nearest = near.min_by(|a, b| a.0.total_cmp(&b.0));
        nearest.map_or(0.0, |one| one.1)
    }

    /// Returns the point at a share of its length, rises included, with the straight part there; `None` if it has no
    /// straight part.
    pub fn at_share(&self, share: f64) -> Option<(Corner, PlanLeg)> {
        let shares = route_shares(&self.points);
        let legs = self.points.windows(2).zip(shares.windows(2));
        let mut before_m = 0.0;
        for (pair, ends) in legs {
            let (&[from, to], &[start, end]) = (pair, ends) else {
                continue;
            };
            let plan_m = apart_m(from, to);
            if share <= end && end > start {
                let far = ((share - start) / (end - start)).clamp(0.0, 1.0);
                let leg = self.leg_at(before_m + plan_m * far)?;
                return Some((between(from, to, far), leg));
            }
            before_m += if plan_m > UPRIGHT_M { plan_m } else { 0.0 };
        }
        Some((*self.points.last()?, *self.legs.last()?))
    }

    /// Returns the point `off_m` outside the vessel at an end, metres in the plan, but no further than halfway between
    /// the vessels, with the straight part there.
    pub fn next_to_end(
        &self,
        which: RunEnd,
        off_m: f64,
        vessels: &[Outline],
    ) -> Option<(Corner, PlanLeg)> {
        let whole_m = self.plan_m();
        let [first, last] = self.vessels.map(|index| vessels.get(index?));
        let from_m = first.map_or(0.0, |one| leaves_m(self.legs.iter().copied(), one));
        let to_m = whole_m - last.map_or(0.0, |one| leaves_m(self.backwards(), one));
        let (from_m, to_m) = if from_m < to_m {
            (from_m, to_m)
        } else {
            (0.0, whole_m)
        };
        let off_m = off_m.min((to_m - from_m) / 2.0);
        let at_m = match which {
            RunEnd::From => from_m + off_m,
            RunEnd::To => to_m - off_m,
        };
        Some((self.at_m(at_m)?, self.leg_at(at_m)?))
    }

    /// Returns the straight part at a distance along it in the plan, metres.
    fn leg_at(&self, along_m: f64) -> Option<PlanLeg> {
        let mut legs = self.legs.iter().rev();
        let leg = legs.find(|leg| leg.start_m <= along_m);
        leg.or(self.legs.first()).copied()
    }

    /// Returns its line between two distances along it.
    pub fn piece(&self, from_m: f64, to_m: f64) -> Vec<Corner> {
        let mut line: Vec<Corner> = Vec::new();
        for leg in &self.legs {
            let plan_m = leg.plan_m();
            let share = |at_m: f64| ((at_m - leg.start_m) / plan_m).clamp(0.0, 1.0);
            let (enter, leave) = (share(from_m), share(to_m));
            if leave > enter {
                if line.is_empty() {
                    line.push(between(leg.from, leg.to, enter));
                }
                line.push(between(leg.from, leg.to, leave));
            }
        }
        line
    }

    /// Returns where the opening of an end is drawn.
    pub fn opening(&self, which: RunEnd) -> Corner {
        let (from_m, to_m) = self.drawn_m;
        let piece = self.piece(from_m, to_m);
        let (at, end) = match which {
            RunEnd::From => (piece.first(), self.points.first()),
            RunEnd::To => (piece.last(), self.points.last()),
        };
        at.or(end).copied().unwrap_or_default()
    }

    /// Ends the drawn span at the walls of its vessels where its openings are in the walls and have no place.
    pub fn trim(&mut self, run: &Run, vessels: &[Outline]) {
        let whole_m = self.plan_m();
        let mut drawn = [0.0, whole_m];
        for which in RunEnd::BOTH {
            let index = usize::from(which == RunEnd::To);
            let end = run.end(which);
            let in_wall = is_in_wall(end.opening.as_ref(), &run.pipe) && end.place.is_none();
            let vessel = self.vessels[index].and_then(|index| vessels.get(index));
            if let Some(vessel) = vessel.filter(|_| in_wall) {
                drawn[index] = match which {
                    RunEnd::From => leaves_m(self.legs.iter().copied(), vessel),
                    RunEnd::To => whole_m - leaves_m(self.backwards(), vessel),
                };
            }
        }
        // Between two overlapping vessels nothing would be left to draw between the walls.
        self.drawn_m = if drawn[0] < drawn[1] {
            (drawn[0], drawn[1])
        } else {
            (0.0, whole_m)
        };
    }

    /// Returns its legs from the other end.
    fn backwards(&self) -> impl Iterator<Item = PlanLeg> + '_ {
        let whole_m = self.plan_m();
        self.legs.iter().rev().map(move |leg| PlanLeg {
            from: leg.to,
            to: leg.from,
            start_m: whole_m - leg.start_m - leg.plan_m(),
        })
    }

    /// Returns a corner of the route by its index.
    pub fn corner(&self, index: usize) -> Option<Corner> {
        let inner = self.points.len().checked_sub(2)?;
        (self.by_route && index < inner).then(|| self.points.get(index + 1).copied())?
    }

    /// Returns how many corners have handles.
    pub fn corners(&self) -> usize {
        if self.by_route {
            self.points.len().saturating_sub(2)
        } else {
            0
        }
    }
}

/// Returns the distance along legs at which they leave a vessel, metres; 0 if they do not start in it.
fn leaves_m(legs: impl Iterator<Item = PlanLeg>, vessel: &Outline) -> f64 {
    let mut left_m = 0.0;
    for leg in legs {
        match vessel.inside(leg.from, leg.to) {
            Some((enter, leave)) if enter <= 0.0 => {
                left_m = leg.start_m + leave * leg.plan_m();
                if leave < 1.0 {
                    break;
                }
            }
            _ => break,
        }
    }
    left_m
}

/// Returns the straight parts of a line and the vertical rises between its ends.
pub(super) fn legs(points: &[Corner]) -> (Vec<PlanLeg>, Vec<Rise>) {
    let (mut legs, mut rises) = (Vec::new(), Vec::<Rise>::new());
    let mut start_m = 0.0;
    let last = points.len().saturating_sub(2);
    for (index, pair) in points.windows(2).enumerate() {
        let &[from, to] = pair else { continue };
        let plan_m = apart_m(from, to);
        if plan_m > UPRIGHT_M {
            legs.push(PlanLeg { from, to, start_m });
            start_m += plan_m;
        } else if index > 0 && index < last && from.z_m != to.z_m {
            let by_m = to.z_m - from.z_m;
            match rises
                .last_mut()
                .filter(|rise| apart_m(rise.at, from) <= UPRIGHT_M)
            {
                Some(rise) => rise.by_m += by_m,
                None => rises.push(Rise { at: from, by_m }),
            }
        }
    }
    (legs, rises)
}

/// Returns the courses of all runs, in the order of the layout, without their crossings.
pub(super) fn plan_runs(
    layout: &Layout,
    places: &PlanPoints,
    things: &HashMap<&Id, StandingPart>,
) -> Vec<PlanRun> {
    let set_out = super::row::routes(layout, places, things);
    let runs = layout.runs.iter().zip(set_out);
    runs.map(|(run, set_out)| {
        let ends = RunEnd::BOTH.map(|which| end(layout, run, which, things, places));
        let by_route = set_out.is_none();
        let points = set_out.unwrap_or_else(|| {
            let mut points = vec![ends[0].drawn];
            points.extend(&run.route);
            points.push(ends[1].drawn);
            points
        });
        let (legs, rises) = legs(&points);
        let (bore_m, outside_m) = widths_m(run);
        let given = [ends[0].given, ends[1].given];
        PlanRun {
            points,
            legs,
            rises,
            by_route,
            vessels: RunEnd::BOTH.map(|which| match things.get(&run.end(which).at) {
                Some(StandingPart::Vessel(index)) => Some(*index),
                _ => None,
            }),
            at_fixed: RunEnd::BOTH.map(|which| {
                matches!(things.get(&run.end(which).at), Some(StandingPart::Fixed(_)))
            }),
            drawn_m: (0.0, f64::INFINITY),
            bore_m,
            outside_m,
            length_m: length_m(run, given),
            hidden: Vec::new(),
            gaps: Vec::new(),
        }
    })
    .collect()
}

/// Position of an end: as given in the layout, and as drawn.
struct PlanRunEnd {
    given: Corner,
    drawn: Corner,
}

fn end(
    layout: &Layout,
    run: &Run,
    which: RunEnd,
    things: &HashMap<&Id, StandingPart>,
    places: &PlanPoints,
) -> PlanRunEnd {
    let end = run.end(which);
    let thing = things.get(&end.at).copied();
    let (stands, part_m) = thing.map_or((Place::default(), 0.0), |thing| part(layout, thing));
    let middle = thing.and_then(|thing| places.of(thing));
    let z_m = height_m(end).unwrap_or(part_m);
    let own = end.place.unwrap_or(stands);
    let middle = middle.unwrap_or_default();
    PlanRunEnd {
        given: Corner::at(own.x_m, own.y_m, z_m),
        drawn: Corner::at(
            middle.x_m + own.x_m - stands.x_m,
            middle.y_m + own.y_m - stands.y_m,
            z_m,
        ),
    }
}

fn height_m(end: &End) -> Option<f64> {
    end.opening.as_ref().and_then(Opening::crest_m)
}

/// Returns the place of a part in the layout, and its floor, level or centre.
fn part(layout: &Layout, thing: StandingPart) -> (Place, f64) {
    let found = match thing {
        StandingPart::Vessel(index) => layout
            .vessels
            .get(index)
            .map(|part| (part.place, part.floor_m)),
        StandingPart::Fixed(index) => layout
            .fixed
            .get(index)
            .map(|part| (part.place, part.level_m)),
        StandingPart::Joint(index) => layout
            .joints
            .get(index)
            .map(|part| (part.place, part.elevation_m)),
    };
    found.unwrap_or_default()
}
