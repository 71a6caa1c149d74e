//! What holds a level up: the crest, pipe or level to blame, found by following the water.

use crate::layout::{Id, Layout, Opening, Run};
use crate::states::report::{Control, RunReport, StateReport};
use std::collections::HashSet;

/// Less than this does not count as flow, m³/s.
const TRICKLE_M3_S: f64 = super::state_view::TRICKLE_M3_S;
/// More free drop than this says that a raised crest holds the flow, metres.
const LIMITED_AT_CREST_M: f64 = 1e-4;

/// An end of a run as drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RunEndDrawn {
    /// Where it starts.
    From,
    /// Where it goes.
    To,
}

impl RunEndDrawn {
    /// The field of the run.
    pub fn word(self) -> &'static str {
        match self {
            RunEndDrawn::From => "from",
            RunEndDrawn::To => "to",
        }
    }
}

/// What is to blame for a level.
#[derive(Clone, Debug, PartialEq)]
pub enum Blame {
    /// A crest that stands too high.
    Crest(Crest),
    /// An opening that cannot pass the water even with its crest at the floor.
    SmallOpening(Crest),
    /// A pipe that loses too much.
    Pipe {
        /// The run.
        run: Id,
        /// What it loses, metres.
        loss_m: f64,
        /// Its bore, metres.
        bore_m: f64,
    },
    /// A screen that loses too much.
    Screen {
        /// The run that it stands before.
        run: Id,
        /// At which of its ends.
        which: RunEndDrawn,
        /// What it loses, metres.
        loss_m: f64,
    },
    /// The end of a run in air that stands too high.
    Mouth(Crest),
    /// A level that no crest holds: a fixed one, or that of a vessel with nothing but a pump to drain it.
    Level {
        /// The part.
        at: Id,
        /// Its level, metres.
        level_m: f64,
    },
    /// A run that is shut.
    Shut(Id),
    /// Nothing takes water away by gravity.
    NoWayOut,
}

/// An opening whose height holds water up.
#[derive(Clone, Debug, PartialEq)]
pub struct Crest {
    /// The run.
    pub run: Id,
    /// Which of its ends.
    pub which: RunEndDrawn,
    /// The vessel that the opening is in.
    pub at: Id,
    /// Its height, metres.
    pub height_m: f64,
}

/// One run on the way down from a vessel.
struct PathStep<'a> {
    run: &'a RunReport,
    /// The opening it takes water in by, where that has a height.
    crest: Option<Crest>,
    /// The crest holds its flow, not its losses.
    at_crest: bool,
    to: &'a Id,
}

impl Blame {
    /// The parts to blame, the run first.
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

/// What holds the level of `vessel` up, going by the way its water takes. `excess_m`: by how much
/// the level must fall.
///
/// Follows the largest gravity flow out of each vessel: a run held at its crest ends the way; one
/// that is drowned is held up by the vessel behind it, and so on. One pipe or screen on the way is to blame
/// if it loses more than all else between the level and the last crest, and at least `excess_m`.
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

/// Every crest on the way down from `vessel`, nearest first.
pub fn crests_below(layout: &Layout, report: &StateReport, vessel: &Id) -> Vec<Crest> {
    let (steps, _) = way_down(layout, report, vessel);
    steps.into_iter().filter_map(|step| step.crest).collect()
}

/// The runs on the way down, and the part at which it ends.
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

/// The largest gravity flow out of a part.
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
        RunEndDrawn::From
    } else {
        RunEndDrawn::To
    };
    let opening = end(drawn, which).1;
    let raised = matches!(opening, Some(Opening::RaisedIntake { .. }));
    Some(PathStep {
        run,
        crest: crest(layout, drawn, which),
        at_crest: run.control == Control::Inlet || (raised && run.free_drop_m > LIMITED_AT_CREST_M),
        to: if which == RunEndDrawn::From {
            &run.to
        } else {
            &run.from
        },
    })
}

fn end(run: &Run, which: RunEndDrawn) -> (&Id, Option<&Opening>) {
    let end = match which {
        RunEndDrawn::From => &run.from,
        RunEndDrawn::To => &run.to,
    };
    (&end.at, end.opening.as_ref())
}

/// The height at an end of a run, where that has one: an outlet in the floor is at the floor.
fn crest(layout: &Layout, run: &Run, which: RunEndDrawn) -> Option<Crest> {
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

/// The pipe or screen that loses more than all else on the way, and enough to matter.
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
            // A screen before it has its own part of what stands over a crest.
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

/// What the screen upstream of a run takes, metres.
fn before_m(step: &PathStep<'_>) -> f64 {
    let [from_m, to_m] = step.run.screens_m;
    if step.run.flow_m3_s < 0.0 {
        to_m
    } else {
        from_m
    }
}

/// What a run loses between its screens, metres.
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

/// The screens of a run that hold its level up: behind a crest only the one before it does.
fn of_screens(step: &PathStep<'_>) -> Vec<(f64, Option<Blame>)> {
    let run = step.run;
    let sides = [RunEndDrawn::From, RunEndDrawn::To]
        .into_iter()
        .zip(run.screens_m);
    let upstream = if run.flow_m3_s < 0.0 {
        RunEndDrawn::To
    } else {
        RunEndDrawn::From
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

/// Head over a crest, metres; nothing where the level there is not known.
fn over_crest_m(report: &StateReport, crest: &Crest, vessel: &Id, excess_m: f64) -> f64 {
    let at = report.vessels.iter().find(|at| at.id == crest.at);
    let level_m = at.and_then(|at| {
        let fallback = (at.id == *vessel).then_some(at.rim_m + excess_m);
        at.level_m.or(fallback)
    });
    level_m.map_or(0.0, |level_m| (level_m - crest.height_m).max(0.0))
}

/// The way ends without a crest: in air, at a level, or at a part that nothing drains.
fn at_the_end(layout: &Layout, report: &StateReport, last: &PathStep<'_>, end: &Id) -> Blame {
    let run = last.run;
    let which = if run.flow_m3_s > 0.0 {
        RunEndDrawn::To
    } else {
        RunEndDrawn::From
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

/// Nothing flows out by gravity: a crest over the level, a run that is shut, or nothing at all.
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
        .filter_map(|run| crest(layout, layout.run(&run.id)?, RunEndDrawn::From));
    let over_rim = crests.filter(|crest| crest.height_m >= rim_m);
    match over_rim.min_by(|a, b| a.height_m.total_cmp(&b.height_m)) {
        Some(crest) => Blame::Crest(crest),
        None => Blame::NoWayOut,
    }
}
