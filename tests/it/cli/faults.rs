//! `faults`: the shape of its answers, its order and its exit code.

use super::program::{call, text};
use serde_json::Value;
use std::path::Path;

fn example(name: &str) -> String {
    format!("{}/examples/{name}.ron", env!("CARGO_MANIFEST_DIR"))
}

fn faults(file: &str) -> (Option<i32>, Value) {
    let output = call(&["faults", file, "--json"]);
    assert!(output.stderr.is_empty(), "{}", text(&output.stderr));
    let value = serde_json::from_slice(&output.stdout).expect("JSON");
    (output.status.code(), value)
}

fn keys(value: &Value) -> String {
    let object = value.as_object().expect("an object");
    object.keys().cloned().collect::<Vec<_>>().join(" ")
}

#[test]
fn every_case_has_the_keys_that_were_promised() {
    let (code, value) = faults(&example("two-beds"));
    assert_eq!(code, Some(1), "a bed spills in two minutes");
    assert_eq!(keys(&value), "format title cases not_covered");
    let cases = value["cases"].as_array().unwrap();
    for case in cases {
        assert_eq!(
            keys(case),
            "what about first_spill_s where spilled_m3 starved_s lowest severity primed"
        );
        assert_eq!(keys(&case["lowest"]), "tub bed-1 bed-2");
    }
    let told = |case: &Value| {
        let (what, about) = (case["what"].as_str(), case["about"][0].as_str());
        format!("{} {}", what.unwrap(), about.unwrap())
    };
    let told: Vec<String> = cases.iter().map(told).collect();
    assert_eq!(
        told,
        [
            "run-shut hole-2",
            "run-shut upstand-1",
            "run-shut lift",
            "pump-stands pump"
        ]
    );
    assert_eq!(cases[0]["where"], "bed-2");
    assert_eq!(cases[0]["severity"], "problem");
    assert_eq!(cases[3]["severity"], "note");
    assert!(!value["not_covered"].as_array().unwrap().is_empty());
}

#[test]
fn prop_worst_come_first_and_a_second_time_it_is_the_same() {
    for name in ["glasshouse", "drain-too-high", "rain-cistern"] {
        let (_, value) = faults(&example(name));
        assert_eq!(faults(&example(name)).1, value, "{name}");
        let rank = |case: &Value| {
            let severities = ["problem", "warning", "note"];
            let severity = severities.iter().position(|one| case["severity"] == *one);
            (
                severity.unwrap(),
                case["first_spill_s"].as_f64().unwrap_or(f64::INFINITY),
            )
        };
        let cases = value["cases"].as_array().unwrap();
        assert!(cases.iter().map(rank).is_sorted(), "{name}");
    }
}

/// A check valve that stays open lets the bed run back into a sump that is half a litre too small, beside a pond.
const SPLASH: &str = r#"(
    fallwright: 1,
    title: "A splash",
    vessels: [
        (id: "pond", floor_m: 0, rim_m: 1, shape: prism(area_m2: 40), fill_m: 0.9),
        (id: "sump", floor_m: 0, rim_m: 0.6, shape: prism(area_m2: 1), fill_m: 0.4505),
        (id: "bed", floor_m: 1, rim_m: 1.4, shape: prism(area_m2: 1), fill_m: 1.2),
    ],
    runs: [
        (id: "lift", from: (at: "sump", opening: mouth(lip_m: 0.05, turned: down)),
            to: (at: "bed", opening: submerged(lip_m: 1.05)), pipe: own(bore_m: 0.03), length_m: 3,
            valves: [(kind: "swing-check")],
            pump: (id: "pump", curve: points([(flow_m3_s: 0, head_m: 4), (flow_m3_s: 0.001, head_m: 1)]))),
        (id: "back", from: (at: "bed", opening: upstand(crest_m: 1.2)),
            to: (at: "sump", opening: mouth(lip_m: 0.65, turned: down)), pipe: own(bore_m: 0.07), length_m: 3),
    ],
)"#;

#[test]
fn a_splash_is_a_note_and_told_by_itself() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("splash.ron");
    std::fs::write(&file, SPLASH).expect("a file");
    let (_, value) = faults(file.to_str().unwrap());
    let cases = value["cases"].as_array().unwrap();
    let case = cases
        .iter()
        .find(|one| one["what"] == "check-valve-stays-open");
    let case = case.unwrap();
    let lost_m3 = case["spilled_m3"].as_f64().unwrap();
    assert!((lost_m3 - 0.00028).abs() < 1e-5, "{lost_m3}");
    assert_eq!(case["where"], "sump");
    assert_eq!(case["severity"], "note");
    let output = call(&["faults", file.to_str().unwrap()]);
    let told = text(&output.stdout)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(
        told.contains(
            "Only a splash runs over within a day, and no pump lacks water, with: check valve of lift \
             stays open at a stop (0.277 L from sump)."
        ),
        "{told}"
    );
}

/// The two beds with changes of their text, saved where nobody looks.
fn changed(changes: &[(&str, &str)]) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut layout = std::fs::read_to_string(Path::new(&example("two-beds"))).expect("a file");
    for (from, to) in changes {
        assert!(layout.contains(from), "{from}");
        layout = layout.replacen(from, to, 1);
    }
    let path = folder.path().join("changed.ron");
    std::fs::write(&path, layout).expect("written");
    let path = path.display().to_string();
    (folder, path)
}

#[test]
fn what_the_layout_accepts_decides() {
    let title = "title: \"Two beds over a tub\",";
    let with = |limit: &str| format!("{title} limits: (blocked_spill_s: {limit}),");
    let (_folder, accepts) = changed(&[(title, &with("60"))]);
    let (code, value) = faults(&accepts);
    assert_eq!(code, Some(0));
    assert_eq!(value["cases"][0]["severity"], "warning");
    let (_folder, wants) = changed(&[(title, &with("100"))]);
    let (code, value) = faults(&wants);
    assert_eq!(code, Some(1));
    assert_eq!(value["cases"][0]["severity"], "problem");
    assert_eq!(value["cases"][1]["severity"], "warning");
}

#[test]
fn switches_valves_and_screens_fail_too() {
    let (_folder, file) = changed(&[
        (
            "name: \"Little pump\",",
            "name: \"Little pump\", float: (on_m: 0.3, off_m: 0.2),",
        ),
        (
            "name: \"Tub\",",
            "name: \"Tub\", float_valve: (shut_m: 0.2, open_m: 0.15, flow_m3_s: 1.0e-4),",
        ),
        (
            "from: (at: \"bed-1\",",
            "from: (at: \"bed-1\", screen: (area_m2: 0.02, open_share: 0.5),",
        ),
    ]);
    let (_, value) = faults(&file);
    let cases = value["cases"].as_array().unwrap();
    let words: Vec<&str> = cases
        .iter()
        .map(|case| case["what"].as_str().unwrap())
        .collect();
    for word in [
        "float-switch-stays-on",
        "float-valve-stays-open",
        "float-valve-stays-shut",
        "screen-blinded",
        "pump-stands",
    ] {
        assert!(words.contains(&word), "{word}: {words:?}");
    }
    let open = cases
        .iter()
        .find(|case| case["what"] == "float-valve-stays-open")
        .unwrap();
    // 0.1 L/s fill what is left over the tub in minutes, and go on for the rest of the day.
    assert_eq!(open["about"][0], "tub");
    assert!(open["spilled_m3"].as_f64().unwrap() > 8.0, "{open}");
}

#[test]
fn a_check_valve_that_stays_open_lets_the_header_run_back() {
    let (_, value) = faults(&example("glasshouse"));
    let cases = value["cases"].as_array().unwrap();
    let open: Vec<&Value> = cases
        .iter()
        .filter(|case| case["what"] == "check-valve-stays-open")
        .collect();
    assert_eq!(open.len(), 1);
    assert_eq!(open[0]["about"][0], "lift");
}

#[test]
fn the_text_fits_the_page_and_says_what_is_left_out() {
    for name in ["glasshouse", "drain-too-high", "two-beds", "rain-cistern"] {
        for units in ["metric", "us"] {
            let output = call(&["faults", &example(name), "--units", units]);
            let told = text(&output.stdout);
            for line in told.lines() {
                assert!(
                    line.chars().count() <= fallwright::cli::text::WIDTH,
                    "{line}"
                );
                assert_eq!(line, line.trim_end());
            }
            assert!(told.contains("Not covered: a pipe that bursts"), "{told}");
        }
    }
}

/// A pump between two joints, before which one run has a valve, open or shut.
fn drawing_from_a_joint(opening: f64) -> String {
    format!(
        r#"(fallwright: 1, title: "Drawn from a joint",
        vessels: [(id: "tub", shape: prism(area_m2: 2), floor_m: 0, rim_m: 1, fill_m: 0.8),
                  (id: "top", shape: prism(area_m2: 2), floor_m: 1.5, rim_m: 2.5, fill_m: 1.7)],
        joints: [(id: "tee", elevation_m: 0.1)],
        runs: [
          (id: "draw", from: (at: "tub", opening: submerged()), to: (at: "tee"), pipe: own(bore_m: 0.05), length_m: 1,
           valves: [(kind: "gate", opening: {opening})]),
          (id: "lift", from: (at: "tee"), to: (at: "top", opening: mouth(lip_m: 2.4)), pipe: own(bore_m: 0.05), length_m: 3,
           pump: (id: "pump", curve: points([(flow_m3_s: 0, head_m: 4), (flow_m3_s: 0.002, head_m: 2)]))),
          (id: "back", from: (at: "top", opening: upstand(crest_m: 2)), to: (at: "tub", opening: mouth(lip_m: 0.9)),
           pipe: own(bore_m: 0.1), length_m: 2),
        ])"#
    )
}

#[test]
fn a_suction_that_is_shut_is_named_before_anything_fails() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("joint.ron");
    let path = file.to_str().unwrap();
    std::fs::write(&file, drawing_from_a_joint(1.0)).unwrap();
    let (_, value) = faults(path);
    assert!(value.get("suction_shut").is_none());
    let cases = value["cases"].as_array().unwrap();
    let draw = cases
        .iter()
        .find(|case| case["about"][0] == "draw")
        .unwrap();
    assert_eq!(draw["starved_s"], 0.0);
    std::fs::write(&file, drawing_from_a_joint(0.0)).unwrap();
    let (_, value) = faults(path);
    assert_eq!(value["suction_shut"][0]["severity"], "problem");
    assert_eq!(call(&["faults", path]).status.code(), Some(1));
    assert_eq!(value["suction_shut"][0]["pump"], "pump");
    assert_eq!(value["suction_shut"][0]["shut"][0], "draw");
    let words = text(&call(&["faults", path]).stdout).to_owned();
    assert!(words.contains("draw is shut before it"), "{words}");
    assert!(words.contains("[suction-shut]"), "{words}");
    assert!(words.contains("docs/findings/CODE.md"), "{words}");
    assert!(!words.contains("no pump lacks water"), "{words}");
}
