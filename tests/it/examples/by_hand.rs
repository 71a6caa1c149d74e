//! `docs/check-by-hand.md`, held to the program.

use super::{example, run, running, vessel};
use fallwright::states::report::StateReport;

const PAGE: &str = include_str!("../../../docs/check-by-hand.md");

/// Every figure of the page by its words, and what the program says.
fn figures(report: &StateReport) -> Vec<(&'static str, f64)> {
    let level_m = |id| vessel(report, id).level_m.expect("a level");
    let pump = &report.pumps[0];
    let lost = |words: &[&str]| -> f64 {
        let items = pump.losses.iter();
        let items = items.filter(|item| words.iter().any(|word| item.what.contains(word)));
        items.map(|item| item.head_m).sum()
    };
    let equipment_m = lost(&["Pressure filter", "Heater"]);
    let all_m: f64 = pump.losses.iter().map(|item| item.head_m).sum();
    let pipe_m = pump.losses.iter().find(|item| item.what == "pipe");
    let pipe_m = pipe_m.expect("a pipe").head_m;
    let overflow = run(report, "header-overflow").capacity_at_rim_m3_s;
    vec![
        (
            "rise over Cress upstand 3, mm",
            1e3 * (level_m("cress-3") - 1.155),
        ),
        ("level of Cress bed 3, mm", 1e3 * level_m("cress-3")),
        (
            "rise over the upstands of the trench, mm",
            1e3 * (level_m("trench") - 0.93),
        ),
        ("level of the trench, mm", 1e3 * level_m("trench")),
        (
            "Header overflow with the header at its rim, L/s",
            1e3 * overflow.expect("a capacity"),
        ),
        ("duty flow, m³/h", 3600.0 * pump.flow_m3_s),
        ("static lift, m", pump.static_m),
        ("loss in the filter and the heater, m", equipment_m),
        ("loss in the pipe, m", pipe_m),
        (
            "loss in fittings, valves and ends, m",
            all_m - pipe_m - equipment_m,
        ),
        ("total dynamic head, m", pump.head_m),
    ]
}

/// A row: figure, by hand, program.
type Row = (&'static str, &'static str, &'static str);

/// Rows of the tables headed `| figure | by hand | program |`; other tables are steps on the way.
fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    let mut counts = false;
    for line in PAGE.lines() {
        let inner = line.strip_prefix('|').and_then(|one| one.strip_suffix('|'));
        let cells = inner.map(|inner| inner.split('|').map(str::trim).collect::<Vec<_>>());
        match cells.as_deref() {
            Some(["figure", "by hand", "program"]) => counts = true,
            Some([rule, ..]) if rule.starts_with("--") => {}
            Some(&[figure, hand, program]) if counts => rows.push((figure, hand, program)),
            _ => counts = false,
        }
    }
    rows
}

/// Half a unit of the last digit written, and a hair.
fn rounding(written: &str) -> f64 {
    let decimals = written.split('.').nth(1).map_or(0, str::len);
    0.501 * 10f64.powi(-(decimals as i32))
}

#[test]
fn val_three_answers_by_hand() {
    let figures = figures(running(&example("glasshouse").evaluation));
    let rows = rows();
    let told: Vec<&str> = rows.iter().map(|row| row.0).collect();
    let known: Vec<&str> = figures.iter().map(|figure| figure.0).collect();
    assert_eq!(told, known, "the page has every figure once, in this order");
    for ((what, hand, program), (_, computed)) in rows.into_iter().zip(figures) {
        let printed: f64 = program.parse().expect("a number");
        let off = (printed - computed).abs();
        assert!(
            off <= rounding(program),
            "{what}: {computed}, not {program}"
        );
        let by_hand: f64 = hand.parse().expect("a number");
        let allowed = if what.starts_with("level of") {
            1.0
        } else {
            0.01 * computed.abs()
        };
        let off = (by_hand - computed).abs();
        assert!(off <= allowed, "{what}: {computed}, by hand {by_hand}");
    }
}
