//! `docs/format.md` names every field, and its samples and those of `docs/cases.md` are layouts.
//!
//! Its words are held to the program in `tests/it/cli/words.rs`.

use super::everything::everything;
use fallwright::file::{Format, MOST_BYTES, parse};
use fallwright::layout::{Ageing, Coefficients, Limits, MOST_PARTS, WaterSettings, Weather};
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeSet;

const PAGE: &str = include_str!("../../../docs/format.md");
const CASES: &str = include_str!("../../../docs/cases.md");

/// The blocks of this language on both pages.
pub fn samples(language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    let starts = [PAGE, CASES];
    let starts = starts
        .iter()
        .flat_map(|page| page.split(fence.as_str()).skip(1));
    starts
        .map(|rest| rest.split("```").next().unwrap())
        .collect()
}

/// The row of a table under `heading` that starts with this field.
fn row(heading: &str, field: &str) -> &'static str {
    let section = PAGE.split(heading).nth(1).expect(heading);
    let section = section.split("\n### ").next().unwrap();
    let start = format!("| `{field}` |");
    let found = section.lines().find(|line| line.starts_with(&start));
    found.unwrap_or_else(|| panic!("{heading} has no row {field}"))
}

#[test]
fn every_sample_is_a_layout() {
    let (ron, json) = (samples("ron"), samples("json"));
    assert!(ron.len() >= 10, "{}", ron.len());
    assert_eq!(json.len(), 1);
    let all = ron.iter().map(|text| (text, Format::Ron));
    for (text, format) in all.chain(json.iter().map(|text| (text, Format::Json))) {
        parse(text, format).unwrap_or_else(|error| panic!("{error}\n{text}"));
    }
}

fn keys(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => fields.iter().for_each(|(key, inner)| {
            found.insert(key.clone());
            keys(inner, found);
        }),
        Value::Array(rows) => rows.iter().for_each(|row| keys(row, found)),
        _ => {}
    }
}

#[test]
fn every_field_is_on_the_page() {
    let mut found = BTreeSet::from(["fallwright".to_owned()]);
    keys(&serde_json::to_value(everything()).unwrap(), &mut found);
    assert!(found.len() > 80, "{}", found.len());
    // Fields of kinds stand with others in one cell: h0_m and a in a code span of their own kind.
    let spans: Vec<&str> = PAGE.split('`').skip(1).step_by(2).collect();
    for key in found {
        let told = spans.iter().any(|span| {
            let mut words = span.split(|c: char| !c.is_alphanumeric() && c != '_');
            words.any(|word| word == key)
        });
        assert!(told, "`{key}` is not in docs/format.md");
    }
}

fn check_defaults(heading: &str, defaults: impl Serialize) {
    let Value::Object(fields) = serde_json::to_value(defaults).unwrap() else {
        panic!("{heading}");
    };
    for (field, value) in fields {
        let Some(number) = value.as_f64() else {
            continue;
        };
        let cells: Vec<&str> = row(heading, &field).split('|').map(str::trim).collect();
        assert_eq!(cells[3], number.to_string(), "default of {field}");
    }
}

#[test]
fn the_defaults_on_the_page_are_the_defaults() {
    check_defaults("### `water`", WaterSettings::default());
    check_defaults("### `coefficients`", Coefficients::default());
    check_defaults("### `limits`", Limits::default());
    check_defaults("### `ageing`", Ageing::default());
    check_defaults("### `weather`", Weather::default());
    let hazen_williams = row("### `coefficients`", "hazen_williams.k");
    let k = Coefficients::default().hazen_williams.k;
    assert!(hazen_williams.contains(&format!("| {k} |")));
}

#[test]
fn the_limits_on_the_page_are_the_limits() {
    assert!(PAGE.contains(&format!("at most {} MiB", MOST_BYTES / 1024 / 1024)));
    assert!(PAGE.contains(&format!("at most {} 000.", MOST_PARTS / 1000)));
}
