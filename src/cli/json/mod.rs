//! An evaluation for scripts: SI, one number for the format, nothing that is not JSON.
//!
//! Invariant: keys are added, never renamed, under one [`FORMAT`].

mod course;
mod finding;
mod state;

use crate::cli::names::Names;
use crate::evaluate::Evaluation;
use crate::finding::State;
use crate::layout::Layout;
use serde_json::{Map, Value, json};

/// The number of the format; it stands first.
pub const FORMAT: u32 = 1;

/// The whole evaluation. Sentences are in the layout's own units, everything else in SI.
pub fn report_json(layout: &Layout, evaluation: &Evaluation) -> Value {
    let checked: Vec<State> = evaluation.states.iter().map(|one| one.state).collect();
    let states: Map<String, Value> = evaluation
        .states
        .iter()
        .map(|report| (report.state.word().to_owned(), state::state(layout, report)))
        .collect();
    let reader = finding::Reader {
        names: Names::new(layout),
        system: layout.units,
    };
    let findings: Vec<Value> = evaluation
        .findings
        .iter()
        .map(|one| finding::finding(&reader, one))
        .collect();
    json!({
        "format": FORMAT,
        "title": layout.title,
        "checked": words(&checked),
        "not_checked": words(&evaluation.not_checked),
        "states": states,
        "findings": findings,
    })
}

fn words(states: &[State]) -> Vec<&'static str> {
    states.iter().map(|state| state.word()).collect()
}

/// A number, or null where there is none or it is not finite. A negative nought loses its sign.
fn number(value: impl Into<Option<f64>>) -> Value {
    match value.into() {
        Some(value) if value.is_finite() => json!(value + 0.0),
        _ => Value::Null,
    }
}

/// A value as it is printed: indented, with a line feed at its end.
pub fn print(value: &Value) -> String {
    format!("{value:#}\n")
}
