//! A trace as CSV: one row for each time, in SI.

use crate::cli::digits::nine_digits;
use crate::layout::Id;
use crate::states::{Event, SimulationResult};

/// Returns the columns `time_s`, `level:ID` in metres for each vessel, `flow:ID` in m³/s for each run, and `events`.
pub fn trace_csv(traced: &SimulationResult) -> String {
    let level = traced.levels_m.iter().map(|one| format!("level:{}", one.0));
    let flow = traced
        .flows_m3_s
        .iter()
        .map(|one| format!("flow:{}", one.0));
    let heads = ["time_s".to_owned()].into_iter().chain(level).chain(flow);
    let heads = heads.chain(["events".to_owned()]);
    let mut text = row(heads);
    for (place, time_s) in traced.times_s.iter().enumerate() {
        let values = traced.levels_m.iter().chain(&traced.flows_m3_s);
        let values = values.map(|one| one.1.get(place).copied());
        let values = [Some(*time_s)].into_iter().chain(values);
        let cells = values.map(|value| match value {
            Some(value) => nine_digits(value).map_or_else(String::new, |value| value.to_string()),
            None => String::new(),
        });
        text.push_str(&row(cells.chain([at(traced, *time_s)])));
    }
    text
}

/// The events at this time: the word of each, then its parts.
fn at(traced: &SimulationResult, time_s: f64) -> String {
    let told = traced.told.iter().filter(|told| told.time_s == time_s);
    told.map(words).collect::<Vec<_>>().join("; ")
}

fn words(told: &Event) -> String {
    let parts = told.about.iter().map(Id::as_str);
    let words = [told.what.word()].into_iter().chain(parts);
    words.collect::<Vec<_>>().join(" ")
}

fn row(cells: impl Iterator<Item = String>) -> String {
    let cells: Vec<String> = cells.map(cell).collect();
    format!("{}\n", cells.join(","))
}

/// A cell, in quotes where it needs them.
fn cell(text: String) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}
