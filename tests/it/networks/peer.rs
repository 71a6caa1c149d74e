//! Layouts at random, held to the answers of another method: `tests/reference/peer/`.

use super::{layout, solved};
use crate::verification::{Case, checks};
use fallwright::state::State;
use fallwright::states::report::StateReport;

/// What the other method says: layout, state, kind, part, value.
const ANSWERS: &str = include_str!("../../reference/peer/sample/answers.csv");
/// Distance of a level or a head that is allowed, metres.
const LEVEL_M: f64 = 1e-3;
/// Distance of a flow that is allowed, as a share of it and beside that, m³/s.
const FLOW: (f64, f64) = (0.005, 1e-7);

/// Distance of what runs hold from what they held when the answers were made, m³.
const IN_RUNS_M3: f64 = 1e-4;

/// One figure of the other method.
struct Figure {
    state: &'static str,
    kind: &'static str,
    part: &'static str,
    value: f64,
}

/// The figures of a row's layout, as they stand in the file.
fn figures(given: &Case) -> impl Iterator<Item = Figure> {
    let file = given.text("file").rsplit('/').next().unwrap();
    let lines = ANSWERS.lines().skip(1);
    lines.filter_map(move |line| {
        let fields: Vec<&str> = line.split(',').collect();
        let [layout, state, kind, part, value] = fields[..] else {
            panic!("not five fields: {line}");
        };
        (layout == file).then(|| Figure {
            state,
            kind,
            part,
            value: value.parse().unwrap(),
        })
    })
}

/// What the program says of the same; an empty vessel stands at its floor.
fn said(report: &StateReport, figure: &Figure) -> Option<f64> {
    let is = |id: &fallwright::layout::Id| id.as_str() == figure.part;
    match figure.kind {
        "level" => {
            let vessel = report.vessels.iter().find(|vessel| is(&vessel.id))?;
            Some(vessel.level_m?.max(vessel.floor_m))
        }
        "in runs" => Some(report.in_runs_m3),
        "head" => report.joints.iter().find(|joint| is(&joint.id))?.head_m,
        _ => Some(report.runs.iter().find(|run| is(&run.id))?.flow_m3_s),
    }
}

fn agrees(report: &StateReport, figure: &Figure) -> bool {
    let program = said(report, figure);
    let room = match figure.kind {
        "flow" => FLOW.1 + FLOW.0 * figure.value.abs(),
        // The program's own figure, which the other method was given.
        "in runs" => IN_RUNS_M3,
        _ => LEVEL_M,
    };
    let agrees = program.is_some_and(|program| (program - figure.value).abs() <= room);
    if !agrees {
        let Figure {
            state,
            kind,
            part,
            value,
        } = figure;
        eprintln!(
            "{state}: {kind} of {part}: {value} by the other method, {program:?} by the program"
        );
    }
    agrees
}

/// How many figures agree.
fn agreeing(given: &Case) -> f64 {
    let layout = layout(given);
    let reports = [("rest", State::Rest), ("running", State::Running)]
        .map(|(word, state)| (word, solved(&layout, state)));
    let found = figures(given).filter(|figure| {
        let mut reports = reports.iter();
        let report = reports.find(|(word, _)| *word == figure.state);
        agrees(&report.unwrap().1, figure)
    });
    found.count() as f64
}

#[test]
fn a_figure_that_is_off_is_seen() {
    let given = crate::verification::case("PEER-000000");
    let report = solved(&layout(&given), State::Running);
    for figure in figures(&given).filter(|figure| figure.state == "running") {
        assert!(agrees(&report, &figure));
        let off = match figure.kind {
            "in runs" => 2.0 * IN_RUNS_M3,
            "flow" => 1.011 * FLOW.0 * figure.value.abs() + 2.0 * FLOW.1,
            _ => 2.0 * LEVEL_M,
        };
        let value = figure.value + off;
        assert!(!agrees(&report, &Figure { value, ..figure }));
    }
}

checks! {
    val_peer_000000: "PEER-000000" => agreeing;
    val_peer_000004: "PEER-000004" => agreeing;
    val_peer_000008: "PEER-000008" => agreeing;
    val_peer_000012: "PEER-000012" => agreeing;
    val_peer_000016: "PEER-000016" => agreeing;
    val_peer_000020: "PEER-000020" => agreeing;
    val_peer_000024: "PEER-000024" => agreeing;
    val_peer_000028: "PEER-000028" => agreeing;
    val_peer_000032: "PEER-000032" => agreeing;
    val_peer_000036: "PEER-000036" => agreeing;
    val_peer_000040: "PEER-000040" => agreeing;
    val_peer_000044: "PEER-000044" => agreeing;
    val_peer_000048: "PEER-000048" => agreeing;
    val_peer_000052: "PEER-000052" => agreeing;
    val_peer_000056: "PEER-000056" => agreeing;
    val_peer_000060: "PEER-000060" => agreeing;
    val_peer_000064: "PEER-000064" => agreeing;
    val_peer_000068: "PEER-000068" => agreeing;
    val_peer_000072: "PEER-000072" => agreeing;
    val_peer_000076: "PEER-000076" => agreeing;
    val_peer_000080: "PEER-000080" => agreeing;
    val_peer_000084: "PEER-000084" => agreeing;
    val_peer_000092: "PEER-000092" => agreeing;
    val_peer_000096: "PEER-000096" => agreeing;
}
