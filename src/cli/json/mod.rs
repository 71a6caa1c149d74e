//! Results as JSON: SI units, one format number, strict JSON.
//!
//! Invariant: within one [`FORMAT`], keys are added but never renamed.

mod finding;
mod state;
mod trajectory;
mod variants;
mod words;

pub use words::words_json;

use crate::cli::digits::nine_digits;
use crate::cli::faults::{FaultsReport as Faults, NOT_COVERED, SHUT};
use crate::cli::names::Names;
use crate::cli::text::steers;
use crate::cli::trace::TraceReport;
use crate::evaluate::Evaluation;
use crate::layout::{Id, Layout};
use crate::state::State;
use crate::states::ShutSuction;
use serde_json::{Map, Value, json};

/// The version of the format, the first key of every result.
pub const FORMAT: u32 = 1;

/// A whole evaluation as JSON. Sentences are in the layout's units, everything else in SI.
pub fn report_json(layout: &Layout, evaluation: &Evaluation) -> Value {
    let checked: Vec<State> = evaluation.states.iter().map(|one| one.state).collect();
    let mut states: Map<String, Value> = evaluation
        .states
        .iter()
        .map(|report| (report.state.word().to_owned(), state::state(layout, report)))
        .collect();
    for (failed, _) in &evaluation.unsolved {
        let key = failed.word().to_owned();
        states.entry(key).or_insert_with(|| state::failed(*failed));
    }
    let reader = finding::SentenceReader {
        names: Names::new(layout),
        system: layout.units,
    };
    let findings: Vec<Value> = evaluation
        .findings
        .iter()
        .map(|one| finding::finding(&reader, one))
        .collect();
    let variants: Vec<Value> = evaluation
        .variants
        .iter()
        .map(|one| variants::variant(&reader, layout, one))
        .collect();
    json!({
        "format": FORMAT,
        "title": layout.title,
        "checked": words(&checked),
        "not_checked": words(&evaluation.not_checked),
        "states": states,
        "findings": findings,
        "marks": evaluation.marks.as_ref().map(variants::marks),
        "variants": variants,
    })
}

/// A trace as JSON, all in SI.
pub fn trace_json(layout: &Layout, told: &TraceReport) -> Value {
    let traced = &told.traced;
    let spilled = traced.spilled_m3.iter();
    let spilled: Map<String, Value> = spilled
        .map(|(id, lost_m3)| (id.to_string(), number(*lost_m3)))
        .collect();
    json!({
        "format": FORMAT,
        "title": layout.title,
        "state": told.state,
        "outcome": traced.outcome.word(),
        "block": told.block.as_ref().map(Id::as_str),
        "times_s": numbers(&traced.times_s),
        "levels_m": by_part(&traced.levels_m),
        "flows_m3_s": by_part(&traced.flows_m3_s),
        "events": state::each(&traced.told, trajectory::event),
        "spilled_m3": spilled,
        "volume_error_m3": number(traced.volume_error_m3),
        "still": traced.still,
    })
}

/// All failures as JSON, worst first; the key `suction_shut` only where a pump's suction is shut before any failure.
pub fn faults_json(told: &Faults) -> Value {
    let mut value = json!({
        "format": FORMAT,
        "title": told.layout.title,
        "cases": state::each(&told.cases, |case| trajectory::failed(&told.layout, case)),
        "not_covered": NOT_COVERED,
    });
    let shut = |one: &ShutSuction| {
        let runs: Vec<&str> = one.shut.iter().map(Id::as_str).collect();
        json!({ "pump": one.pump.as_str(), "shut": runs, "severity": SHUT.word() })
    };
    if let Some(object) = value.as_object_mut().filter(|_| !told.shut.is_empty()) {
        let all = state::each(&told.shut, shut);
        object.insert("suction_shut".to_owned(), Value::Array(all));
    }
    value
}

fn by_part(rows: &[(Id, Vec<f64>)]) -> Map<String, Value> {
    let rows = rows.iter();
    rows.map(|(id, values)| (id.to_string(), numbers(values)))
        .collect()
}

fn numbers(values: &[f64]) -> Value {
    values.iter().map(|value| number(*value)).collect()
}

fn words(states: &[State]) -> Vec<&'static str> {
    states.iter().map(|state| state.word()).collect()
}

/// A number, or null where there is none or [`nine_digits`] gives none.
fn number(value: impl Into<Option<f64>>) -> Value {
    json!(value.into().and_then(nine_digits))
}

/// A value as printed: indented, with a line feed at the end. Characters that could control a terminal are escaped,
/// which does not change the meaning of the JSON.
pub fn print(value: &Value) -> String {
    escaped(&format!("{value:#}\n"))
}

/// JSON with every character that could control a terminal as `\uXXXX`; outside strings only line feeds are such, and
/// stay.
pub fn escaped(json: &str) -> String {
    let mut text = String::with_capacity(json.len());
    for letter in json.chars() {
        if letter != '\n' && steers(letter) {
            text.push_str(&format!("\\u{:04x}", u32::from(letter)));
        } else {
            text.push(letter);
        }
    }
    text
}
