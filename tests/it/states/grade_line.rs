//! The grade line of the examples and of small layouts.

use super::sound;
use crate::networks::solved;
use crate::support::layouts::{RUNNING, at, run, two_tanks, upstand};
use fallwright::catalogue::Catalogue;
use fallwright::layout::{Id, Layout, Opening, Turned};
use fallwright::lower::lower;
use fallwright::state::State;
use fallwright::states::report::{Control, StateReport};
use fallwright::states::{GradePoint, grade_line};

fn line(layout: &Layout, report: &StateReport, runs: &[Id]) -> Vec<GradePoint> {
    let lowered = lower(layout, Catalogue::builtin(), RUNNING);
    grade_line(layout, &lowered, report, runs).expect("the path holds together")
}

fn mouth(lip_m: f64) -> Opening {
    Opening::Mouth {
        lip_m,
        turned: Turned::Horizontal,
        bore_m: None,
        air_gap: false,
    }
}

/// Along every run of every example: from level to level, and never up but at a pump.
#[test]
fn prop_energy_falls_along_the_flow_except_at_a_pump() {
    let mut looked_at = 0;
    for layout in sound() {
        let report = solved(&layout, State::Running);
        for run in report.runs.iter().filter(|run| run.flow_m3_s.abs() > 1e-6) {
            let mut points = line(&layout, &report, std::slice::from_ref(&run.id));
            if run.flow_m3_s < 0.0 {
                points.reverse();
            }
            let energies: Option<Vec<f64>> = points.iter().map(|point| point.energy_m).collect();
            let energies = energies.expect("a run with water has a grade");
            let rise = |pair: &[f64]| pair[1] - pair[0];
            let ups: Vec<f64> = energies
                .windows(2)
                .map(rise)
                .filter(|up| *up > 1e-3)
                .collect();
            let pumped = usize::from(run.control == Control::Pumped);
            assert!(
                ups.len() <= pumped,
                "{}, {}: {ups:?} {points:?}",
                layout.title,
                run.id
            );
            looked_at += 1;
        }
    }
    assert!(looked_at > 20, "only {looked_at} runs");
}

#[test]
fn a_line_over_two_runs_meets_the_levels() {
    let first = run("first", at("upper", upstand(1.2)), at("lower", mouth(0.1)));
    let second = run(
        "second",
        at("lower", upstand(0.35)),
        at("ditch", mouth(-0.9)),
    );
    let mut layout = two_tanks(vec![second, first]);
    layout.vessels[0].make_up_m3_s = 0.001;
    let report = solved(&layout, State::Running);
    let path: Vec<Id> = vec!["first".into(), "second".into()];
    let points = line(&layout, &report, &path);
    let levels: Vec<(&str, f64)> = points
        .iter()
        .filter(|point| !path.contains(&point.at))
        .map(|point| (point.at.as_str(), point.grade_m.unwrap()))
        .collect();
    let level = |place: usize| report.vessels[place].level_m.unwrap();
    assert_eq!(
        levels,
        [
            ("upper", level(0)),
            ("lower", level(1)),
            ("lower", level(1)),
            ("ditch", -1.0)
        ]
    );
    let ordered = points
        .windows(2)
        .all(|pair| pair[0].distance_m <= pair[1].distance_m + 1e-9);
    assert!(ordered, "{points:?}");
    assert!((points.last().unwrap().distance_m - 8.0).abs() < 1e-9);
    // With no corners given it stands plumb below its upstand and then lies level: one invert to each place.
    let mut plumb = 0;
    for point in points.iter().filter(|point| point.at == path[0]) {
        let wanted_m = (1.2 - point.distance_m).max(0.1);
        let off_m = point.invert_m.unwrap() - wanted_m;
        assert!(off_m.abs() < 1e-9, "{point:?} and not {wanted_m}");
        plumb += usize::from(point.distance_m < 1.1);
    }
    assert!(plumb > 1, "{points:?}");
    // The other way it is the same line.
    let back: Vec<Id> = path.iter().rev().cloned().collect();
    let mut turned = line(&layout, &report, &back);
    turned.reverse();
    let grades =
        |points: &[GradePoint]| points.iter().map(|point| point.grade_m).collect::<Vec<_>>();
    assert_eq!(grades(&turned), grades(&points));
}

#[test]
fn a_path_that_does_not_hold_together_has_no_line() {
    let first = run("first", at("upper", upstand(1.2)), at("lower", mouth(0.1)));
    let layout = two_tanks(vec![first]);
    let report = solved(&layout, State::Running);
    let lowered = lower(&layout, Catalogue::builtin(), RUNNING);
    let none = grade_line(
        &layout,
        &lowered,
        &report,
        &["first".into(), "other".into()],
    );
    assert_eq!(none, None);
    assert_eq!(
        grade_line(&layout, &lowered, &report, &[]),
        Some(Vec::new())
    );
}
