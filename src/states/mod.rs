//! The six states, from one system of equations.
//!
//! *At rest*, *starting*, *running*, *fouled*, *blocked* and *stopped* are the same layout simulated in time
//! from one initial state or another (`simulate`), with some parts switched (`hybrid_system`).
//!
//! Invariant: takes lowered networks and gives reports; knows no window and no sentence.

mod air;
mod blocked;
mod capacity;
mod chain;
mod chatter;
mod cut_off;
mod cycle;
mod cycle_extrapolation;
mod event;
mod executor;
mod faults;
mod fill_marks;
mod flows;
mod grade_line;
mod grade_still;
mod highest;
mod hybrid_system;
mod joints;
mod lines;
mod near;
mod preview;
mod pumps;
pub mod report;
mod runs;
mod series;
mod simulate;
mod simulation_result;
mod trajectory;
mod vessels;
mod washing;

pub use cut_off::{ShutSuction, shut_suctions};
pub use event::{Event, EventKind};
pub use executor::{Executor, Sequential, each};
pub use faults::{Fault, Suspect, fault_case, suspects};
pub use fill_marks::{FillMarks, Mark, fill_marks};
pub use grade_line::{GradePoint, grade_line};
pub use grade_still::{StandingWater, StillPoint, standing_water};
pub use preview::running_preview;
pub use series::{InterpolatedSeries, series, series_within};
pub use simulation_result::{InitialChange, SimulationResult, simulation_result};
pub use washing::{Washing, washing};

use crate::layout::{Id, Layout};
use crate::lower::Lowered;
use crate::solve::{ConvergenceError, NetworkState, System};
use crate::state::State;
use hybrid_system::{HybridSystem, SwitchMode};
use preview::at_a_start;
use report::StateReport;
use simulate::{Simulated, SimulationOptions, simulate};

/// Convergence error: a state that could not be solved, and the parts where it failed.
#[derive(Clone, Debug, PartialEq)]
pub struct StateNotConverged {
    /// Vessels and joints out of balance, worst first.
    pub about: Vec<Id>,
}

/// A solved state: its report, and the initial state of the next.
#[derive(Clone, Debug)]
pub struct Solved {
    /// Its report.
    pub report: StateReport,
    /// Its end.
    pub reached: EndOfState,
    /// The end of its second outcome, whose report is in that of the first; none without one.
    pub second: Option<Box<EndOfState>>,
}

/// The end of a state: levels and switch modes. Valid for the same layout, pumps on or off,
/// walls tall or as built.
#[derive(Clone, Debug)]
pub struct EndOfState {
    /// Level of every vessel, in the order of the layout, metres.
    pub levels_m: Vec<f64>,
    /// The switch modes; none: those of a start.
    modes: Option<Vec<SwitchMode>>,
    /// Numbers of the primed chains of runs.
    primed: Vec<usize>,
    /// The simulation that led there.
    way: Simulated,
}

impl EndOfState {
    /// Whether there is a chain of runs that can prime, and every such chain is primed.
    pub fn is_primed(&self) -> bool {
        let modes = self.modes.iter().flatten();
        !self.primed.is_empty() && !modes.into_iter().any(|mode| *mode == SwitchMode::WithAir)
    }
}

/// A layout lowered with its pumps on and with its pumps off.
#[derive(Clone, Debug)]
pub struct PumpsOnAndOff {
    /// Pumps on.
    pub on: Lowered,
    /// Pumps off.
    pub off: Lowered,
}

/// Difference below which two heights are the same, metres.
const SAME_HEIGHT_M: f64 = 1e-6;
/// Flow below which a run counts as carrying nothing, m³/s: a millilitre an hour would be 3e-10.
const NO_FLOW_M3_S: f64 = 1e-10;
/// Largest imbalance and energy residual that count as converged (m³/s, m).
const MASS_M3_S: f64 = 1e-9;
const ENERGY_M: f64 = 1e-6;
/// A level that rises less than this above a rim during the simulation has not been above it, metres.
const OVER_M: f64 = 1e-9;

/// From the fill levels, pumps off, to the steady state. `off`: pumps off, walls as built.
pub fn rest(layout: &Layout, off: &Lowered) -> Result<Solved, StateNotConverged> {
    let filled = chain::filled_by_hand(layout, off);
    let hybrid = HybridSystem::new(layout, off.clone(), off.clone()).primed(&filled);
    let start = System::new(&off.network).start();
    let mut solved = with_events(
        &hybrid,
        State::Rest,
        &start,
        None,
        SimulationOptions::event(),
    )?;
    with_spill_if_any(&mut solved, off);
    solved.second_outcome(&hybrid)?;
    Ok(solved)
}

/// From rest, pumps on, to the steady state: once with tall walls, and where water rises above a rim in that simulation
/// once more as built. `rest`: the state at rest. `state`: running, or fouled.
///
/// The second result is the real outcome, as built; none where no water rises above a rim.
pub fn running(
    layout: &Layout,
    state: State,
    (tall, built): (&PumpsOnAndOff, &PumpsOnAndOff),
    rest: &EndOfState,
) -> Result<(Solved, Option<Solved>), StateNotConverged> {
    let hybrid = HybridSystem::new(layout, tall.on.clone(), tall.off.clone()).primed(&rest.primed);
    let system = System::new(&tall.on.network);
    let start = start_at(&tall.on, &system, &rest.levels_m);
    let water = at_a_start(&hybrid, &start, &rest.way.end);
    let hybrid = hybrid.with_water(water);
    let mut solved = plain(&hybrid, state, &start)?;
    solved.second_outcome(&hybrid)?;
    if !over_a_rim(layout, &tall.on, &solved.reached.way) {
        return Ok((solved, None));
    }
    let real = starting(layout, built, rest)?;
    solved.report.newton_steps += real.report.newton_steps;
    solved.report.time_steps += real.report.time_steps;
    vessels::add_spill(&mut solved.report, &built.on, &real.reached.way);
    solved.report.as_built = Some(Box::new(StateReport {
        state,
        course: None,
        primed: None,
        ..real.report.clone()
    }));
    Ok((solved, Some(real)))
}

/// From rest, pumps on, as built, to the steady state, with the trajectory.
pub fn starting(
    layout: &Layout,
    built: &PumpsOnAndOff,
    rest: &EndOfState,
) -> Result<Solved, StateNotConverged> {
    let hybrid =
        HybridSystem::new(layout, built.on.clone(), built.off.clone()).primed(&rest.primed);
    let system = System::new(&built.on.network);
    let start = start_at(&built.on, &system, &rest.levels_m);
    let water = at_a_start(&hybrid, &start, &rest.way.end);
    let hybrid = hybrid.with_water(water);
    let mut solved = with_events(
        &hybrid,
        State::Starting,
        &start,
        None,
        SimulationOptions::event(),
    )?;
    with_spill_if_any(&mut solved, &built.on);
    solved.second_outcome(&hybrid)?;
    Ok(solved)
}

/// From `running`, pumps off, to the steady state. `built`: walls as built.
pub fn stopped(
    layout: &Layout,
    built: &PumpsOnAndOff,
    running: &EndOfState,
) -> Result<Solved, StateNotConverged> {
    let hybrid = HybridSystem::new(layout, built.off.clone(), built.off.clone())
        .primed(&running.primed)
        .with_water(running.way.water.clone());
    let system = System::new(&built.off.network);
    let start = start_at(&built.off, &system, &running.levels_m);
    let mut solved = with_events(
        &hybrid,
        State::Stopped,
        &start,
        None,
        SimulationOptions::event(),
    )?;
    with_spill_if_any(&mut solved, &built.off);
    solved.second_outcome(&hybrid)?;
    let pumped = HybridSystem::new(layout, built.on.clone(), built.off.clone());
    let way = &solved.reached.way;
    let back = trajectory::back(&pumped, &running.way, &built.off, way);
    if let Some(course) = &mut solved.report.course {
        course.back = Some(back);
    }
    Ok(solved)
}

/// The state of the layout while it runs: the initial state of a stop, or of a shut path.
///
/// The real outcome where there is one. But where that goes on losing water, or has lost so much that a pump that
/// should run has stopped, there is no such state: then the levels that the flow requires, cut off at the
/// rims, as they are before the water is gone.
pub fn stands(layout: &Layout, running: &Solved, real: Option<&Solved>) -> EndOfState {
    let Some(real) = real else {
        return running.reached.clone();
    };
    let vessels = real.report.vessels.iter();
    let mut spilling = vessels.filter_map(|vessel| vessel.with_spill);
    let goes_on = spilling.any(|spill| spill.spill_m3_s > 0.0);
    let pumps = running.report.pumps.iter().zip(&real.report.pumps);
    let mut stopped = pumps.filter(|(wanted, stands)| wanted.standing != stands.standing);
    if !goes_on && stopped.next().is_none() {
        return real.reached.clone();
    }
    let mut reached = running.reached.clone();
    for (level_m, vessel) in reached.levels_m.iter_mut().zip(&layout.vessels) {
        *level_m = level_m.min(vessel.rim_m);
    }
    reached
}

/// The second outcome of the layout while it runs; none without one.
pub fn second_stands<'a>(running: &'a Solved, real: Option<&'a Solved>) -> Option<&'a EndOfState> {
    let built = real.and_then(|real| real.second.as_deref());
    built.or(running.second.as_deref())
}

pub use blocked::{DAY_S, blocked, blocked_case};

/// Simulates to the steady state, with all events on the way.
fn with_events(
    hybrid: &HybridSystem<'_>,
    state: State,
    start: &NetworkState,
    modes: Option<&[SwitchMode]>,
    how: SimulationOptions,
) -> Result<Solved, StateNotConverged> {
    let (lowered, way) = simulate(hybrid, start, modes, how)?;
    let mut report = report_of(hybrid.layout, &lowered, state, &way);
    pumps::say_why(&mut report.pumps, hybrid, &way.modes);
    let mut course = trajectory::report(hybrid, &lowered, &way);
    course.time_s = way.still_since_s.unwrap_or(way.time_s);
    report.course = Some(course);
    Ok(solved(report, &lowered, way))
}

/// Simulates to the steady state, and reports only the end.
fn plain(
    hybrid: &HybridSystem<'_>,
    state: State,
    start: &NetworkState,
) -> Result<Solved, StateNotConverged> {
    let (lowered, way) = simulate(hybrid, start, None, SimulationOptions::default())?;
    let mut report = report_of(hybrid.layout, &lowered, state, &way);
    pumps::say_why(&mut report.pumps, hybrid, &way.modes);
    Ok(solved(report, &lowered, way))
}

fn solved(report: StateReport, lowered: &Lowered, way: Simulated) -> Solved {
    Solved {
        report,
        reached: EndOfState {
            levels_m: levels(lowered, &way.end),
            modes: Some(way.modes.clone()),
            primed: chain::primed(lowered),
            way,
        },
        second: None,
    }
}

impl Solved {
    /// Simulates the outcome with every chain primed that can prime; does nothing where no further chain would stay
    /// primed.
    fn second_outcome(&mut self, hybrid: &HybridSystem<'_>) -> Result<(), StateNotConverged> {
        let way = &self.reached.way;
        let Some(mut modes) = hybrid.all_primed(&way.modes) else {
            return Ok(());
        };
        let settled = hybrid.settle_air(&mut modes, &way.end, &hybrid.chattering());
        settled.map_err(|stuck| not_converged(hybrid.layout, &hybrid.on, &stuck))?;
        if modes == way.modes {
            return Ok(());
        }
        let state = self.report.state;
        let hybrid = hybrid.holding(way.water.clone());
        let second = with_events(
            &hybrid,
            state,
            &way.end,
            Some(&modes),
            SimulationOptions::event(),
        )?;
        self.report.primed = Some(Box::new(second.report));
        self.second = Some(Box::new(second.reached));
        Ok(())
    }
}

/// Whether a level rose above a rim that can spill with the walls as built.
fn over_a_rim(layout: &Layout, tall: &Lowered, way: &Simulated) -> bool {
    let nodes = layout.vessels.iter().zip(&tall.origin.vessels);
    let mut over = nodes.filter(|(vessel, node)| way.range_m[**node].1 > vessel.rim_m + OVER_M);
    over.next().is_some()
}

fn with_spill_if_any(solved: &mut Solved, lowered: &Lowered) {
    if spilled(lowered, &solved.reached.way) {
        vessels::add_spill(&mut solved.report, lowered, &solved.reached.way);
    }
}

fn start_at(lowered: &Lowered, system: &System, levels_m: &[f64]) -> NetworkState {
    system.start_from(|node| {
        let place = lowered
            .origin
            .vessels
            .iter()
            .position(|vessel| *vessel == node)?;
        levels_m.get(place).copied()
    })
}

fn levels(lowered: &Lowered, end: &NetworkState) -> Vec<f64> {
    lowered
        .origin
        .vessels
        .iter()
        .map(|&node| end.head_m[node])
        .collect()
}

fn spilled(lowered: &Lowered, done: &Simulated) -> bool {
    lowered
        .origin
        .rims
        .iter()
        .flatten()
        .any(|&link| done.passed_m3[link] > 1e-6)
}

fn not_converged(
    layout: &Layout,
    lowered: &Lowered,
    stuck: &ConvergenceError,
) -> StateNotConverged {
    let vessels = layout
        .vessels
        .iter()
        .map(|part| &part.id)
        .zip(&lowered.origin.vessels);
    let joints = layout
        .joints
        .iter()
        .map(|part| &part.id)
        .zip(&lowered.origin.joints);
    let parts: Vec<(&Id, &usize)> = vessels.chain(joints).collect();
    let name = |node: &usize| {
        parts
            .iter()
            .find(|(_, at)| *at == node)
            .map(|(id, _)| (*id).clone())
    };
    StateNotConverged {
        about: stuck.nodes.iter().filter_map(name).collect(),
    }
}

fn report_of(layout: &Layout, lowered: &Lowered, state: State, done: &Simulated) -> StateReport {
    let settled = done
        .moving
        .iter()
        .all(|&node| rises_for_ever(lowered, done, node));
    let close = done.mass_error_m3_s <= MASS_M3_S && done.energy_error_m <= ENERGY_M;
    let mut report = StateReport {
        state,
        converged: close && !done.given_up && (settled || done.cycle.is_some()),
        newton_steps: done.stats.newton_steps,
        time_steps: done.stats.time_steps,
        mass_error_m3_s: done.mass_error_m3_s,
        energy_error_m: done.energy_error_m,
        vessels: vessels::reports(layout, lowered, done),
        joints: joints::reports(layout, lowered, &done.end),
        fixed: flows::fixed_reports(layout, lowered, &done.end),
        runs: runs::reports(layout, lowered, &done.end),
        pumps: pumps::reports(layout, lowered, &done.end),
        cycle: trajectory::cycle(layout, lowered, done),
        course: None,
        blocked: Vec::new(),
        in_runs_m3: done.water.sum_m3(),
        outcome: chain::outcome(lowered),
        primed: None,
        as_built: None,
    };
    trajectory::means(layout, &mut report, lowered, done);
    report
}

/// Whether a vessel is still filling at the end of a simulation: no level is high enough for it.
fn rises_for_ever(lowered: &Lowered, done: &Simulated, node: usize) -> bool {
    done.moving.contains(&node)
        && done.cycle.is_none()
        && flows::into_node(lowered, &done.end, node) > 0.0
}
