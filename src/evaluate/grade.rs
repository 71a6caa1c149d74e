//! The grade line of a report, from the layout of the report.

use crate::catalogue::Catalogue;
use crate::layout::{Id, Layout};
use crate::lower::{Age, Pumps, Situation, Walls, lower};
use crate::state::State;
use crate::states::report::StateReport;
use crate::states::{self, GradePoint};

/// The grade line along `runs` in the state of `report`, from the start of the first run to the end of the last.
///
/// Where water leaves over rims it is the line of what will really be there. None where a run is not in the layout or
/// the report, or does not meet the one before it. A report of an almost identical layout gives an approximate line.
pub fn grade(
    layout: &Layout,
    catalogue: &Catalogue,
    report: &StateReport,
    runs: &[Id],
) -> Option<Vec<GradePoint>> {
    let report = report.real();
    let lowered = lower(layout, catalogue, situation(report.state));
    states::grade_line(layout, &lowered, report, runs)
}

/// The situation in which a state was solved; the height of walls does not affect runs.
fn situation(state: State) -> Situation {
    Situation {
        pumps: match state {
            State::Rest | State::Stopped => Pumps::Off,
            State::Starting | State::Running | State::Fouled | State::Blocked => Pumps::On,
        },
        walls: Walls::Tall,
        age: match state {
            State::Fouled => Age::Fouled,
            _ => Age::New,
        },
    }
}
