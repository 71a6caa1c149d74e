//! What the examples came to before, number by number, with the work it took.
//!
//! A change of a law or of the solver shows here as a difference of lines: after looking at each,
//! `FALLWRIGHT_BLESS=1 cargo test --test it frozen` writes the file anew.
//!
//! The file is the same whatever the optimiser does:
//! `CARGO_PROFILE_DEV_OPT_LEVEL=0 cargo test --test it frozen` and `cargo test --release --test it frozen`.

use crate::networks::read;
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::evaluate;
use fallwright::state::State;
use fallwright::states::report::StateReport;
use std::path::PathBuf;

const EXAMPLES: [&str; 4] = ["glasshouse", "drain-too-high", "two-beds", "rain-cistern"];
/// Levels in metres and flows in m³/s agree to this, and larger numbers by so much of themselves.
const AGREE: f64 = 1e-9;

fn path() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/it/states/frozen.csv")
}

/// (example, state, what, part, number).
fn rows() -> Vec<(String, f64)> {
    let mut rows = Vec::new();
    for name in EXAMPLES {
        let layout = read(&format!("../../examples/{name}.ron"));
        let evaluation = evaluate(&layout, Catalogue::builtin(), &State::ALL);
        assert!(evaluation.unsolved.is_empty(), "{name}");
        for report in &evaluation.states {
            let of_state = of(report);
            let named = of_state
                .into_iter()
                .map(|(what, number)| (format!("{name},{:?},{what}", report.state), number));
            rows.extend(named);
        }
        if let Some(marks) = evaluation.marks {
            let lines = [("most", marks.most), ("least", marks.least)];
            rows.extend(
                lines.into_iter().filter_map(|(line, mark)| {
                    Some((format!("{name},,mark_m,{line}"), mark?.off_m))
                }),
            );
        }
    }
    rows
}

fn of(report: &StateReport) -> Vec<(String, f64)> {
    let count = |what: &str, number: usize| (format!("{what},"), number as f64);
    let mut rows = vec![
        count("newton_steps", report.newton_steps),
        count("time_steps", report.time_steps),
    ];
    let levels = report.vessels.iter();
    rows.extend(
        levels.filter_map(|vessel| Some((format!("level_m,{}", vessel.id), vessel.level_m?))),
    );
    let flows = report.runs.iter();
    rows.extend(flows.map(|run| (format!("flow_m3_s,{}", run.id), run.flow_m3_s)));
    let cases = report.blocked.iter();
    rows.extend(cases.map(|case| (format!("spilled_m3,{}", case.run), case.spilled_m3)));
    rows
}

fn agrees(now: f64, before: f64) -> bool {
    (now - before).abs() <= AGREE * before.abs().max(1.0)
}

#[test]
fn regress_frozen_examples_come_to_what_they_came_to_with_as_much_work() {
    let rows = rows();
    if std::env::var_os("FALLWRIGHT_BLESS").is_some() {
        let lines = rows
            .iter()
            .map(|(name, number)| format!("{name},{number}\n"));
        let text: String = std::iter::once("example,state,what,part,number\n".to_owned())
            .chain(lines)
            .collect();
        std::fs::write(path(), text).unwrap();
        return;
    }
    let text = std::fs::read_to_string(path()).unwrap();
    let before: Vec<(&str, f64)> = text
        .lines()
        .skip(1)
        .map(|line| {
            let (name, number) = line.rsplit_once(',').unwrap();
            (name, number.parse().unwrap())
        })
        .collect();
    assert!(before.len() > 200, "hardly anything is frozen");
    let names = |rows: Vec<&str>| rows.join("\n");
    assert_eq!(
        names(rows.iter().map(|row| row.0.as_str()).collect()),
        names(before.iter().map(|row| row.0).collect()),
    );
    let differing: Vec<String> = rows
        .iter()
        .zip(&before)
        .filter(|((_, now), (_, before))| !agrees(*now, *before))
        .map(|((name, now), (_, before))| format!("{name}: {before} is now {now}"))
        .collect();
    assert!(
        differing.is_empty(),
        "{} numbers are others; if they should be: FALLWRIGHT_BLESS=1 cargo test --test it frozen\n{}",
        differing.len(),
        differing.join("\n")
    );
}
