//! Published networks, emptying times and worked layouts: layout files solved like any other.
//!
//! The files stand in `tests/reference/`, each with its source; a row names its file in its inputs.

pub mod course;
mod high_points;
mod loops;
mod peer;
mod pumps;
mod simple;
mod times;
mod worked;

use crate::hydraulics::units::FT;
use crate::verification::{Case, Row};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::evaluate;
use fallwright::file;
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::report::StateReport;
use std::path::Path;

/// All outside checks of networks and layouts.
pub fn rows() -> Vec<Row> {
    [
        simple::rows(),
        high_points::rows(),
        loops::rows(),
        pumps::rows(),
        times::rows(),
        worked::rows(),
        peer::rows(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The layout that a row names.
fn layout(given: &Case) -> Layout {
    read(given.text("file"))
}

/// A layout of the reference folder.
pub fn read(name: &str) -> Layout {
    let folder = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference"));
    file::read(&folder.join(name)).unwrap_or_else(|error| panic!("{error}"))
}

/// A layout in one state; a state that is not solved to the last tolerance is a failure.
pub fn solved(layout: &Layout, state: State) -> StateReport {
    let mut evaluation = evaluate(layout, Catalogue::builtin(), &[state]);
    assert!(evaluation.unsolved.is_empty(), "{:?}", evaluation.unsolved);
    let report = evaluation.states.remove(0);
    assert!(report.converged, "{}: {report:#?}", layout.title);
    report
}

fn running(given: &Case) -> StateReport {
    solved(&layout(given), State::Running)
}

/// Flow of a run as drawn, m³/s.
pub fn flow(report: &StateReport, run: &str) -> f64 {
    let found = report.runs.iter().find(|report| report.id.as_str() == run);
    found.unwrap_or_else(|| panic!("no run {run}")).flow_m3_s
}

/// Head at a joint, metres.
pub fn head(report: &StateReport, joint: &str) -> f64 {
    let found = report.joints.iter().find(|part| part.id.as_str() == joint);
    found
        .and_then(|part| part.head_m)
        .unwrap_or_else(|| panic!("no head at {joint}"))
}

/// Level of a vessel, metres.
pub fn level(report: &StateReport, vessel: &str) -> f64 {
    let mut vessels = report.vessels.iter();
    let found = vessels.find(|part| part.id.as_str() == vessel);
    found
        .and_then(|part| part.level_m)
        .unwrap_or_else(|| panic!("no level in {vessel}"))
}

/// Flow of a run in the running state of a row's layout, m³/s.
fn running_flow(given: &Case, run: &str) -> f64 {
    flow(&running(given), run)
}

/// Head at a joint in the running state of a row's layout, metres.
fn running_head(given: &Case, joint: &str) -> f64 {
    head(&running(given), joint)
}

/// Level of a vessel in the running state of a row's layout, metres.
fn running_level(given: &Case, vessel: &str) -> f64 {
    level(&running(given), vessel)
}

/// m³/h in a m³/s.
const M3_H: f64 = 3600.0;

fn feet(head_m: f64) -> f64 {
    head_m / FT
}
