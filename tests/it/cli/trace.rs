//! `trace`: the shape of its answers, and what it is held to on every example.

use super::program::{call, refused, text};
use serde_json::Value;

const EXAMPLES: [&str; 4] = ["glasshouse", "drain-too-high", "two-beds", "rain-cistern"];

fn example(name: &str) -> String {
    format!("{}/examples/{name}.ron", env!("CARGO_MANIFEST_DIR"))
}

fn traced(name: &str, words: &[&str]) -> Value {
    let file = example(name);
    let mut all = vec!["trace", &file, "--json"];
    all.extend(words);
    let output = call(&all);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stdout));
    assert!(output.stderr.is_empty());
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn numbers(value: &Value) -> Vec<f64> {
    let rows = value.as_array().expect("a list");
    rows.iter()
        .map(|one| one.as_f64().expect("a number"))
        .collect()
}

#[test]
fn a_trace_has_the_keys_that_were_promised() {
    let value = traced("two-beds", &["--state", "stopped"]);
    let keys: Vec<&String> = value.as_object().unwrap().keys().collect();
    let wanted = [
        "format",
        "title",
        "state",
        "outcome",
        "block",
        "times_s",
        "levels_m",
        "flows_m3_s",
        "events",
        "spilled_m3",
        "volume_error_m3",
        "still",
    ];
    assert_eq!(keys, wanted);
    let times_s = numbers(&value["times_s"]);
    assert_eq!(times_s[0], 0.0);
    assert!(times_s.windows(2).all(|pair| pair[0] < pair[1]));
    for id in ["tub", "bed-1", "bed-2"] {
        assert_eq!(numbers(&value["levels_m"][id]).len(), times_s.len());
        assert_eq!(value["spilled_m3"][id], 0.0);
    }
    for id in ["lift", "upstand-1", "hole-2"] {
        assert_eq!(numbers(&value["flows_m3_s"][id]).len(), times_s.len());
    }
    assert_eq!(value["still"], true);
}

#[test]
fn prop_a_day_of_every_trace_loses_no_water() {
    for name in EXAMPLES {
        for state in ["starting", "stopped", "blocked"] {
            let value = traced(name, &["--state", state, "--until", "86400"]);
            let error_m3 = value["volume_error_m3"].as_f64().unwrap();
            assert!(error_m3.abs() <= 1e-6, "{name} {state}: {error_m3}");
            let times_s = numbers(&value["times_s"]);
            assert!(
                (times_s.last().unwrap() - 86_400.0).abs() < 1e-6,
                "{name} {state}"
            );
        }
    }
}

#[test]
fn what_happens_stands_at_a_sample_and_the_flow_at_0_is_that_just_after() {
    let words = ["--state", "blocked", "--block", "hole-2"];
    let value = traced("two-beds", &words);
    assert_eq!(value["block"], "hole-2");
    let times_s = numbers(&value["times_s"]);
    let events = value["events"].as_array().unwrap();
    let spill = events
        .iter()
        .find(|one| one["what"] == "spill-begins")
        .unwrap();
    assert_eq!(spill["about"][0], "bed-2");
    for event in events {
        let time_s = event["time_s"].as_f64().unwrap();
        assert!(times_s.contains(&time_s), "{event}");
    }
    let first = |id: &str| numbers(&value["flows_m3_s"][id])[0];
    assert_eq!(first("hole-2"), 0.0, "it is shut");
    assert!(first("lift") > 5e-4 && first("upstand-1") > 5e-4);
    let stopped = traced("two-beds", &["--state", "stopped"]);
    assert_eq!(numbers(&stopped["flows_m3_s"]["lift"])[0], 0.0);
}

#[test]
fn prop_the_samples_begin_and_end_where_check_says() {
    let file = example("two-beds");
    let checked = call(&["check", &file, "--json"]);
    let checked: Value = serde_json::from_slice(&checked.stdout).expect("JSON");
    let value = traced("two-beds", &["--state", "starting"]);
    for (state, first) in [("rest", true), ("running", false)] {
        for vessel in checked["states"][state]["vessels"].as_array().unwrap() {
            let levels_m = numbers(&value["levels_m"][vessel["id"].as_str().unwrap()]);
            let level_m = if first {
                levels_m[0]
            } else {
                *levels_m.last().unwrap()
            };
            let wanted_m = vessel["level_m"].as_f64().unwrap();
            assert!(
                (level_m - wanted_m).abs() < 1e-6,
                "{state} {vessel}: {level_m}"
            );
        }
    }
}

#[test]
fn until_cuts_short_and_goes_on() {
    let last = |words: &[&str]| {
        *numbers(&traced("two-beds", words)["times_s"])
            .last()
            .unwrap()
    };
    let whole_s = last(&["--state", "starting"]);
    assert_eq!(last(&["--state", "starting", "--until", "60"]), 60.0);
    // To milliseconds, which the nine digits of a result have room for.
    let longer_s = ((whole_s + 1000.0) * 1000.0).round() / 1000.0;
    assert_eq!(
        last(&["--state", "starting", "--until", &longer_s.to_string()]),
        longer_s
    );
}

#[test]
fn without_a_run_named_the_worst_one_is_shut() {
    let value = traced("two-beds", &["--state", "blocked", "--until", "60"]);
    assert_eq!(value["block"], "hole-2");
}

#[test]
fn csv_is_a_row_for_each_sample() {
    let file = example("two-beds");
    let output = call(&["trace", &file, "--state", "blocked", "--csv"]);
    let csv = text(&output.stdout);
    let mut lines = csv.lines();
    assert_eq!(
        lines.next(),
        Some(
            "time_s,level:tub,level:bed-1,level:bed-2,flow:lift,flow:upstand-1,flow:hole-2,events"
        )
    );
    let rows: Vec<Vec<&str>> = lines.map(|line| line.split(',').collect()).collect();
    let value = traced("two-beds", &["--state", "blocked"]);
    assert_eq!(rows.len(), numbers(&value["times_s"]).len());
    assert!(rows.iter().all(|row| row.len() == 8));
    let levels_m = numbers(&value["levels_m"]["bed-2"]);
    for (row, level_m) in rows.iter().zip(levels_m) {
        assert_eq!(row[3].parse::<f64>().unwrap(), level_m);
    }
    assert!(
        rows.iter().any(|row| row[7] == "spill-begins bed-2"),
        "{csv}"
    );
}

#[test]
fn the_text_fits_the_page_in_both_units() {
    for name in EXAMPLES {
        for units in ["metric", "us"] {
            for state in ["starting", "stopped", "blocked"] {
                let file = example(name);
                let output = call(&["trace", &file, "--state", state, "--units", units]);
                assert_eq!(output.status.code(), Some(0));
                let told = text(&output.stdout);
                for line in told.lines() {
                    assert!(
                        line.chars().count() <= fallwright::cli::text::WIDTH,
                        "{line}"
                    );
                    assert_eq!(line, line.trim_end());
                }
                assert!(!told.contains("NaN"));
            }
        }
    }
}

#[test]
fn a_run_that_is_not_there_is_refused_with_the_nearest() {
    let file = example("two-beds");
    let blocked = |id: &str| refused(&["trace", &file, "--state", "blocked", "--block", id]);
    let line = blocked("hole-3");
    assert!(line.contains("no run with the id hole-3"), "{line}");
    assert!(line.contains("Did you mean hole-2?"), "{line}");
    let line = blocked("bed-1");
    assert!(line.contains("bed-1 is no run"), "{line}");
    let line = blocked("quite-another-thing");
    assert!(line.contains("Give the id of a run"), "{line}");
    let line = refused(&["trace", &file, "--state", "stopped", "--block", "lift"]);
    assert!(line.contains("--block goes with --state blocked"), "{line}");
}

#[test]
fn the_lowest_water_over_an_intake_is_told_with_its_time() {
    let file = example("drain-too-high");
    let output = call(&["check", &file, "--state", "starting", "--json"]);
    let checked: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let suction = &checked["states"]["starting"]["course"]["suctions"][0];
    let value = traced("drain-too-high", &["--state", "starting"]);
    let (times_s, levels_m) = (
        numbers(&value["times_s"]),
        numbers(&value["levels_m"]["pit"]),
    );
    let lowest = levels_m.iter().copied().fold(f64::INFINITY, f64::min);
    assert!((suction["lowest_m"].as_f64().unwrap() - lowest).abs() < 1e-9);
    let lowest_s = suction["lowest_s"].as_f64().unwrap();
    let place = times_s.iter().position(|time_s| *time_s == lowest_s);
    assert!((levels_m[place.expect("a sample")] - lowest).abs() < 1e-9);
    assert!(lowest_s < *times_s.last().unwrap(), "it comes up again");
}
