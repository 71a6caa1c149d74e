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
mod course;
mod cut_off;
mod cycle;
mod faults;
mod film;
mod flows;
mod follow;
mod grade_line;
mod grade_still;
mod hands;
mod highest;
mod joints;
mod leap;
mod lines;
mod marks;
mod near;
mod plant;
mod preview;
mod pumps;
pub mod report;
mod restless;
mod runs;
mod told;
mod traced;
mod vessels;
mod washing;

pub use cut_off::{ShutSuction, shut_suctions};
pub use faults::{Fault, Suspect, fault_case, suspects};
pub use film::{Film, film, film_within};
pub use grade_line::{GradePoint, grade_line};
pub use grade_still::{Place, Standing, standing_water};
pub use hands::{Hands, OneHand, each};
pub use marks::{FillMarks, Mark, fill_marks};
pub use preview::running_preview;
pub use told::{Told, What};
pub use traced::{Traced, Turn, traced};
pub use washing::{Washing, washing};

use crate::finding::State;
use crate::layout::{Id, Layout};
use crate::lower::Lowered;
use crate::solve::{Point, Stuck, System};
use follow::{Followed, How, follow};
use plant::{Mode, Plant};
use preview::at_a_start;
use report::StateReport;

/// A state that could not be solved, and the parts where it failed.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsolved {
    /// Vessels and joints out of balance, worst first.
    pub about: Vec<Id>,
}

/// A state solved: its report, and where the next state starts from.
#[derive(Clone, Debug)]
pub struct Solved {
    /// What it came to.
    pub report: StateReport,
    /// Where it ended.
    pub reached: Reached,
    /// Where its second outcome ended, whose report is in that of the first; none where there is none.
    pub second: Option<Box<Reached>>,
}

/// Where a state ended: levels and how the switches stand. Good for the same layout, pumps on or off,
/// walls tall or as built.
#[derive(Clone, Debug)]
pub struct Reached {
    /// Level of every vessel, in the order of the layout, metres.
    pub levels_m: Vec<f64>,
    /// How the switches stood; none: as at a start.
    modes: Option<Vec<Mode>>,
    /// The chains of runs that are primed, by their numbers.
    primed: Vec<usize>,
    /// The way it came.
    way: Followed,
}

impl Reached {
    /// Every chain of runs that can prime is primed, and there is one.
    pub fn is_primed(&self) -> bool {
        let modes = self.modes.iter().flatten();
        !self.primed.is_empty() && !modes.into_iter().any(|mode| *mode == Mode::WithAir)
    }
}

/// A layout lowered with its pumps on and with its pumps off.
#[derive(Clone, Debug)]
pub struct Both {
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
pub fn rest(layout: &Layout, off: &Lowered) -> Result<Solved, Unsolved> {
    let filled = chain::filled_by_hand(layout, off);
    let plant = Plant::new(layout, off.clone(), off.clone()).primed(&filled);
    let start = System::new(&off.network).start();
    let mut solved = told(&plant, State::Rest, &start, None, How::told())?;
    with_spill_if_any(&mut solved, off);
    solved.second_outcome(&plant)?;
    Ok(solved)
}

/// From rest, pumps on, until steady: once with tall walls, and where water goes over a rim on the way
/// once more as built. `rest`: where it stands at rest. `state`: running, or fouled.
///
/// The second part is the real course, as built; none where nothing goes over a rim.
pub fn running(
    layout: &Layout,
    state: State,
    (tall, built): (&Both, &Both),
    rest: &Reached,
) -> Result<(Solved, Option<Solved>), Unsolved> {
    let plant = Plant::new(layout, tall.on.clone(), tall.off.clone()).primed(&rest.primed);
    let system = System::new(&tall.on.network);
    let start = start_at(&tall.on, &system, &rest.levels_m);
    let water = at_a_start(&plant, &start, &rest.way.end);
    let plant = plant.with_water(water);
    let mut solved = plain(&plant, state, &start)?;
    solved.second_outcome(&plant)?;
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
pub fn starting(layout: &Layout, built: &Both, rest: &Reached) -> Result<Solved, Unsolved> {
    let plant = Plant::new(layout, built.on.clone(), built.off.clone()).primed(&rest.primed);
    let system = System::new(&built.on.network);
    let start = start_at(&built.on, &system, &rest.levels_m);
    let water = at_a_start(&plant, &start, &rest.way.end);
    let plant = plant.with_water(water);
    let mut solved = told(&plant, State::Starting, &start, None, How::told())?;
    with_spill_if_any(&mut solved, &built.on);
    solved.second_outcome(&plant)?;
    Ok(solved)
}

/// From `running`, pumps off, until still. `built`: walls as built.
pub fn stopped(layout: &Layout, built: &Both, running: &Reached) -> Result<Solved, Unsolved> {
    let plant = Plant::new(layout, built.off.clone(), built.off.clone())
        .primed(&running.primed)
        .with_water(running.way.water.clone());
    let system = System::new(&built.off.network);
    let start = start_at(&built.off, &system, &running.levels_m);
    let mut solved = told(&plant, State::Stopped, &start, None, How::told())?;
    with_spill_if_any(&mut solved, &built.off);
    solved.second_outcome(&plant)?;
    let pumped = Plant::new(layout, built.on.clone(), built.off.clone());
    let way = &solved.reached.way;
    let back = course::back(&pumped, &running.way, &built.off, way);
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
pub fn stands(layout: &Layout, running: &Solved, real: Option<&Solved>) -> Reached {
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
pub fn second_stands<'a>(running: &'a Solved, real: Option<&'a Solved>) -> Option<&'a Reached> {
    let built = real.and_then(|real| real.second.as_deref());
    built.or(running.second.as_deref())
}

pub use blocked::{DAY_S, blocked, blocked_case};

/// Followed until still, with everything told that happens on the way.
fn told(
    plant: &Plant<'_>,
    state: State,
    start: &Point,
    modes: Option<&[Mode]>,
    how: How,
) -> Result<Solved, Unsolved> {
    let (lowered, way) = follow(plant, start, modes, how)?;
    let mut report = report_of(plant.layout, &lowered, state, &way);
    pumps::say_why(&mut report.pumps, plant, &way.modes);
    let mut course = course::report(plant, &lowered, &way);
    course.time_s = way.still_since_s.unwrap_or(way.time_s);
    report.course = Some(course);
    Ok(solved(report, &lowered, way))
}

/// Followed until still, and only the end told.
fn plain(plant: &Plant<'_>, state: State, start: &Point) -> Result<Solved, Unsolved> {
    let (lowered, way) = follow(plant, start, None, How::default())?;
    let mut report = report_of(plant.layout, &lowered, state, &way);
    pumps::say_why(&mut report.pumps, plant, &way.modes);
    Ok(solved(report, &lowered, way))
}

fn solved(report: StateReport, lowered: &Lowered, way: Followed) -> Solved {
    Solved {
        report,
        reached: Reached {
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
    fn second_outcome(&mut self, plant: &Plant<'_>) -> Result<(), Unsolved> {
        let way = &self.reached.way;
        let Some(mut modes) = plant.all_primed(&way.modes) else {
            return Ok(());
        };
        let settled = plant.settle_air(&mut modes, &way.end, &plant.restless());
        settled.map_err(|stuck| unsolved(plant.layout, &plant.on, &stuck))?;
        if modes == way.modes {
            return Ok(());
        }
        let state = self.report.state;
        let plant = plant.holding(way.water.clone());
        let second = told(&plant, state, &way.end, Some(&modes), How::told())?;
        self.report.primed = Some(Box::new(second.report));
        self.second = Some(Box::new(second.reached));
        Ok(())
    }
}

/// Whether a level went over a rim that could spill, as the walls are built.
fn over_a_rim(layout: &Layout, tall: &Lowered, way: &Followed) -> bool {
    let nodes = layout.vessels.iter().zip(&tall.origin.vessels);
    let mut over = nodes.filter(|(vessel, node)| way.range_m[**node].1 > vessel.rim_m + OVER_M);
    over.next().is_some()
}

fn with_spill_if_any(solved: &mut Solved, lowered: &Lowered) {
    if spilled(lowered, &solved.reached.way) {
        vessels::add_spill(&mut solved.report, lowered, &solved.reached.way);
    }
}

fn start_at(lowered: &Lowered, system: &System, levels_m: &[f64]) -> Point {
    system.start_from(|node| {
        let place = lowered
            .origin
            .vessels
            .iter()
            .position(|vessel| *vessel == node)?;
        levels_m.get(place).copied()
    })
}

fn levels(lowered: &Lowered, end: &Point) -> Vec<f64> {
    lowered
        .origin
        .vessels
        .iter()
        .map(|&node| end.head_m[node])
        .collect()
}

fn spilled(lowered: &Lowered, done: &Followed) -> bool {
    lowered
        .origin
        .rims
        .iter()
        .flatten()
        .any(|&link| done.passed_m3[link] > 1e-6)
}

fn unsolved(layout: &Layout, lowered: &Lowered, stuck: &Stuck) -> Unsolved {
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
    Unsolved {
        about: stuck.nodes.iter().filter_map(name).collect(),
    }
}

fn report_of(layout: &Layout, lowered: &Lowered, state: State, done: &Followed) -> StateReport {
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
        cycle: course::cycle(layout, lowered, done),
        course: None,
        blocked: Vec::new(),
        in_runs_m3: done.water.sum_m3(),
        outcome: chain::outcome(lowered),
        primed: None,
        as_built: None,
    };
    course::means(layout, &mut report, lowered, done);
    report
}

/// A vessel that is still filling at the end of a trace has no level that is enough.
fn rises_for_ever(lowered: &Lowered, done: &Followed, node: usize) -> bool {
    done.moving.contains(&node)
        && done.cycle.is_none()
        && flows::into_node(lowered, &done.end, node) > 0.0
}
