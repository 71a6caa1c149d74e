//! `faults`: everything that can fail, one failure at a time.

use super::args::Faults;
use super::{EXIT_PROBLEM, Failure, NOTHING_WRONG, Outcome, json, services, text};
use crate::evaluate::FailureCase;
use crate::finding::Severity;
use crate::layout::Layout;
use crate::states::ShutSuction;

/// Failures that are not covered, for people and scripts.
pub const NOT_COVERED: [&str; 6] = [
    "a pipe that bursts, or a joint that lets go",
    "a vessel that leaks, bulges or tips over",
    "two failures at once",
    "a run or a screen that is blocked in part",
    "an overflow that stands by: shut alone it changes nothing",
    "surges in the first seconds",
];

/// Severity of a pump whose suction is shut before anything fails, the same as in `check`.
pub const SHUT: Severity = Severity::Problem;

/// Reads the layout, solves it with each failure in turn and reports.
pub(super) fn faults(asked: &Faults) -> Outcome {
    match (failed(asked), asked.json) {
        (Ok(told), true) => Outcome {
            out: json::print(&json::faults_json(&told)),
            err: String::new(),
            code: exit_code(&told),
        },
        (Ok(told), false) => Outcome {
            out: text::faults_text(&told),
            err: String::new(),
            code: exit_code(&told),
        },
        (Err(failure), true) => Outcome::failed_json(&failure),
        (Err(failure), false) => Outcome::failed(&failure),
    }
}

/// All failures, and the pumps whose suction is shut before any failure.
pub struct FaultsReport {
    /// The layout.
    pub layout: Layout,
    /// All failures, worst first.
    pub cases: Vec<FailureCase>,
    /// The pumps whose suction is shut in the layout as drawn.
    pub shut: Vec<ShutSuction>,
}

fn failed(asked: &Faults) -> Result<FaultsReport, Failure> {
    let mut layout = services::read(&asked.file)?;
    if let Some(units) = asked.units {
        layout.units = units.into();
    }
    let found = services::as_built(&layout).and_then(|ground| {
        let cases = services::faults(&ground)?;
        Ok((cases, ground.shut_suctions()))
    });
    let (cases, shut) = found.map_err(|failure| failure.in_file(&asked.file))?;
    Ok(FaultsReport {
        layout,
        cases,
        shut,
    })
}

impl FaultsReport {
    /// Number of failures and shut suctions of a severity, for text, JSON and exit code alike.
    pub fn count(&self, severity: Severity) -> usize {
        let cases = self.cases.iter().map(|case| case.severity);
        let shut = self.shut.iter().map(|_| SHUT);
        cases.chain(shut).filter(|one| *one == severity).count()
    }
}

fn exit_code(told: &FaultsReport) -> i32 {
    if told.count(Severity::Problem) > 0 {
        EXIT_PROBLEM
    } else {
        NOTHING_WRONG
    }
}
