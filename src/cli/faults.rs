//! `faults`: everything that can fail, failed in turn.

use super::args::Faults;
use super::{BAD_NEWS, Failure, NOTHING_WRONG, Outcome, engine, json, text};
use crate::evaluate::{FailureCase, ShutSuction};
use crate::finding::Severity;
use crate::layout::Layout;

/// What is not failed, for people and scripts.
pub const NOT_COVERED: [&str; 6] = [
    "a pipe that bursts, or a joint that lets go",
    "a vessel that leaks, bulges or tips over",
    "two failures at once",
    "a run or a screen that is blocked in part",
    "an overflow that stands by: shut alone it changes nothing",
    "surges in the first seconds",
];

/// How bad it is that a pump has no way to draw water before anything fails, as `check` has it.
pub const SHUT: Severity = Severity::Problem;

/// Reads, solves, fails everything and tells.
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

/// Everything that can fail, and what lacks water before anything does.
pub struct Told {
    /// The layout.
    pub layout: Layout,
    /// Every failure, worst first.
    pub cases: Vec<FailureCase>,
    /// The pumps that have no way to draw water as it is drawn.
    pub shut: Vec<ShutSuction>,
}

fn failed(asked: &Faults) -> Result<Told, Failure> {
    let mut layout = engine::read(&asked.file)?;
    if let Some(units) = asked.units {
        layout.units = units.into();
    }
    let found = engine::ground(&layout).and_then(|ground| {
        let cases = engine::faults(&ground)?;
        Ok((cases, ground.shut_suctions()))
    });
    let (cases, shut) = found.map_err(|failure| failure.in_file(&asked.file))?;
    Ok(Told {
        layout,
        cases,
        shut,
    })
}

impl Told {
    /// How much there is of a severity, for text, JSON and exit code alike.
    pub fn count(&self, severity: Severity) -> usize {
        let cases = self.cases.iter().map(|case| case.severity);
        let shut = self.shut.iter().map(|_| SHUT);
        cases.chain(shut).filter(|one| *one == severity).count()
    }
}

fn exit_code(told: &Told) -> i32 {
    if told.count(Severity::Problem) > 0 {
        BAD_NEWS
    } else {
        NOTHING_WRONG
    }
}
