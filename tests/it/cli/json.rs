//! The report for scripts: every key of the format, in its order.

use crate::support;
use fallwright::cli::report_json;
use fallwright::layout::Layout;
use fallwright::state::State;
use fallwright::states::report::VesselReport;
use fallwright::units::UnitSystem;
use serde_json::{Value, json};

fn report() -> Value {
    report_json(&support::layout(), &support::sample())
}

fn keys(value: &Value) -> String {
    let object = value.as_object().expect("an object");
    object.keys().cloned().collect::<Vec<_>>().join(" ")
}

const KEYS: &[(&str, &str)] = &[
    (
        "",
        "format title checked not_checked states findings marks variants",
    ),
    ("/states", "rest running"),
    (
        "/states/running",
        "outcome in_runs_m3 converged newton_steps time_steps mass_error_m3_s energy_error_m cycle \
         vessels joints fixed runs pumps course primed",
    ),
    (
        "/states/running/vessels/0",
        "id name floor_m rim_m level_m freeboard_m depth_m volume_m3 inflow_m3_s \
         turnover_per_s retention_s with_spill",
    ),
    (
        "/states/running/vessels/2/with_spill",
        "level_m spill_m3_s lost_m3 first_spill_s",
    ),
    (
        "/states/running/joints/0",
        "id elevation_m head_m pressure_pa",
    ),
    ("/states/running/fixed/0", "id level_m flow_m3_s"),
    (
        "/states/running/runs/0",
        "id from to flow_m3_s velocity_m_s bore_m length_m loss_m free_drop_m control regime \
         valve_open capacity_at_rim_m3_s depth_m surge_m likely_m through_hole_m3_s",
    ),
    (
        "/states/running/pumps/0",
        "id run on standing flow_m3_s head_m static_m losses power_w npsh_available_m npsh_required_m suction_level_m \
         shutoff_head_m",
    ),
    ("/states/running/pumps/0/losses/0", "what head_m"),
    (
        "/findings/0",
        "code severity state about text measured limit unit cures",
    ),
    ("/findings/0/cures/0", "text changes"),
    ("/findings/0/cures/0/changes/0", "part field from to unit"),
];

#[test]
fn every_key_stands_in_its_place_and_order() {
    let report = report();
    for (place, expected) in KEYS {
        let object = report.pointer(place).expect(place);
        assert_eq!(&keys(object), expected, "at {place:?}");
    }
    assert_eq!(report["format"], 1);
}

#[test]
fn states_are_named_by_their_words() {
    let report = report();
    assert_eq!(report["checked"], json!(["rest", "running"]));
    let left_out = json!(["starting", "fouled", "blocked", "stopped"]);
    assert_eq!(report["not_checked"], left_out);
}

#[test]
fn a_vessel_that_spills_has_a_negative_freeboard_and_its_real_course() {
    let report = report();
    let vessels = &report["states"]["running"]["vessels"];
    let freeboard_m = vessels[2]["freeboard_m"].as_f64().unwrap();
    assert!((freeboard_m + 0.014).abs() < 1e-12);
    assert_eq!(vessels[2]["with_spill"]["first_spill_s"], 252.0);
    assert_eq!(vessels[1]["with_spill"], Value::Null);
    let retention_s = vessels[2]["retention_s"].as_f64().unwrap();
    // To nine digits.
    assert!((retention_s - 0.5 / 0.001_67).abs() < 1e-6);
}

#[test]
fn a_finding_keeps_si_and_its_cure_the_change() {
    let report = report();
    let finding = &report["findings"][0];
    assert_eq!(finding["about"], json!(["cress", "overflow"]));
    assert_eq!(
        (finding["measured"].as_f64(), finding["unit"].as_str()),
        (Some(0.864), Some("m"))
    );
    let change = json!({ "part": "overflow", "field": "from.opening.upstand.crest_m",
                         "from": 0.841, "to": 0.807, "unit": "m" });
    assert_eq!(finding["cures"][0]["changes"][0], change);
    assert_eq!(report["findings"][2]["unit"], "m/s");
}

#[test]
fn what_is_not_known_is_null() {
    let report = report();
    assert_eq!(report["findings"][1]["measured"], Value::Null);
    let running = &report["states"]["running"];
    assert_eq!(running["cycle"], Value::Null);
    assert_eq!(running["joints"][0]["head_m"], Value::Null);
    assert_eq!(running["runs"][0]["depth_m"], Value::Null);
    // No water flows in at rest: there is no time of stay.
    assert_eq!(
        report["states"]["rest"]["vessels"][0]["retention_s"],
        Value::Null
    );
}

#[test]
fn nothing_that_is_not_finite_gets_out() {
    let mut evaluation = support::sample();
    let running = &mut evaluation.states[1];
    running.mass_error_m3_s = f64::NAN;
    running.vessels[0] = VesselReport {
        volume_m3: Some(f64::INFINITY),
        inflow_m3_s: f64::NAN,
        ..support::vessel("header", "Header", (0.0, f64::NEG_INFINITY), f64::NAN)
    };
    running.runs[0].flow_m3_s = f64::INFINITY;
    let report = report_json(&support::layout(), &evaluation);
    let vessel = &report["states"]["running"]["vessels"][0];
    for key in [
        "rim_m",
        "level_m",
        "freeboard_m",
        "volume_m3",
        "inflow_m3_s",
        "retention_s",
    ] {
        assert_eq!(vessel[key], Value::Null, "{key}");
    }
    let text = report.to_string();
    assert!(!text.contains("NaN") && !text.contains("inf,"), "{text}");
    assert_eq!(serde_json::from_str::<Value>(&text).unwrap(), report);
}

#[test]
fn sentences_follow_the_units_of_the_layout_and_numbers_do_not() {
    let layout = Layout {
        units: UnitSystem::Us,
        ..support::layout()
    };
    let report = report_json(&layout, &support::sample());
    let text = report["findings"][0]["text"].as_str().unwrap();
    assert!(
        text.starts_with("Watercress bed spills: its level stands 9/16 in over"),
        "{text}"
    );
    assert_eq!(report["findings"][0]["measured"], 0.864);
}

#[test]
fn a_state_that_failed_has_its_keys_and_nothing_in_them() {
    let mut evaluation = support::sample();
    evaluation.unsolved = vec![(State::Fouled, Vec::new()), (State::Blocked, Vec::new())];
    let report = report_json(&support::layout(), &evaluation);
    let solved = keys(&report["states"]["running"]);
    assert_eq!(keys(&report["states"]["fouled"]), solved);
    assert_eq!(
        keys(&report["states"]["blocked"]),
        format!("{solved} cases")
    );
    for (key, value) in report["states"]["blocked"].as_object().unwrap() {
        match key.as_str() {
            "converged" => assert_eq!(*value, json!(false)),
            _ => assert!(value.is_null() || *value == json!([]), "{key}: {value}"),
        }
    }
    // What was solved is there, and is not put aside by a later step that failed.
    evaluation.unsolved = vec![(State::Running, Vec::new())];
    let report = report_json(&support::layout(), &evaluation);
    assert!(
        !report["states"]["running"]["vessels"]
            .as_array()
            .unwrap()
            .is_empty()
    );
}
