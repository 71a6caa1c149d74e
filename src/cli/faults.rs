//! `faults`: everything that can fail, failed in turn.

use super::args::Faults;
use super::{BAD_NEWS, Failure, NOTHING_WRONG, Outcome, engine, json, text};
use crate::evaluate::Failed;
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

/// Reads, solves, fails everything and tells.
pub(super) fn faults(asked: &Faults) -> Outcome {
    match (failed(asked), asked.json) {
        (Ok((layout, cases)), true) => Outcome {
            out: json::print(&json::faults_json(&layout, &cases)),
            err: String::new(),
            code: exit_code(&cases),
        },
        (Ok((layout, cases)), false) => Outcome {
            out: text::faults_text(&layout, &cases),
            err: String::new(),
            code: exit_code(&cases),
        },
        (Err(failure), true) => Outcome::failed_json(&failure),
        (Err(failure), false) => Outcome::failed(&failure),
    }
}

fn failed(asked: &Faults) -> Result<(Layout, Vec<Failed>), Failure> {
    let mut layout = engine::read(&asked.file)?;
    if let Some(units) = asked.units {
        layout.units = units.into();
    }
    let ground = engine::ground(&layout);
    let cases = ground.and_then(|ground| engine::faults(&ground));
    let cases = cases.map_err(|failure| failure.in_file(&asked.file))?;
    Ok((layout, cases))
}

fn exit_code(cases: &[Failed]) -> i32 {
    if cases.iter().any(|case| case.severity == Severity::Problem) {
        BAD_NEWS
    } else {
        NOTHING_WRONG
    }
}
