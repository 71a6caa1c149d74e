//! Blocked: from running, one run shut at a time.

use super::cut_off::first_cut_off;
use super::event::EventKind;
use super::executor::{self, Executor};
use super::hybrid_system::{HybridSystem, SwitchMode, set_check};
use super::report::{BlockedCase, StateReport};
use super::simulate::{Simulated, SimulationOptions, simulate};
use super::vessels::read_range;
use super::{
    EndOfState, PumpsOnAndOff, Solved, StateNotConverged, report_of, solved, start_at, trajectory,
};
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::network::Check;
use crate::solve::{Gauge, NetworkState, System};
use crate::state::State;
use std::sync::{Mutex, PoisonError};

/// Simulated time of a blocked case, s: a day.
pub const DAY_S: f64 = 86_400.0;

/// Every run that carries water shut in turn, worst first, with the report of the worst; where no run
/// carries any, the report of the layout as it stands.
///
/// `built`: walls as built. `running`: the running state reached. `executor`: runs the cases.
pub fn blocked(
    layout: &Layout,
    built: &PumpsOnAndOff,
    running: &EndOfState,
    executor: &dyn Executor,
) -> Result<StateReport, StateNotConverged> {
    // Only one report is kept, because they can be large.
    let worst: Mutex<Option<(BlockedCase, usize, Solved)>> = Mutex::new(None);
    let runs = carrying(layout, built, running);
    let cases = executor::each(executor, &runs, |run| {
        let (case, solved) = blocked_case(layout, built, running, *run)?;
        let mut worst = worst.lock().unwrap_or_else(PoisonError::into_inner);
        if worst
            .as_ref()
            .is_none_or(|(other, ..)| is_worse(&case, other))
        {
            *worst = Some((case.clone(), *run, solved));
        }
        Ok(case)
    });
    let mut cases = cases
        .into_iter()
        .collect::<Result<Vec<_>, StateNotConverged>>()?;
    cases.sort_by(order);
    let report = match worst.into_inner().unwrap_or_else(PoisonError::into_inner) {
        Some((_, run, mut solved)) => {
            let (hybrid, _) = shut_system(layout, built, running, run);
            solved.second_outcome(&hybrid)?;
            solved.report
        }
        None => as_it_stands(layout, built, running)?,
    };
    Ok(StateReport {
        blocked: cases,
        ..report
    })
}

/// There is nothing to shut.
fn as_it_stands(
    layout: &Layout,
    built: &PumpsOnAndOff,
    running: &EndOfState,
) -> Result<StateReport, StateNotConverged> {
    const BLINK_S: f64 = 1e-6;
    let hybrid = HybridSystem::new(layout, built.on.clone(), built.off.clone())
        .primed(&running.primed)
        .with_water(running.way.water.clone());
    let start = start_at(
        &built.on,
        &System::new(&built.on.network),
        &running.levels_m,
    );
    let (lowered, way) = simulated(&hybrid, &start, running.modes.as_deref(), BLINK_S)?;
    Ok(StateReport {
        course: None,
        ..with_events(&hybrid, &lowered, &way)
    })
}

/// One run shut. `run`: its index in the layout.
pub fn blocked_case(
    layout: &Layout,
    built: &PumpsOnAndOff,
    running: &EndOfState,
    run: usize,
) -> Result<(BlockedCase, Solved), StateNotConverged> {
    let (hybrid, start) = shut_system(layout, built, running, run);
    let (lowered, way) = simulated(&hybrid, &start, running.modes.as_deref(), DAY_S)?;
    let case = case(layout, &lowered, running, run, &way);
    let report = with_events(&hybrid, &lowered, &way);
    Ok((case, solved(report, &lowered, way)))
}

/// Order by harm; ties in that by name.
fn order(a: &BlockedCase, b: &BlockedCase) -> std::cmp::Ordering {
    a.by_harm(b).then_with(|| a.run.cmp(&b.run))
}

fn is_worse(a: &BlockedCase, b: &BlockedCase) -> bool {
    order(a, b).is_lt()
}

/// Indices of the runs that carry water, without those that are shut already.
pub(super) fn carrying(layout: &Layout, built: &PumpsOnAndOff, running: &EndOfState) -> Vec<usize> {
    let flows = |run: usize| {
        let link = built.on.origin.runs.get(run).copied()?;
        let flow = running.way.end.flow_m3_s.get(link)?;
        Some(flow.abs() >= super::NO_FLOW_M3_S)
    };
    (0..layout.runs.len())
        .filter(|&run| flows(run).unwrap_or(false))
        .collect()
}

/// The hybrid system with a run shut, and its initial state.
pub(super) fn shut_system<'a>(
    layout: &'a Layout,
    built: &PumpsOnAndOff,
    running: &EndOfState,
    run: usize,
) -> (HybridSystem<'a>, NetworkState) {
    let (mut on, mut off) = (built.on.clone(), built.off.clone());
    set_check(&mut on, run, Check::Shut);
    set_check(&mut off, run, Check::Shut);
    let start = start_of(&on, running);
    let hybrid = HybridSystem::new(layout, on, off)
        .primed(&running.primed)
        .with_water(running.way.water.clone());
    (hybrid, start)
}

/// Initial state of a failure while everything runs: levels and flows too, so that suctions that starve already are no
/// new events.
///
/// Nor does a pump recover that was never short of water: where heads of joints changed, or levels were cut off at
/// rims, a flow inconsistent with its levels would look like one under inlet control.
pub(super) fn start_of(on: &Lowered, running: &EndOfState) -> NetworkState {
    let system = System::new(&on.network);
    let mut start = start_at(on, &system, &running.levels_m);
    let ran = &running.way.end;
    for &joint in &on.origin.joints {
        if let (Some(head), Some(was)) = (start.head_m.get_mut(joint), ran.head_m.get(joint)) {
            *head = *was;
        }
    }
    let flows = start.flow_m3_s.iter_mut().zip(&ran.flow_m3_s);
    flows.for_each(|(flow, ran)| *flow = *ran);
    for &link in &on.origin.runs {
        let starved = Gauge::Starved { link };
        if starved.read(&system, &start) > 0.0 && starved.read(&system, ran) <= 0.0 {
            start.flow_m3_s[link] = 0.0;
        }
    }
    start
}

/// Simulates it with these switch modes; none: those of a start.
pub(super) fn simulated(
    hybrid: &HybridSystem<'_>,
    start: &NetworkState,
    modes: Option<&[SwitchMode]>,
    until_s: f64,
) -> Result<(Lowered, Simulated), StateNotConverged> {
    let how = SimulationOptions {
        until_s: Some(until_s),
        ends_with_round: true,
        ..SimulationOptions::event()
    };
    simulate(hybrid, start, modes, how)
}

fn with_events(hybrid: &HybridSystem<'_>, lowered: &Lowered, way: &Simulated) -> StateReport {
    let mut report = report_of(hybrid.layout, lowered, State::Blocked, way);
    super::pumps::say_why(&mut report.pumps, hybrid, &way.modes);
    // The end of the day counts as an end: what still moves then simply moves on.
    report.converged = report.mass_error_m3_s <= super::MASS_M3_S && !way.given_up;
    super::vessels::add_spill(&mut report, lowered, way);
    report.course = Some(trajectory::report(hybrid, lowered, way));
    report
}

/// Assesses the outcome of a failure in a run.
pub(super) fn case(
    layout: &Layout,
    lowered: &Lowered,
    running: &EndOfState,
    run: usize,
    way: &Simulated,
) -> BlockedCase {
    let origin = &lowered.origin;
    let stood = layout.vessels.iter().zip(&running.levels_m);
    // A vessel that stands at its rim already spills anyway.
    let had_room = stood.filter(|(vessel, level_m)| **level_m < vessel.rim_m - super::OVER_M);
    let spills = had_room.filter_map(|(vessel, _)| {
        Some((
            vessel,
            trajectory::first(way, EventKind::SpillBegins, &vessel.id)?,
        ))
    });
    let first = spills.min_by(|a, b| a.1.total_cmp(&b.1));
    let rims = || origin.rims.iter().flatten();
    let spilled: f64 = rims().map(|&link| way.passed_m3[link]).sum();
    // A limit cycle goes on for the rest of the day.
    let left_s = (DAY_S - way.time_s).max(0.0);
    let round = way.cycle.iter().flat_map(|cycle| {
        let means = rims().filter_map(|&link| cycle.mean_m3_s.get(link));
        means.map(|mean_m3_s| mean_m3_s.max(0.0) * left_s)
    });
    let spilled = spilled + round.sum::<f64>();
    let starved = way.told.iter().find(|told| {
        matches!(
            told.what,
            EventKind::SuctionStarved | EventKind::PumpRunsDry
        )
    });
    let starved = starved.map(|told| (told.about.first(), told.time_s));
    // A pump that draws from a joint has no intake to watch.
    let cut_off = first_cut_off(layout, lowered, running).map(|pump| (Some(pump), 0.0));
    let starved = cut_off.or(starved);
    let stood = origin.vessels.iter().zip(&running.levels_m);
    let stood_m3 = stood
        .map(|(&node, &level_m)| super::vessels::volume(lowered, node, level_m))
        .sum();
    let vessels = layout.vessels.iter().zip(&origin.vessels);
    BlockedCase {
        run: layout
            .runs
            .get(run)
            .map(|run| run.id.clone())
            .unwrap_or_default(),
        first_spill_s: first.as_ref().map(|(_, time_s)| *time_s),
        spills: first.map(|(vessel, _)| vessel.id.clone()),
        spilled_m3: spilled,
        starved_s: starved.map(|(_, time_s)| time_s),
        starves: starved.and_then(|(pump, _)| pump.cloned()),
        lowest_m: vessels
            .map(|(vessel, &node)| {
                let [lowest_m, _] = read_range(lowered, node, way.range_m[node]);
                (vessel.id.clone(), lowest_m)
            })
            .collect(),
        time_s: way.time_s,
        water_m3: stood_m3,
    }
}
