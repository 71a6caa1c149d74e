//! The grade line along a path: level, pipe, hydraulic grade and energy along the chosen runs from one part to another.

use super::chain::run_law;
use super::grade_still::{StandingWater, StillPoint, standing_water};
use super::report::{Control, RunReport, StateReport};
use super::runs;
use crate::layout::{Id, Layout};
use crate::lower::{ItemAt, Lowered, RunFacts, item_heads};
use crate::network::{Check, RunLaw, Sense};
use crate::solve::NetworkState;
use crate::state::State;
use std::borrow::Cow;

/// Distance below which two places along a run are one, metres.
const SAME_PLACE_M: f64 = 1e-6;

/// A point of a grade line. Points come in the order of the path; where head is added or lost at
/// one place, two of them share a distance.
#[derive(Clone, Debug, PartialEq)]
pub struct GradePoint {
    /// The run, or the vessel, joint or fixed level at its end.
    pub at: Id,
    /// Distance along the pipes from the start of the path, metres.
    pub distance_m: f64,
    /// Invert of the pipe, metres; none in a vessel.
    pub invert_m: Option<f64>,
    /// Crown of the pipe, metres.
    pub crown_m: Option<f64>,
    /// Water level, or where the pipe is full the piezometric level, metres; none in a run without water.
    pub grade_m: Option<f64>,
    /// Energy level: grade plus velocity head, metres.
    pub energy_m: Option<f64>,
}

/// The grade line along `runs`, each of which meets the next at a part. Empty for no runs; none where a run
/// does not exist or does not meet the one before it.
///
/// `lowered`: the network that `report` was solved with.
pub fn grade_line(
    layout: &Layout,
    lowered: &Lowered,
    report: &StateReport,
    runs: &[Id],
) -> Option<Vec<GradePoint>> {
    let mut line = Vec::new();
    let mut at = start(report, runs);
    let mut from_m = 0.0;
    for id in runs {
        let place = layout.runs.iter().position(|run| run.id == *id)?;
        let run = report.runs.iter().find(|run| run.id == *id)?;
        let piece = Piece {
            run,
            facts: lowered.origin.run_facts.get(place)?,
            law: as_reported(run_law(lowered, *lowered.origin.runs.get(place)?)?, run),
            heads_m: [head_m(report, &run.from), head_m(report, &run.to)],
            pump_m: pump_m(report, id),
            // At rest nothing has run yet, so no check valve holds water back.
            may_hold: report.state != State::Rest,
            gravity_m_s2: layout.coefficients.gravity_m_s2,
        };
        let here = at?;
        let forward = *here == run.from;
        if !forward && *here != run.to {
            return None;
        }
        let next = if forward { &run.to } else { &run.from };
        line.push(standing(report, here, from_m));
        line.extend(piece.points(forward, from_m));
        from_m += run.length_m;
        line.push(standing(report, next, from_m));
        at = Some(next);
    }
    Some(line)
}

/// The start of a path: the end of its first run that the second does not continue from.
fn start<'a>(report: &'a StateReport, runs: &[Id]) -> Option<&'a Id> {
    let run = |id: &Id| report.runs.iter().find(|run| run.id == *id);
    let first = run(runs.first()?)?;
    let meets = |part: &Id| {
        let second = runs.get(1).and_then(run);
        second.is_some_and(|second| second.from == *part || second.to == *part)
    };
    Some(if meets(&first.from) && !meets(&first.to) {
        &first.to
    } else {
        &first.from
    })
}

/// The law of a run as it stands in a report: full over its high points where it is primed.
fn as_reported<'a>(law: &'a RunLaw, run: &RunReport) -> Cow<'a, RunLaw> {
    let primed = run.air.is_some_and(|air| air.primed);
    if primed == law.primed {
        return Cow::Borrowed(law);
    }
    Cow::Owned(RunLaw {
        primed,
        ..law.clone()
    })
}

/// Level or head at a part, metres.
fn head_m(report: &StateReport, part: &Id) -> Option<f64> {
    let vessel = report.vessels.iter().find(|one| one.id == *part);
    let joint = report.joints.iter().find(|one| one.id == *part);
    let fixed = report.fixed.iter().find(|one| one.id == *part);
    let of_vessel = vessel.and_then(|one| one.level_m);
    let of_joint = joint.and_then(|one| one.head_m);
    of_vessel.or(of_joint).or(fixed.map(|one| one.level_m))
}

/// Head that a running pump adds in the direction of flow, metres.
fn pump_m(report: &StateReport, run: &Id) -> f64 {
    let pump = report.pumps.iter().find(|pump| pump.run == *run && pump.on);
    pump.map_or(0.0, |pump| pump.head_m)
}

fn standing(report: &StateReport, part: &Id, distance_m: f64) -> GradePoint {
    let head_m = head_m(report, part);
    GradePoint {
        at: part.clone(),
        distance_m,
        invert_m: None,
        crown_m: None,
        grade_m: head_m,
        energy_m: head_m,
    }
}

/// A run on the path.
struct Piece<'a> {
    run: &'a RunReport,
    facts: &'a RunFacts,
    law: Cow<'a, RunLaw>,
    /// Heads at `from` and `to`.
    heads_m: [Option<f64>; 2],
    pump_m: f64,
    /// Whether a check valve retains the water above it.
    may_hold: bool,
    gravity_m_s2: f64,
}

/// Invert, grade and energy at a distance from `from`, metres.
#[derive(Clone, Copy)]
pub(super) struct Level {
    pub distance_m: f64,
    pub invert_m: Option<f64>,
    pub grade_m: Option<f64>,
    energy_m: Option<f64>,
}

impl Level {
    /// Linear interpolation to another place.
    fn towards(self, other: &Level, distance_m: f64) -> Level {
        let share =
            (distance_m - self.distance_m) / (other.distance_m - self.distance_m).max(1e-12);
        let between = |from: Option<f64>, to: Option<f64>| Some(from? + (to? - from?) * share);
        Level {
            distance_m,
            invert_m: between(self.invert_m, other.invert_m),
            grade_m: between(self.grade_m, other.grade_m),
            energy_m: between(self.energy_m, other.energy_m),
        }
    }
}

/// The result of `tell` for every run and the places along it, from `from` to `to`; in the order of the layout.
pub(super) fn along_runs<T>(
    layout: &Layout,
    lowered: &Lowered,
    end: &NetworkState,
    tell: impl Fn(&RunReport, &RunFacts, Vec<Level>) -> T,
) -> Vec<T> {
    let origin = &lowered.origin;
    let links = origin.runs.iter().zip(&origin.run_facts);
    let reports = runs::plain_reports(layout, lowered, end);
    let pieces = reports
        .iter()
        .zip(links)
        .filter_map(|(run, (&link, facts))| {
            let (source, target) = lowered.network.edge_endpoints((link as u32).into())?;
            let mut heads_m = [source, target].map(|node| end.head_m.get(node.index()).copied());
            if facts.reversed {
                heads_m.reverse();
            }
            let piece = Piece {
                run,
                facts,
                law: Cow::Borrowed(run_law(lowered, link)?),
                heads_m,
                pump_m: 0.0,
                may_hold: false,
                gravity_m_s2: layout.coefficients.gravity_m_s2,
            };
            Some(tell(run, facts, piece.levels()))
        });
    pieces.collect()
}

impl Piece<'_> {
    fn levels(&self) -> Vec<Level> {
        if self.run.control == Control::Still {
            self.still()
        } else if self.run.profile.is_empty() {
            self.full()
        } else {
            self.marched()
        }
    }

    fn points(&self, forward: bool, from_m: f64) -> Vec<GradePoint> {
        let mut levels = self.levels();
        if !forward {
            levels.reverse();
        }
        let point = |level: Level| GradePoint {
            at: self.run.id.clone(),
            distance_m: from_m
                + if forward {
                    level.distance_m
                } else {
                    self.run.length_m - level.distance_m
                },
            invert_m: level.invert_m,
            crown_m: level.invert_m.map(|invert_m| invert_m + self.run.bore_m),
            grade_m: level.grade_m,
            energy_m: level.energy_m,
        };
        levels.into_iter().map(point).collect()
    }

    /// Without flow: water stands level.
    fn still(&self) -> Vec<Level> {
        let corners = self.facts.corners.iter();
        let corners: Vec<(f64, f64)> = corners
            .map(|&(share, height_m)| (share * self.run.length_m, height_m))
            .collect();
        let how = StandingWater {
            ends_m: self.heads_m,
            held: self.may_hold && self.law.check != Check::None,
        };
        let places = standing_water(&corners, &how).into_iter();
        let level = |place: StillPoint| Level {
            distance_m: place.distance_m,
            invert_m: Some(place.invert_m),
            grade_m: place.level_m,
            energy_m: place.level_m,
        };
        places.map(level).collect()
    }

    fn velocity_head_m(&self, velocity_m_s: f64) -> f64 {
        velocity_m_s * velocity_m_s / (2.0 * self.gravity_m_s2)
    }

    fn marched(&self) -> Vec<Level> {
        let length_m = self.run.length_m.max(1e-9);
        let level = |point: &super::report::DepthPoint| Level {
            distance_m: point.distance_m,
            invert_m: point
                .invert_m
                .or(self.invert_m(point.distance_m / length_m)),
            grade_m: Some(point.grade_m),
            energy_m: Some(point.grade_m + self.velocity_head_m(point.velocity_m_s)),
        };
        let mut levels: Vec<Level> = self.run.profile.iter().map(level).collect();
        // A leg that is taken as full has no computed places, but its pipe has corners all the same.
        for &(share, height_m) in &self.facts.corners {
            let distance_m = share * length_m;
            let near = |one: &Level| (one.distance_m - distance_m).abs() < SAME_PLACE_M;
            let after = levels.iter().position(|one| one.distance_m > distance_m);
            let Some(after) = after.filter(|_| !levels.iter().any(near)) else {
                continue;
            };
            let before = after.checked_sub(1).and_then(|at| levels.get(at)).copied();
            if let (Some(before), Some(next)) = (before, levels.get(after).copied()) {
                let corner = Level {
                    distance_m,
                    invert_m: Some(height_m),
                    ..before.towards(&next, distance_m)
                };
                levels.insert(after, corner);
            }
        }
        levels
    }

    /// Elevation of the pipe at a fraction of its length, linear between corners.
    fn invert_m(&self, share: f64) -> Option<f64> {
        let corners = &self.facts.corners;
        let legs = corners.windows(2).filter_map(|pair| match *pair {
            [(from, low_m), (to, high_m)] if (from..=to).contains(&share) => {
                let along = (share - from) / (to - from).max(1e-12);
                Some(low_m + (high_m - low_m) * along.clamp(0.0, 1.0))
            }
            _ => None,
        });
        let end = || corners.last().map(|last| last.1);
        legs.into_iter().next().or_else(end)
    }

    /// A run that counts as full: straight lines, with a step at its pump.
    fn full(&self) -> Vec<Level> {
        let ends = self.inside();
        let pump_share = self.pump_share();
        let mut levels = Vec::new();
        for &(share, height_m) in &self.facts.corners {
            levels.push(self.at(share, Some(height_m), ends, share > pump_share));
        }
        if self.pump_m > 0.0 {
            let before = |corner: &&(f64, f64)| corner.0 <= pump_share;
            let place = self.facts.corners.iter().filter(before).count();
            let invert_m = self.invert_m(pump_share);
            let step = [false, true].map(|behind| self.at(pump_share, invert_m, ends, behind));
            levels.splice(place..place, step);
        }
        levels
    }

    /// `behind`: beyond the pump as drawn.
    fn at(&self, share: f64, invert_m: Option<f64>, ends: Option<[f64; 2]>, behind: bool) -> Level {
        let with_flow = self.run.flow_m3_s >= 0.0;
        let along = if with_flow { share } else { 1.0 - share };
        let lifted = if behind == with_flow {
            self.pump_m
        } else {
            0.0
        };
        let energy_m = ends
            .map(|[first_m, last_m]| first_m - (first_m + self.pump_m - last_m) * along + lifted);
        Level {
            distance_m: share * self.run.length_m,
            invert_m,
            grade_m: energy_m
                .map(|energy_m| energy_m - self.velocity_head_m(self.run.velocity_m_s)),
            energy_m,
        }
    }

    /// Position of the pump as a fraction of the drawn length: after its suction pipe, else where water enters.
    fn pump_share(&self) -> f64 {
        let suction = self.facts.suction.as_ref();
        let share = suction.map_or(0.0, |suction| {
            suction.loss.length_m / self.run.length_m.max(1e-9)
        });
        if self.run.flow_m3_s >= 0.0 {
            share.clamp(0.0, 1.0)
        } else {
            1.0 - share.clamp(0.0, 1.0)
        }
    }

    /// Energy level just inside the end where water enters and the end where it leaves, metres.
    fn inside(&self) -> Option<[f64; 2]> {
        let [from_m, to_m] = self.heads_m;
        match self.run.control {
            Control::Dry | Control::Shut | Control::Still => return None,
            Control::Inlet | Control::Outlet | Control::Pumped => {}
        }
        let (up_m, down_m) = if self.run.flow_m3_s >= 0.0 {
            (from_m?, to_m?)
        } else {
            (to_m?, from_m?)
        };
        let flow = self.facts.as_drawn(self.run.flow_m3_s);
        let sense = if flow < 0.0 {
            Sense::Backward
        } else {
            Sense::Forward
        };
        let tail_m = self.law.tail_m(sense, flow.abs(), down_m);
        let [enters_m, leaves_m] = self.at_ends(flow);
        Some([up_m - self.run.free_drop_m - enters_m, tail_m + leaves_m])
    }

    /// Entrance and exit loss of a flow of the link, metres.
    fn at_ends(&self, flow: f64) -> [f64; 2] {
        let items = if flow < 0.0 {
            &self.facts.items_back
        } else {
            &self.facts.items
        };
        let [from_m, to_m] = self.heads_m.map(|head_m| head_m.unwrap_or(0.0));
        let levels = if self.facts.reversed {
            [to_m, from_m]
        } else {
            [from_m, to_m]
        };
        let heads = item_heads(self.facts, &self.law, flow, levels);
        let mut lost = [0.0, 0.0];
        for (item, (_, head_m)) in items.iter().zip(heads) {
            match item.at {
                ItemAt::Entrance => lost[0] += head_m.abs(),
                ItemAt::Exit => lost[1] += head_m.abs(),
                ItemAt::Together => {
                    lost[1] += head_m
                        .abs()
                        .min(self.velocity_head_m(self.run.velocity_m_s));
                }
                ItemAt::Spread | ItemAt::Along(_) | ItemAt::Full => {}
            }
        }
        lost
    }
}
