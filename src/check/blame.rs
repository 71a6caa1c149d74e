//! Finds the cause of a high level (a crest, pipe, screen or downstream level) by following the flow.

use crate::layout::RunEnd;
use crate::layout::{Id, Layout, Opening, Run};
use crate::states::report::{Control, RunReport, StateReport};
use std::collections::HashSet;

/// Smallest flow that counts as flow, m³/s.
const TRICKLE_M3_S: f64 = super::state_view::TRICKLE_M3_S;
/// Free drop of a raised intake above which its crest limits the flow, metres.
const LIMITED_AT_CREST_M: f64 = 1e-4;

/// Cause of a high level.
#[derive(Clone, Debug, PartialEq)]
pub enum Blame {
    /// A crest that is too high.
    Crest(Crest),
    /// An opening that cannot pass the water even with its crest at the floor.
    SmallOpening(Crest),
    /// A pipe whose head loss is too large.
    Pipe {
        /// The run.
        run: Id,
        /// Head loss, metres.
        loss_m: f64,
        /// Bore, metres.
        bore_m: f64,
    },
    /// A screen whose head loss is too large.
    Screen {
        /// Run that the screen belongs to.
        run: Id,
        /// End of the run that the screen is at.
        which: RunEnd,
        /// Head loss of the screen, metres.
        loss_m: f64,
    },
    /// An end of a run in air that is too high.
    Mouth(Crest),
    /// A level that no crest controls: a fixed level, or that of a vessel drained only by a pump.
    Level {
        /// The part.
        at: Id,
        /// Its level as an elevation, metres.
        level_m: f64,
    },
    /// A run that is shut.
    Shut(Id),
    /// No run drains the vessel by gravity.
    NoWayOut,
}

/// An opening whose height controls a level.
#[derive(Clone, Debug, PartialEq)]
pub struct Crest {
    /// The run.
    pub run: Id,
    /// End of the run.
    pub which: RunEnd,
    /// Part that the opening is in.
    pub at: Id,
    /// Elevation of the crest, metres.
    pub height_m: f64,
}

/// One run on the flow path down from a vessel.
struct PathStep<'a> {
    run: &'a RunReport,
    /// Opening at its upstream end, where that has a height.
    crest: Option<Crest>,
    /// The flow is limited by the crest, not by losses.
    at_crest: bool,
    to: &'a Id,
}

impl Blame {
    /// Returns the ids of the parts to blame, the run first.
    pub fn about(&self) -> Vec<&Id> {
        match self {
            Blame::Crest(crest) | Blame::SmallOpening(crest) | Blame::Mouth(crest) => {
                vec![&crest.run, &crest.at]
            }
            Blame::Pipe { run, .. } | Blame::Screen { run, .. } | Blame::Shut(run) => vec![run],
            Blame::Level { at, .. } => vec![at],
            Blame::NoWayOut => Vec::new(),
        }
    }
}

/// Returns the cause of the level of `vessel`, found along the path of its water. `excess_m`: by how much the level
/// must fall, metres.
///
/// Follows the largest gravity flow out of each vessel. A run limited by its crest ends the path; a run with a
/// submerged outlet is limited by the vessel downstream, so the path goes on from there. One pipe or screen on the path
/// is the cause if it loses more than everything else between the level and the last crest, and at least `excess_m`.
pub fn blame(layout: &Layout, report: &StateReport, vessel: &Id, excess_m: f64) -> Blame {
    let (steps, end) = way_down(layout, report, vessel);
    let Some(last) = steps.last() else {
        return without_way(layout, report, vessel);
    };
    if let Some(largest) = largest_loss(report, &steps, vessel, excess_m) {
        return largest;
    }
    match (&last.crest, last.at_crest) {
        (Some(crest), true) => {
            let floor_m = report.vessels.iter().find(|at| at.id == crest.at);
            let lowest_m = floor_m.map_or(f64::NEG_INFINITY, |at| at.floor_m);
            if crest.height_m - excess_m < lowest_m {
                Blame::SmallOpening(crest.clone())
            } else {
                Blame::Crest(crest.clone())
            }
        }
        _ => at_the_end(layout, report, last, end),
    }
}

/// Returns every crest on the flow path down from `vessel`, nearest first.
pub fn crests_below(layout: &Layout, report: &StateReport, vessel: &Id) -> Vec<Crest> {
    let (steps, _) = way_down(layout, report, vessel);
    steps.into_iter().filter_map(|step| step.crest).collect()
}

/// Returns the runs on the flow path down, and the part at which the path ends.
fn way_down<'a>(
    layout: &'a Layout,
    report: &'a StateReport,
    vessel: &'a Id,
) -> (Vec<PathStep<'a>>, &'a Id) {
    let mut visited = HashSet::from([vessel]);
    let mut steps: Vec<PathStep<'a>> = Vec::new();
    let mut at = vessel;
    while let Some(step) = main_drain(layout, report, at) {
        let goes_on = !step.at_crest && step.run.drowned && visited.insert(step.to);
        at = step.to;
        steps.push(step);
        if !goes_on {
            break;
        }
    }
    (steps, at)
}

/// Returns the run with the largest gravity flow out of a part.
fn main_drain<'a>(layout: &'a Layout, report: &'a StateReport, at: &Id) -> Option<PathStep<'a>> {
    let out = report.runs.iter().filter_map(|run| {
        let flow = run.flow_m3_s;
        let leaves =
            (flow > TRICKLE_M3_S && run.from == *at) || (flow < -TRICKLE_M3_S && run.to == *at);
        let drawn = layout.run(&run.id)?;
        (leaves && drawn.pump.is_none()).then_some((run, drawn))
    });
    let (run, drawn) = out.max_by(|a, b| a.0.flow_m3_s.abs().total_cmp(&b.0.flow_m3_s.abs()))?;
    let which = if run.flow_m3_s > 0.0 {
        RunEnd::From
    } else {
        RunEnd::To
    };
    let opening = end(drawn, which).1;
    let raised = matches!(opening, Some(Opening::RaisedIntake { .. }));
    Some(PathStep {
        run,
        crest: crest(layout, drawn, which),
        at_crest: run.control == Control::Inlet || (raised && run.free_drop_m > LIMITED_AT_CREST_M),
        to: if which == RunEnd::From {
            &run.to
        } else {
            &run.from
        },
    })
}

fn end(run: &Run, which: RunEnd) -> (&Id, Option<&Opening>) {
    let end = match which {
        RunEnd::From => &run.from,
        RunEnd::To => &run.to,
    };
    (&end.at, end.opening.as_ref())
}

/// Returns the crest at an end of a run, where that has a height. A floor outlet is at the floor.
fn crest(layout: &Layout, run: &Run, which: RunEnd) -> Option<Crest> {
    let (at, opening) = end(run, which);
    let floor_m = layout.vessel(at).map(|vessel| vessel.floor_m);
    let height_m = match opening {
        Some(Opening::Floor { lip_m: None, .. }) | None => floor_m?,
        Some(opening) => opening.crest_m()?,
    };
    Some(Crest {
        run: run.id.clone(),
        which,
        at: at.clone(),
        height_m,
    })
}

/// Returns the pipe or screen that loses more than everything else on the path, and at least `excess_m`.
fn largest_loss(
    report: &StateReport,
    steps: &[PathStep<'_>],
    vessel: &Id,
    excess_m: f64,
) -> Option<Blame> {
    let mut losses: Vec<(f64, Option<Blame>)> = Vec::new();
    for step in steps {
        losses.extend(of_screens(step));
        losses.push(match (&step.crest, step.at_crest) {
            // The loss of the screen upstream is part of the head over the crest; it is counted by itself.
            (Some(crest), true) => {
                let over_m = over_crest_m(report, crest, vessel, excess_m);
                ((over_m - before_m(step)).max(0.0), None)
            }
            _ => (
                in_pipe_m(step),
                Some(of_pipe(step)).filter(|_| !step.at_crest),
            ),
        });
    }
    let all: f64 = losses.iter().map(|loss| loss.0).sum();
    let (loss_m, blame) = losses
        .into_iter()
        .filter_map(|(loss_m, blame)| Some((loss_m, blame?)))
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    (loss_m >= excess_m && loss_m > all - loss_m).then_some(blame)
}

/// Head loss of the screen at the upstream end of a run, metres.
fn before_m(step: &PathStep<'_>) -> f64 {
    let [from_m, to_m] = step.run.screens_m;
    if step.run.flow_m3_s < 0.0 {
        to_m
    } else {
        from_m
    }
}

/// Head loss of a run without its screens, metres.
fn in_pipe_m(step: &PathStep<'_>) -> f64 {
    (step.run.loss_m.abs() - step.run.screens_m.iter().sum::<f64>()).max(0.0)
}

fn of_pipe(step: &PathStep<'_>) -> Blame {
    Blame::Pipe {
        run: step.run.id.clone(),
        loss_m: in_pipe_m(step),
        bore_m: step.run.bore_m,
    }
}

/// Returns the screens of a run that raise the level, with their losses: at a crest, only the upstream one.
fn of_screens(step: &PathStep<'_>) -> Vec<(f64, Option<Blame>)> {
    let run = step.run;
    let sides = [RunEnd::From, RunEnd::To].into_iter().zip(run.screens_m);
    let upstream = if run.flow_m3_s < 0.0 {
        RunEnd::To
    } else {
        RunEnd::From
    };
    let counted = sides.filter(|(which, _)| !step.at_crest || *which == upstream);
    let told = counted.map(|(which, loss_m)| {
        let blame = Blame::Screen {
            run: run.id.clone(),
            which,
            loss_m,
        };
        (loss_m, Some(blame))
    });
    told.collect()
}

/// Head over a crest, metres. A level that is not known counts as `excess_m` over the rim in `vessel`, and as no head
/// elsewhere.
fn over_crest_m(report: &StateReport, crest: &Crest, vessel: &Id, excess_m: f64) -> f64 {
    let at = report.vessels.iter().find(|at| at.id == crest.at);
    let level_m = at.and_then(|at| {
        let fallback = (at.id == *vessel).then_some(at.rim_m + excess_m);
        at.level_m.or(fallback)
    });
    level_m.map_or(0.0, |level_m| (level_m - crest.height_m).max(0.0))
}

/// Returns the cause where the path ends without a crest: a mouth in air, a level, or else the last pipe.
fn at_the_end(layout: &Layout, report: &StateReport, last: &PathStep<'_>, end: &Id) -> Blame {
    let run = last.run;
    let which = if run.flow_m3_s > 0.0 {
        RunEnd::To
    } else {
        RunEnd::From
    };
    if !run.drowned {
        let mouth = layout
            .run(&run.id)
            .and_then(|drawn| crest(layout, drawn, which));
        if let Some(mouth) = mouth {
            return Blame::Mouth(mouth);
        }
    }
    let vessels = report.vessels.iter().map(|at| (&at.id, at.level_m));
    let fixed = report.fixed.iter().map(|at| (&at.id, Some(at.level_m)));
    let mut levels = vessels.chain(fixed);
    match levels.find(|(at, _)| *at == end) {
        Some((at, Some(level_m))) => Blame::Level {
            at: at.clone(),
            level_m,
        },
        _ => Blame::Pipe {
            run: run.id.clone(),
            loss_m: run.loss_m.abs(),
            bore_m: run.bore_m,
        },
    }
}

/// Returns the cause where nothing flows out by gravity: a shut run, a crest over the rim, or no outlet at all.
fn without_way(layout: &Layout, report: &StateReport, vessel: &Id) -> Blame {
    let here = report.vessels.iter().find(|at| at.id == *vessel);
    let drains = report.runs.iter().filter(|run| run.from == *vessel);
    let gravity = |run: &&RunReport| {
        layout
            .run(&run.id)
            .is_some_and(|drawn| drawn.pump.is_none())
    };
    let drains: Vec<&RunReport> = drains.filter(gravity).collect();
    if let Some(shut) = drains.iter().find(|run| run.control == Control::Shut) {
        return Blame::Shut(shut.id.clone());
    }
    let rim_m = here.map_or(f64::INFINITY, |at| at.rim_m);
    let crests = drains
        .iter()
        .filter(|run| run.control == Control::Dry)
        .filter_map(|run| crest(layout, layout.run(&run.id)?, RunEnd::From));
    let over_rim = crests.filter(|crest| crest.height_m >= rim_m);
    match over_rim.min_by(|a, b| a.height_m.total_cmp(&b.height_m)) {
        Some(crest) => Blame::Crest(crest),
        None => Blame::NoWayOut,
    }
}
