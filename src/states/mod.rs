//! The six states, from one system of equations.
//!
//! *At rest*, *starting*, *running*, *fouled*, *blocked* and *stopped* are the same layout followed in time
//! from one start or another (`follow`), with some parts switched (`plant`).
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

use crate::finding::State;
use crate::layout::{Id, Layout};
use crate::lower::Lowered;
use crate::solve::{ConvergenceError, NetworkState, System};
use hybrid_system::{HybridSystem, SwitchMode};
use preview::at_a_start;
use report::StateReport;
use simulate::{Simulated, SimulationOptions, simulate};

/// A state that could not be solved, and the parts where it failed.
#[derive(Clone, Debug, PartialEq)]
pub struct StateNotConverged {
    /// Vessels and joints out of balance, worst first.
    pub about: Vec<Id>,
}

/// A state solved: its report, and where the next state starts from.
#[derive(Clone, Debug)]
pub struct Solved {
    /// What it came to.
    pub report: StateReport,
    /// Where it ended.
    pub reached: EndOfState,
    /// Where its second outcome ended, whose report is in that of the first; none where there is none.
    pub second: Option<Box<EndOfState>>,
}

/// Where a state ended: levels and how the switches stand. Good for the same layout, pumps on or off,
/// walls tall or as built.
#[derive(Clone, Debug)]
pub struct EndOfState {
    /// Level of every vessel, in the order of the layout, metres.
    pub levels_m: Vec<f64>,
    /// How the switches stood; none: as at a start.
    modes: Option<Vec<SwitchMode>>,
    /// The chains of runs that are primed, by their numbers.
    primed: Vec<usize>,
    /// The way it came.
    way: Simulated,
}

impl EndOfState {
    /// Every chain of runs that can prime is primed, and there is one.
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

/// Largest imbalance and energy error that count as solved (m³/s, m).
const MASS_M3_S: f64 = 1e-9;
const ENERGY_M: f64 = 1e-6;
/// A level that goes less than this over a rim on the way has not been over it, metres.
const OVER_M: f64 = 1e-9;

/// From the filled levels, pumps off, until still. `off`: pumps off, walls as built.
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

/// From rest, pumps on, until steady: once with tall walls, and where water goes over a rim on the way
/// once more as built. `rest`: where it stands at rest. `state`: running, or fouled.
///
/// The second part is the real course, as built; none where nothing goes over a rim.
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

/// From rest, pumps on, as built, until steady: the course itself.
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

/// From `running`, pumps off, until still. `built`: walls as built.
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

/// Where the layout stands while it runs: what a stop, or a shut path, finds.
///
/// The real course where there is one. But where that goes on losing water, or has lost so much that a pump
/// stands still that would run, there is no such place: then the levels that the flow needs, cut off at the
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

/// Where the second outcome stands while the layout runs; none where there is none.
pub fn second_stands<'a>(running: &'a Solved, real: Option<&'a Solved>) -> Option<&'a EndOfState> {
    let built = real.and_then(|real| real.second.as_deref());
    built.or(running.second.as_deref())
}

pub use blocked::{DAY_S, blocked, blocked_case};

/// Followed until still, with everything told that happens on the way.
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

/// Followed until still, and only the end told.
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
    /// Follows what comes of it once every chain that can prime is primed; nothing where none is left that would stay
    /// so.
    fn second_outcome(&mut self, hybrid: &HybridSystem<'_>) -> Result<(), StateNotConverged> {
        let way = &self.reached.way;
        let Some(mut modes) = hybrid.all_primed(&way.modes) else {
            return Ok(());
        };
        let settled = hybrid.settle_air(&mut modes, &way.end, &hybrid.restless());
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

/// Whether a level went over a rim that could spill, as the walls are built.
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

/// A vessel that is still filling at the end of a trace has no level that is enough.
fn rises_for_ever(lowered: &Lowered, done: &Simulated, node: usize) -> bool {
    done.moving.contains(&node)
        && done.cycle.is_none()
        && flows::into_node(lowered, &done.end, node) > 0.0
}
