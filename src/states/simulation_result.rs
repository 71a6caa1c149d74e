//! Simulation results: levels and flows of a layout at many moments, by part.

use super::NO_FLOW_M3_S;
use super::event::Event;
use super::hybrid_system::{HybridSystem, SwitchMode};
use super::report::Outcome;
use super::simulate::{Simulated, SimulationOptions, simulate};
use super::{
    EndOfState, PumpsOnAndOff, StateNotConverged, at_a_start, blocked, chain, start_at, vessels,
};
use crate::layout::{Id, Layout};
use crate::lower::Lowered;
use crate::solve::{NetworkState, System};

/// Levels and flows in time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SimulationResult {
    /// The times, s; ascending, the first is 0.
    pub times_s: Vec<f64>,
    /// Level of each vessel at each time, metres; in the order of the layout.
    pub levels_m: Vec<(Id, Vec<f64>)>,
    /// Flow of each run as drawn at each time, m³/s; in the order of the layout. At a switch event,
    /// and at 0, the flow just after.
    pub flows_m3_s: Vec<(Id, Vec<f64>)>,
    /// The events, in order of time, each at one of these times.
    pub told: Vec<Event>,
    /// Volume spilled over the rim of each vessel, m³.
    pub spilled_m3: Vec<(Id, f64)>,
    /// Mass balance error: water in the vessels by their levels less that by the flows, m³.
    pub volume_error_m3: f64,
    /// Nothing moved any more at the end.
    pub still: bool,
    /// Period, s, where it ended in a limit cycle.
    pub period_s: Option<f64>,
    /// What stands at the high points of runs at the end.
    pub outcome: Outcome,
}

/// What happens at second 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InitialChange {
    /// The pumps start, from rest.
    Start,
    /// The pumps stop, from running.
    Stop,
    /// The run at this index in the layout is shut, from running.
    Block(usize),
}

/// Simulates `turn` from `from`: the levels at rest for a start, else the running state, as built.
///
/// `until_s`: the end time, even if already steady; none: to the steady state, or once round a limit cycle.
pub fn simulation_result(
    layout: &Layout,
    built: &PumpsOnAndOff,
    from: &EndOfState,
    turn: InitialChange,
    until_s: Option<f64>,
) -> Result<SimulationResult, StateNotConverged> {
    let (hybrid, start, modes) = prepared(layout, built, from, turn);
    let how = SimulationOptions {
        until_s,
        keep_steps: true,
        every_round: true,
        ..SimulationOptions::event()
    };
    let (lowered, way) = simulate(&hybrid, &start, modes, how)?;
    Ok(events(layout, &lowered, way))
}

pub(super) fn prepared<'a>(
    layout: &'a Layout,
    built: &PumpsOnAndOff,
    from: &'a EndOfState,
    turn: InitialChange,
) -> (HybridSystem<'a>, NetworkState, Option<&'a [SwitchMode]>) {
    let (on, off, modes) = match turn {
        InitialChange::Block(run) => {
            let (hybrid, start) = blocked::shut_system(layout, built, from, run);
            return (hybrid, start, from.modes.as_deref());
        }
        InitialChange::Start => (&built.on, &built.off, None),
        InitialChange::Stop => (&built.off, &built.off, None),
    };
    let start = start_at(on, &System::new(&on.network), &from.levels_m);
    let hybrid = HybridSystem::new(layout, on.clone(), off.clone()).primed(&from.primed);
    let water = match turn {
        InitialChange::Start => at_a_start(&hybrid, &start, &from.way.end),
        _ => from.way.water.clone(),
    };
    (hybrid.with_water(water), start, modes)
}

fn events(layout: &Layout, lowered: &Lowered, mut way: Simulated) -> SimulationResult {
    let origin = &lowered.origin;
    way.end_at_the_limit();
    let (times_s, points) = one_each(&way);
    let vessels = layout.vessels.iter().map(|vessel| vessel.id.clone());
    let levels = origin.vessels.iter().map(|&node| {
        let heads = points.iter().map(|point| point.head_m[node]);
        heads
            .map(|head| vessels::read_level(lowered, node, head))
            .collect()
    });
    let runs = layout.runs.iter().map(|run| run.id.clone());
    let links = origin.runs.iter().zip(&origin.run_facts);
    let flows = links.map(|(&link, facts)| {
        let flows = points.iter().map(|point| point.flow_m3_s[link]);
        flows
            .map(|flow| {
                if flow.abs() < NO_FLOW_M3_S {
                    0.0
                } else {
                    facts.as_drawn(flow)
                }
            })
            .collect()
    });
    let rims = origin.rims.iter();
    let spilled = rims.map(|rim| rim.map_or(0.0, |link| way.passed_m3[link]));
    SimulationResult {
        times_s,
        levels_m: vessels.clone().zip(levels).collect(),
        flows_m3_s: runs.zip(flows).collect(),
        told: way.told.clone(),
        spilled_m3: vessels.zip(spilled).collect(),
        volume_error_m3: way.volume_error_m3,
        still: way.still,
        period_s: way.cycle.as_ref().map(|cycle| cycle.period_s),
        outcome: chain::outcome(lowered),
    }
}

/// One state for each time: the later one, where there are two because of a switch.
fn one_each(way: &Simulated) -> (Vec<f64>, Vec<&NetworkState>) {
    let mut times_s: Vec<f64> = Vec::new();
    let mut points: Vec<&NetworkState> = Vec::new();
    for (time_s, point) in way.course.times_s.iter().zip(&way.course.points) {
        if times_s.last().is_some_and(|last| last >= time_s) {
            points.pop();
        } else {
            times_s.push(*time_s);
        }
        points.push(point);
    }
    (times_s, points)
}
