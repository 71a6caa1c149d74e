//! The six states, from one system of equations.
//!
//! Built so far: *at rest* and *running*. Invariant: takes lowered networks and
//! gives reports; knows no window and no sentence.

mod flows;
mod joints;
mod near;
mod pumps;
pub mod report;
mod runs;
mod vessels;

use crate::finding::State;
use crate::layout::{Id, Layout};
use crate::lower::Lowered;
use crate::solve::{Point, Stuck, System, Trace, TraceOptions, jump, jump_near, trace};
use report::StateReport;

/// A state that could not be solved, and the parts where it failed.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsolved {
    /// Vessels and joints out of balance, worst first.
    pub about: Vec<Id>,
}

/// A state solved: its report, and the levels that the next state starts from.
#[derive(Clone, Debug)]
pub struct Solved {
    /// What it came to.
    pub report: StateReport,
    /// Level of every vessel at its end, in the order of the layout, metres.
    pub levels_m: Vec<f64>,
}

/// Largest imbalance and energy error that count as solved (m³/s, m).
const MASS_M3_S: f64 = 1e-9;
const ENERGY_M: f64 = 1e-6;

/// From the filled levels, pumps off, until still. `lowered`: pumps off, walls as built.
pub fn rest(layout: &Layout, lowered: &Lowered) -> Result<Solved, Unsolved> {
    let system = System::new(&lowered.network);
    let done = follow(layout, lowered, &system, &system.start())?;
    let mut report = report_of(layout, lowered, State::Rest, &done);
    if spilled(lowered, &done) {
        vessels::add_spill(&mut report, lowered, &done);
    }
    Ok(Solved {
        levels_m: levels(lowered, &done.end),
        report,
    })
}

/// From rest, pumps on, until steady: once with tall walls, and where that would spill once
/// more as built. `tall`, `built`: pumps on, with walls so. `rest_m`: the levels at rest.
pub fn running(
    layout: &Layout,
    tall: &Lowered,
    built: &Lowered,
    rest_m: &[f64],
) -> Result<Solved, Unsolved> {
    let system = System::new(&tall.network);
    let start = start_at(tall, &system, rest_m);
    let done = follow(layout, tall, &system, &start)?;
    let mut report = report_of(layout, tall, State::Running, &done);
    let levels_m = levels(tall, &done.end);
    if report
        .vessels
        .iter()
        .any(|vessel| vessel.freeboard_m().is_none_or(|free| free < 0.0))
    {
        let system = System::new(&built.network);
        let course = follow(layout, built, &system, &start_at(built, &system, rest_m))?;
        report.newton_steps += course.stats.newton_steps;
        report.time_steps += course.stats.time_steps;
        vessels::add_spill(&mut report, built, &course);
    }
    Ok(Solved { report, levels_m })
}

/// The running state by the direct jump from `rest_m` with tall walls: a preview, exact where
/// no water is left behind on the way. `near`: the running state of a layout that is almost this
/// one, where the search may begin.
pub fn running_preview(
    layout: &Layout,
    tall: &Lowered,
    rest_m: &[f64],
    near: Option<&StateReport>,
) -> Result<StateReport, Unsolved> {
    let system = System::new(&tall.network);
    let start = start_at(tall, &system, rest_m);
    let jumped = match near {
        Some(report) => jump_near(&system, &start, &near::point(tall, &start, report)),
        None => jump(&system, &start),
    };
    let (end, stats) = jumped.map_err(|stuck| unsolved(layout, tall, &stuck))?;
    let done = Trace::of_jump(&system, end, stats);
    Ok(report_of(layout, tall, State::Running, &done))
}

fn follow(
    layout: &Layout,
    lowered: &Lowered,
    system: &System,
    start: &Point,
) -> Result<Trace, Unsolved> {
    trace(system, start, &TraceOptions::default())
        .map_err(|stuck| unsolved(layout, lowered, &stuck))
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

fn spilled(lowered: &Lowered, done: &Trace) -> bool {
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

fn report_of(layout: &Layout, lowered: &Lowered, state: State, done: &Trace) -> StateReport {
    let runs = runs::reports(layout, lowered, &done.end);
    let settled = done
        .moving
        .iter()
        .all(|&node| rises_for_ever(lowered, done, node));
    StateReport {
        state,
        converged: done.mass_error_m3_s <= MASS_M3_S && done.energy_error_m <= ENERGY_M && settled,
        newton_steps: done.stats.newton_steps,
        time_steps: done.stats.time_steps,
        mass_error_m3_s: done.mass_error_m3_s,
        energy_error_m: done.energy_error_m,
        vessels: vessels::reports(layout, lowered, done),
        joints: joints::reports(layout, lowered, &done.end),
        fixed: flows::fixed_reports(layout, lowered, &done.end),
        pumps: pumps::reports(layout, lowered, &done.end),
        runs,
    }
}

/// A vessel that is still filling at the end of a trace has no level that is enough.
fn rises_for_ever(lowered: &Lowered, done: &Trace, node: usize) -> bool {
    done.moving.contains(&node) && flows::into_node(lowered, &done.end, node) > 0.0
}
