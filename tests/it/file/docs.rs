//! `docs/format.md` names every field and word, and its samples are layouts.

use super::everything::everything;
use fallwright::file::{Format, MOST_BYTES, parse};
use fallwright::finding::{Code, Severity, State};
use fallwright::layout::{
    Ageing, Coefficients, CrestKind, CurveForm, Direction, EquipmentLoss, FixedRole, Friction,
    Limits, MOST_PARTS, NotchShape, Opening, Pipe, Role, RunEnd, Shape, Turned, Vent,
    WaterSettings, Weather,
};
use fallwright::states::report::{Control, Outcome, Regime, Standing};
use fallwright::states::{EventKind, Fault};
use fallwright::units::UnitSystem;
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::collections::BTreeSet;

const PAGE: &str = include_str!("../../../docs/format.md");

fn samples(language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    let starts = PAGE.split(fence.as_str()).skip(1);
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

/// The words that a kind of thing has in a file, as the parser lists them.
fn words_of<T: DeserializeOwned>() -> Vec<String> {
    let Err(error) = serde_json::from_str::<T>("\"no such word\"") else {
        panic!("any word is taken");
    };
    let error = error.to_string();
    let (_, known) = error.split_once(", expected ").unwrap();
    known
        .split('`')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect()
}

fn check_words(start: &str, words: &[String]) {
    let start = format!("| {start} |");
    let line = PAGE
        .lines()
        .rfind(|line| line.starts_with(&start))
        .expect(&start);
    let told: Vec<&str> = line.split('`').skip(1).step_by(2).collect();
    let told: BTreeSet<&str> = told
        .into_iter()
        .filter(|word| !start.contains(word))
        .collect();
    let words: BTreeSet<&str> = words.iter().map(String::as_str).collect();
    assert!(words.len() > 1);
    assert_eq!(told, words, "{start}");
}

#[test]
fn every_word_of_the_file_is_on_the_page() {
    check_words("`units`", &words_of::<UnitSystem>());
    check_words("`friction`", &words_of::<Friction>());
    check_words("`role` of a vessel", &words_of::<Role>());
    check_words("`role` of a fixed level", &words_of::<FixedRole>());
    check_words("`shape`", &words_of::<Shape>());
    check_words("`opening`", &words_of::<Opening>());
    check_words("`turned`", &words_of::<Turned>());
    check_words("`crest`", &words_of::<CrestKind>());
    check_words("`vent`", &words_of::<Vent>());
    check_words("`pipe`", &words_of::<Pipe>());
    check_words("`check_valve`, `pushes`", &words_of::<Direction>());
    check_words("`curve`", &words_of::<CurveForm>());
    check_words("`shape` of a notch", &words_of::<NotchShape>());
    check_words("`near`", &words_of::<RunEnd>());
    check_words("`clean`, `dirty`, `at_wash`", &words_of::<EquipmentLoss>());
}

fn owned<const N: usize>(words: [&str; N]) -> Vec<String> {
    words.map(str::to_owned).to_vec()
}

#[test]
fn every_word_of_results_is_on_the_page() {
    check_words("state", &owned(State::ALL.map(State::word)));
    check_words("control", &owned(Control::ALL.map(Control::word)));
    check_words("outcome", &owned(Outcome::ALL.map(Outcome::word)));
    check_words("regime", &owned(Regime::ALL.map(Regime::word)));
    check_words(
        "standing of a pump",
        &owned(Standing::ALL.map(Standing::word)),
    );
    check_words("event", &owned(EventKind::ALL.map(EventKind::word)));
    check_words("failure", &owned(Fault::ALL.map(Fault::word)));
    let severities = [Severity::Problem, Severity::Warning, Severity::Note];
    check_words("severity", &owned(severities.map(Severity::word)));
}

#[test]
fn every_code_of_findings_is_on_the_page() {
    let section = PAGE.split("Codes of findings:").nth(1).unwrap();
    let section = section.split("\n## ").next().unwrap();
    let told: BTreeSet<&str> = section
        .lines()
        .filter_map(|line| line.strip_prefix("| `")?.split('`').next())
        .collect();
    let codes: BTreeSet<&str> = Code::ALL.map(Code::word).into();
    assert_eq!(told, codes);
}
