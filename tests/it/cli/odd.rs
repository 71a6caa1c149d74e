//! Layouts as they are on the way: nothing in them, no runs, no pump, a pump that runs dry, a float switch.

use super::program::{call, text};
use serde_json::Value;

const EMPTY: &str = r#"(fallwright: 1, title: "Nothing yet")"#;

const POND: &str = r#"(fallwright: 1, title: "One pond",
    vessels: [(id: "pond", shape: prism(area_m2: 4), floor_m: 0, rim_m: 1, fill_m: 0.8)])"#;

const NO_PUMP: &str = r#"(fallwright: 1, title: "Two ponds", vessels: [
    (id: "a", shape: prism(area_m2: 4), floor_m: 0, rim_m: 1, fill_m: 0.8),
    (id: "b", shape: prism(area_m2: 4), floor_m: 0, rim_m: 1, fill_m: 0.4)],
  runs: [(id: "link", from: (at: "a", opening: submerged()), to: (at: "b", opening: submerged()), pipe: own(bore_m: 0.05), length_m: 2)])"#;

/// Two barrels, one over the other, with so little water that the pump runs dry again and again.
const DRY: &str = r#"(fallwright: 1, title: "Barrels", vessels: [
    (id: "low", role: sump, shape: round(diameter_m: 0.58), floor_m: 0, rim_m: 0.9, fill_m: 0.14),
    (id: "high", shape: round(diameter_m: 0.58), floor_m: 1, rim_m: 1.9, fill_m: 1.5)],
  runs: [
    (id: "up", from: (at: "low", opening: mouth(lip_m: 0.1, turned: down)),
      to: (at: "high", opening: mouth(lip_m: 1.2)), pipe: own(bore_m: 0.025), length_m: 2.5,
      pump: (id: "p", curve: points([(flow_m3_s: 0, head_m: 3), (flow_m3_s: 0.0008, head_m: 1.5), (flow_m3_s: 0.0012, head_m: 0)]))),
    (id: "down", from: (at: "high", opening: upstand(crest_m: 1.6)), to: (at: "low", opening: mouth(lip_m: 0.8)),
      pipe: own(bore_m: 0.04), length_m: 1.5)])"#;

/// A pit that fills and is emptied by a pump with a float switch.
const FLOAT: &str = r#"(fallwright: 1, title: "Drain pit", vessels: [
    (id: "pit", role: sump, shape: round(diameter_m: 0.8), floor_m: -1, rim_m: 0, fill_m: -0.8, make_up_m3_s: 0.0002)],
  fixed: [(id: "ditch", level_m: 0.5)],
  runs: [(id: "out", from: (at: "pit", opening: mouth(lip_m: -0.95, turned: down)), to: (at: "ditch"),
    pipe: own(bore_m: 0.04), length_m: 6, check_valve: forward,
    pump: (id: "p", name: "Pit pump", float: (on_m: -0.4, off_m: -0.8),
      curve: points([(flow_m3_s: 0, head_m: 6), (flow_m3_s: 0.002, head_m: 3), (flow_m3_s: 0.004, head_m: 0)])))])"#;

/// What a command says of a layout, in both forms; the JSON is parsed.
fn asked(layout: &str, words: &[&str]) -> (String, Value) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("layout.ron");
    std::fs::write(&path, layout).expect("written");
    let path = path.display().to_string();
    let run = |more: &[&str]| {
        let mut all = vec![words[0], &path];
        all.extend(&words[1..]);
        all.extend(more);
        let output = call(&all);
        assert_ne!(
            output.status.code(),
            Some(2),
            "{all:?}: {}",
            text(&output.stderr)
        );
        assert!(output.stderr.is_empty(), "{}", text(&output.stderr));
        text(&output.stdout)
    };
    let json = serde_json::from_str(&run(&["--json"])).expect("JSON");
    (run(&[]), json)
}

#[test]
fn every_state_of_an_unfinished_layout_reads() {
    for layout in [EMPTY, POND, NO_PUMP] {
        let (told, json) = asked(layout, &["check"]);
        assert_eq!(json["checked"].as_array().unwrap().len(), 6);
        assert_eq!(json["states"]["blocked"]["cases"], serde_json::json!([]));
        assert_eq!(
            told.matches("There is no pump, so it is as at rest.")
                .count(),
            2
        );
        assert!(
            told.contains("No run carries water, so there is none to block."),
            "{told}"
        );
        let (told, _) = asked(layout, &["trace", "--state", "starting"]);
        assert!(told.contains("There is no pump to switch"), "{told}");
    }
    let (told, json) = asked(EMPTY, &["faults"]);
    assert!(
        told.contains("nothing in this layout yet that could fail"),
        "{told}"
    );
    assert_eq!(json["cases"], serde_json::json!([]));
}

#[test]
fn a_pump_that_runs_dry_for_ever_is_told_once() {
    let (told, json) = asked(DRY, &["check"]);
    let findings = json["findings"].as_array().unwrap();
    let of = |word: &str| findings.iter().filter(|one| one["code"] == word).count();
    assert_eq!(of("never-steady"), 1, "{findings:#?}");
    for word in ["starves-at-start", "pump-runs-dry", "no-flow"] {
        assert_eq!(of(word), 0, "{word}");
    }
    let cycle = &json["states"]["running"]["cycle"];
    let period_s = cycle["period_s"].as_f64().unwrap();
    assert!((60.0..600.0).contains(&period_s), "{period_s}");
    let low = &cycle["vessels"][0];
    let level = |key: &str| low[key].as_f64().unwrap();
    assert!(level("lowest_m") < level("mean_m") && level("mean_m") < level("highest_m"));
    assert!(told.contains("on and off by turns"), "{told}");
    assert!(
        told.contains("It never becomes steady: levels repeat every"),
        "{told}"
    );
}

#[test]
fn a_float_switch_that_does_its_work_is_a_note() {
    let (told, json) = asked(FLOAT, &["check", "--state", "running"]);
    let findings = json["findings"].as_array().unwrap();
    let finding = findings.iter().find(|one| one["code"] == "never-steady");
    assert_eq!(finding.unwrap()["severity"], "note");
    assert!(
        told.contains("Pit pump in out: on and off by turns"),
        "{told}"
    );
    let (_, trace) = asked(FLOAT, &["trace", "--state", "starting"]);
    let words: Vec<&Value> = trace["events"]
        .as_array()
        .unwrap()
        .iter()
        .map(|one| &one["what"])
        .collect();
    assert!(words.iter().any(|word| **word == "float-on"), "{words:?}");
}

#[test]
fn a_day_of_a_pump_that_runs_dry_is_reckoned_from_a_round() {
    let more = DRY
        .replace("fill_m: 0.14", "fill_m: 0.5")
        .replace("fill_m: 1.5", "fill_m: 1.6");
    let (_, json) = asked(&more, &["faults"]);
    let cases = json["cases"].as_array().unwrap();
    let down = cases
        .iter()
        .find(|case| case["about"][0] == "down")
        .unwrap();
    // Nothing but what both barrels hold over the rim and the intake can be lost.
    let lost_m3 = down["spilled_m3"].as_f64().unwrap();
    assert!((0.01..0.2).contains(&lost_m3), "{lost_m3}");
    let (_, json) = asked(&more, &["check", "--state", "blocked"]);
    assert_eq!(json["states"]["blocked"]["converged"], true);
}

#[test]
fn courses_cases_and_marks_have_the_keys_that_were_promised() {
    let beds = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/examples/two-beds.ron"
    ));
    let (_, json) = asked(&beds.expect("a file"), &["check"]);
    for (place, keys) in [
        (
            "/states/starting/course",
            "time_s still events vessels suctions volume_error_m3 back",
        ),
        (
            "/states/starting/course/vessels/0",
            "id lowest_m highest_m spilled_m3 first_spill_s",
        ),
        (
            "/states/starting/course/suctions/0",
            "pump vessel lip_m lowest_m lowest_s starved_s dry_s",
        ),
        ("/states/starting/course/events/0", "time_s what about"),
        (
            "/states/stopped/course/back",
            "drained_m3 siphoned_m3 in_runs_m3 room_m3",
        ),
        (
            "/states/blocked/cases/0",
            "what about first_spill_s where spilled_m3 starved_s lowest severity",
        ),
        (
            "/marks",
            "vessel pump most least cover_m between_m3 evaporation_m3_s top_up_s first_fill_s",
        ),
        ("/marks/most", "off_m on_m water_m3"),
    ] {
        let value = json.pointer(place).expect(place);
        let found: Vec<&str> = value
            .as_object()
            .expect(place)
            .keys()
            .map(String::as_str)
            .collect();
        assert_eq!(found.join(" "), keys, "{place}");
    }
    assert_eq!(json["states"]["running"]["course"], Value::Null);
    let case = &json["states"]["blocked"]["cases"][0];
    assert_eq!(case["what"], "run-shut");
    assert_eq!(case["about"], serde_json::json!(["hole-2"]));
    let (_, json) = asked(DRY, &["check", "--state", "running"]);
    let cycle = json["states"]["running"]["cycle"].as_object().unwrap();
    assert_eq!(
        cycle.keys().map(String::as_str).collect::<Vec<_>>(),
        ["period_s", "regular", "vessels"]
    );
    let level = cycle["vessels"][0].as_object().unwrap();
    let keys: Vec<&str> = level.keys().map(String::as_str).collect();
    assert_eq!(keys, ["id", "lowest_m", "highest_m", "mean_m"]);
}

#[test]
fn the_six_states_fit_the_page_in_both_units() {
    for name in ["glasshouse", "drain-too-high", "two-beds", "rain-cistern"] {
        let file = format!("{}/examples/{name}.ron", env!("CARGO_MANIFEST_DIR"));
        for units in ["metric", "us"] {
            let told = text(&call(&["check", &file, "--units", units]).stdout);
            for state in [
                "At rest", "Starting", "Running", "Fouled", "Blocked", "Stopped",
            ] {
                assert!(told.contains(&format!("\n{state}\n")), "{name}: no {state}");
            }
            for line in told.lines() {
                assert!(
                    line.chars().count() <= fallwright::cli::text::WIDTH,
                    "{name} {units}: {line}"
                );
                assert_eq!(line, line.trim_end(), "{name} {units}");
            }
            assert!(
                !told.contains("NaN") && !told.contains("not known"),
                "{told}"
            );
        }
    }
}
