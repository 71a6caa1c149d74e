//! With air and primed: both outcomes in every answer, and each told once.

use super::program::{call, refused, text};
use crate::support::air::{self, BRIDGE, HOSE};
use fallwright::catalogue::Catalogue;
use fallwright::cli::{report_json, report_text};
use fallwright::evaluate::{Evaluation, evaluate};
use fallwright::layout::{Layout, Way};
use fallwright::state::State;
use fallwright::units::UnitSystem;
use serde_json::Value;

fn whole(layout: &Layout) -> Evaluation {
    evaluate(layout, Catalogue::builtin(), &State::ALL)
}

/// The text as one line, each state apart.
fn told(layout: &Layout, system: UnitSystem) -> String {
    let text = report_text(layout, &whole(layout), system);
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ")
}

fn saved(layout: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("layout.ron");
    std::fs::write(&file, layout).expect("a file");
    let file = file.display().to_string();
    (folder, file)
}

fn json(words: &[&str]) -> Value {
    let output = call(words);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{words:?}: {error}"))
}

#[test]
fn each_state_says_what_its_second_outcome_does_to_the_levels() {
    let told = told(&air::read(BRIDGE), UnitSystem::Metric);
    let running = "Once Bridge is primed: Sump stands 148 mm higher, at 0 mm; Tank A stands 239 mm lower, at \
                   1228 mm; Tank B stands 17 mm higher, at 1217 mm.";
    assert!(told.contains(running), "{told}");
    // At rest, starting, running, fouled, stopped; with a run shut in the middle of a sentence.
    assert_eq!(told.matches("Once Bridge is primed: ").count(), 5, "{told}");
    assert_eq!(
        told.matches("shut, once Bridge is primed: ").count(),
        1,
        "{told}"
    );
    assert!(
        !told.contains("Primed: "),
        "nothing is primed in the main outcome: {told}"
    );
    assert!(!told.contains("Run otherwise"), "{told}");
}

#[test]
fn it_reads_in_us_units_too() {
    let told = told(&air::read(BRIDGE), UnitSystem::Us);
    let at = told.find("Once Bridge is primed: ").expect("the sentence");
    let sentence = told[at..].split('.').next().unwrap();
    assert!(
        sentence.contains(" in") && !sentence.contains(" mm"),
        "{sentence}"
    );
}

#[test]
fn what_breaks_a_siphon_and_when_is_told() {
    let told = told(&air::read(HOSE), UnitSystem::Metric);
    let rest = "Once Hose is primed: Sump stands 66 mm higher, at -34 mm; Tank stands 99 mm lower, at 901 mm. Hose \
                draws air and breaks after 6 min 25 s.";
    assert!(told.contains(rest), "{told}");
    assert!(
        told.contains("Tank stands at 928 mm and does not spill"),
        "{told}"
    );
}

#[test]
fn what_somebody_fills_is_primed_and_the_second_outcome_is_that_nobody_does() {
    let told = told(&air::filled_bridge(), UnitSystem::Metric);
    let first = "Primed: Bridge runs full over its high point.";
    assert_eq!(told.matches(first).count(), 6, "{told}");
    assert!(
        told.contains("If nobody fills Bridge: Sump stands 142 mm lower"),
        "{told}"
    );
    assert!(!told.contains("Once Bridge"), "{told}");
}

#[test]
fn a_layout_without_a_high_point_says_nothing_of_it() {
    let mut layout = air::read(BRIDGE);
    layout.runs.retain(|run| run.id.as_str() != "bridge");
    let told = told(&layout, UnitSystem::Metric);
    assert!(!told.contains("rimed"), "{told}");
}

#[test]
fn json_has_both_outcomes_of_every_state_and_of_a_way_of_running() {
    let mut layout = air::read(BRIDGE);
    let way = r#"(id: "night", name: "Night", pumps_off: ["lift"])"#;
    layout.ways = vec![ron::from_str::<Way>(way).unwrap()];
    let value = report_json(&layout, &whole(&layout));
    let running = &value["variants"][0]["running"];
    let states = State::ALL.map(|state| &value["states"][state.word()]);
    for state in states.into_iter().chain([running]) {
        assert_eq!(state["outcome"], "with-air");
        let second = &state["primed"];
        assert_eq!(second["outcome"], "primed");
        assert_eq!(second["primed"], Value::Null);
        let keys = |value: &Value| {
            let object = value.as_object().expect("an object");
            let keys = object.keys().filter(|key| *key != "cases");
            keys.cloned().collect::<Vec<_>>()
        };
        assert_eq!(keys(second), keys(state), "whole");
    }
}

#[test]
fn a_trace_follows_the_second_outcome_where_it_is_asked_to() {
    let (_folder, file) = saved(BRIDGE);
    let plain = json(&["trace", &file, "--state", "starting", "--json"]);
    let primed = json(&["trace", &file, "--state", "starting", "--primed", "--json"]);
    assert_eq!(
        (&plain["outcome"], &primed["outcome"]),
        (&"with-air".into(), &"primed".into())
    );
    let last = |value: &Value| {
        let levels = value["levels_m"]["a"].as_array().unwrap();
        levels.last().unwrap().as_f64().unwrap()
    };
    assert!(last(&plain) - last(&primed) > 0.2);
    // Where it ends is the second outcome of the state.
    let layout = air::read(BRIDGE);
    let evaluation = evaluate(&layout, Catalogue::builtin(), &[State::Starting]);
    let second = evaluation.states[0].primed.as_deref().unwrap();
    assert!((last(&primed) - second.vessels[1].level_m.unwrap()).abs() < 1e-3);
}

#[test]
fn a_trace_of_what_somebody_fills_is_primed_either_way() {
    let filled = BRIDGE.replacen(
        "own(bore_m: 0.08)",
        "own(bore_m: 0.08), starts_primed: true",
        1,
    );
    let (_folder, file) = saved(&filled);
    let plain = json(&["trace", &file, "--state", "stopped", "--json"]);
    let primed = json(&["trace", &file, "--state", "stopped", "--primed", "--json"]);
    assert_eq!(plain["outcome"], "primed");
    assert_eq!(plain, primed);
}

#[test]
fn nothing_that_can_be_primed_is_refused_in_one_line() {
    let falls = r#"(
      fallwright: 1,
      title: "Falls all the way",
      vessels: [
        (id: "high", shape: prism(area_m2: 2), floor_m: 1, rim_m: 2, fill_m: 1.8),
        (id: "low", shape: prism(area_m2: 2), floor_m: -1, rim_m: 0.9, fill_m: -0.5),
      ],
      runs: [
        (id: "down", from: (at: "high", opening: upstand(crest_m: 1.4)), to: (at: "low", opening: mouth(lip_m: 0.7)), pipe: own(bore_m: 0.05), length_m: 2),
      ],
    )"#;
    let (_folder, file) = saved(falls);
    let line = refused(&["trace", &file, "--state", "starting", "--primed"]);
    assert!(
        line.contains("No run of this layout can be primed"),
        "{line}"
    );
}

#[test]
fn a_failure_has_its_second_outcome() {
    let (_folder, file) = saved(BRIDGE);
    let value = json(&["faults", &file, "--json"]);
    let cases = value["cases"].as_array().unwrap();
    assert!(!cases.is_empty());
    for case in cases {
        let second = case["primed"].as_object().expect("a second outcome");
        let keys: Vec<&String> = second.keys().collect();
        let wanted = [
            "first_spill_s",
            "where",
            "spilled_m3",
            "starved_s",
            "lowest",
            "severity",
        ];
        assert_eq!(keys, wanted);
    }
    let beds = format!("{}/examples/two-beds.ron", env!("CARGO_MANIFEST_DIR"));
    let plain = json(&["faults", &beds, "--json"]);
    assert_eq!(plain["cases"][0]["primed"], Value::Null);
    let (_folder, file) = saved(HOSE);
    let told = text(&call(&["faults", &file]).stdout);
    assert!(
        told.contains("Once primed, Hose shut: Tank spills after "),
        "{told}"
    );
}
