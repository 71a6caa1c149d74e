//! Reports water let in from outside that runs straight on to waste: a float valve set above the crest of an overflow,
//! or a constant make-up that nothing uses.

use super::state_view::{PipedRun, StateView, TRICKLE_M3_S, VesselSeen};
use super::wording::{finding, height, volume, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::units::Quantity;
use std::collections::HashSet;

/// Seconds in a day.
const DAY_S: f64 = 86_400.0;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    // Of a cycle only the means are known, and a float valve at the mean level does not pass the mean flow.
    if seen.report.cycle.is_some() {
        return Vec::new();
    }
    let vessels = seen.vessels.iter().flat_map(|held| let_in(held));
    let joints = seen.layout.joints.iter().map(|joint| Inflow {
        part: &joint.id,
        flow_m3_s: joint.make_up_m3_s,
        shut_m: None,
    });
    let inflows = vessels.chain(joints);
    inflows
        .filter(|one| one.flow_m3_s > TRICKLE_M3_S)
        .filter_map(|one| of_inflow(seen, &one))
        .collect()
}

/// Water that comes in from outside at a part.
struct Inflow<'a> {
    part: &'a Id,
    flow_m3_s: f64,
    /// Level at which the float valve is shut, metres; none for a constant make-up.
    shut_m: Option<f64>,
}

fn let_in<'a>(held: &VesselSeen<'a>) -> impl Iterator<Item = Inflow<'a>> + use<'a> {
    let part = &held.drawn.id;
    let constant = Inflow {
        part,
        flow_m3_s: held.drawn.make_up_m3_s,
        shut_m: None,
    };
    let level_m = real_m(held);
    let valve = held.drawn.float_valve.zip(level_m);
    let valve = valve.map(|(valve, level_m)| Inflow {
        part,
        flow_m3_s: valve.flow_at_m3_s(level_m),
        shut_m: Some(valve.shut_m),
    });
    [Some(constant), valve].into_iter().flatten()
}

/// Final level of a vessel with walls as built, metres.
fn real_m(held: &VesselSeen<'_>) -> Option<f64> {
    let spill = held.here.with_spill;
    spill.map(|spill| spill.level_m).or(held.here.level_m)
}

/// Where water leaves the system.
#[derive(Clone, Copy)]
enum Sink<'a> {
    /// Through a run into a fixed level.
    Run(PipedRun<'a>),
    /// Over the rim of a vessel.
    Rim(&'a Id),
}

/// Returns the sinks that water from a part reaches, nearest first, and the flow into all of them, m³/s.
fn sinks<'a>(seen: &StateView<'a>, part: &'a Id) -> (Vec<Sink<'a>>, f64) {
    let mut done: HashSet<&Id> = HashSet::from([part]);
    let mut next = vec![part];
    let mut place = 0;
    let (mut found, mut sum_m3_s) = (Vec::new(), 0.0);
    while let Some(at) = next.get(place).copied() {
        place += 1;
        let leaving = seen.meeting(at);
        for run in leaving.filter(|run| run.flows() && run.source() == at) {
            let to = run.target();
            if seen.layout.fixed.iter().any(|fixed| fixed.id == *to) {
                found.push(Sink::Run(*run));
                sum_m3_s += run.here.flow_m3_s.abs();
            } else if done.insert(to) {
                next.push(to);
            }
        }
        let Some(held) = seen.vessel(at) else {
            continue;
        };
        let spill_m3_s = held.here.with_spill.map_or(0.0, |spill| spill.spill_m3_s);
        if spill_m3_s > TRICKLE_M3_S {
            let caught = held.drawn.spills_to.as_ref();
            match caught.filter(|to| seen.vessel(to).is_some()) {
                Some(to) => next.extend(done.insert(to).then_some(to)),
                None => {
                    found.push(Sink::Rim(at));
                    sum_m3_s += spill_m3_s;
                }
            }
        }
    }
    (found, sum_m3_s)
}

fn of_inflow(seen: &StateView<'_>, inflow: &Inflow<'_>) -> Option<Finding> {
    let (sinks, out_m3_s) = sinks(seen, inflow.part);
    let first = *sinks.first()?;
    // The solved states leave out evaporation; what evaporates does not run to waste.
    let wasted_m3_s = inflow.flow_m3_s.min(out_m3_s) - seen.water.evaporation_m3_s;
    if wasted_m3_s <= TRICKLE_M3_S {
        return None;
    }
    let straight = is_straight(seen, inflow.part);
    let mut text: Vec<Piece> = Vec::new();
    let severity = match inflow.shut_m {
        Some(shut_m) => {
            text.extend(["The float valve of ".into(), inflow.part.into()]);
            text.extend([" never shuts".into(), when(seen.report.state).into()]);
            text.extend([": it is set to shut at ".into(), height(shut_m)]);
            text.extend(crest(inflow.part, &first));
            Severity::Warning
        }
        None => {
            text.extend(["The make-up of ".into(), inflow.part.into()]);
            let straight_on = match straight {
                true => " only runs on to waste",
                false => " ends as waste",
            };
            text.extend([straight_on.into(), when(seen.report.state).into()]);
            match straight {
                true => Severity::Warning,
                false => Severity::Note,
            }
        }
    };
    text.extend([
        ". ".into(),
        volume(wasted_m3_s * DAY_S),
        " a day leave ".into(),
    ]);
    let mut about = vec![inflow.part];
    match first {
        Sink::Run(run) => {
            text.extend(["by ".into(), (&run.drawn.id).into()]);
            about.push(&run.drawn.id);
        }
        Sink::Rim(vessel) if vessel == inflow.part => text.push("over its rim".into()),
        Sink::Rim(vessel) => {
            text.extend(["over the rim of ".into(), vessel.into()]);
            about.push(vessel);
        }
    }
    text.push(".".into());
    let found = finding(seen, (Code::RunsToWaste, severity), &about, text);
    Some(with_limit(found, Quantity::Flow, (wasted_m3_s, 0.0)))
}

/// Returns the words for the crest that the valve is set above, as the end of a sentence; nothing where the water does
/// not leave the same part by a run with a crest.
fn crest(part: &Id, sink: &Sink<'_>) -> Vec<Piece> {
    let Sink::Run(run) = sink else {
        return Vec::new();
    };
    if run.source() != part {
        return Vec::new();
    }
    let drawn = match run.upstream() {
        0 => &run.drawn.from,
        _ => &run.drawn.to,
    };
    let opening = drawn.opening.as_ref();
    let crest = opening.and_then(|one| Some((one.height_word(), one.crest_m()?)));
    crest.map_or(Vec::new(), |(word, crest_m)| {
        vec![
            format!(", over the {word} of ").into(),
            (&run.drawn.id).into(),
            " at ".into(),
            height(crest_m),
        ]
    })
}

/// Returns whether every run that takes water from a part leads straight to waste.
fn is_straight(seen: &StateView<'_>, part: &Id) -> bool {
    let mut leaving = seen
        .meeting(part)
        .filter(|run| run.flows() && run.source() == part);
    let is_waste = |run: &PipedRun<'_>| {
        let mut fixed = seen.layout.fixed.iter();
        fixed.any(|one| one.id == *run.target())
    };
    leaving.all(is_waste)
}
