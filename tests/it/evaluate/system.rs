//! System curves: held to sums done by hand, and to what must be true of each.

use super::demo;
use crate::support::layouts::{at, fixed, pump, run, submerged};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{SystemCurve, system_curve};
use fallwright::layout::{Direction, Friction, Id, Layout, Opening, Pipe, Turned};

const LIFT_M: f64 = 1.7;
const LENGTH_M: f64 = 42.0;
const BORE_M: f64 = 0.04;
const C: f64 = 140.0;
const TOTAL_K: f64 = 6.5;

/// Water over the intake of the demo as it runs, m, in place of what there is.
const COVER_M: f64 = 0.07;

/// From a lake at 0 up to one at 1.7 m, by one run.
fn one_run() -> Layout {
    let mut lift = run("riser", at("low", submerged()), at("high", submerged()));
    lift.pump = Some(pump(Direction::Forward));
    lift.pipe = Pipe::Own {
        bore_m: BORE_M,
        roughness_m: None,
        hazen_williams_c: Some(C),
    };
    lift.length_m = Some(LENGTH_M);
    lift.total_k = Some(TOTAL_K);
    Layout {
        fixed: vec![fixed("low", 0.0), fixed("high", LIFT_M)],
        runs: vec![lift],
        friction: Friction::HazenWilliams,
        ..Layout::default()
    }
}

fn curve(layout: &Layout, pump: &str) -> SystemCurve {
    system_curve(layout, Catalogue::builtin(), &pump.into(), &|| true).unwrap()
}

/// Lift, Hazen–Williams and ΣK·V²/2g, as they are printed.
fn by_hand_m(flow_m3_s: f64, bore_m: f64, c: f64) -> f64 {
    let friction_m = 10.67 * LENGTH_M * (flow_m3_s / c).powf(1.852) / bore_m.powf(4.8704);
    let velocity_m_s = flow_m3_s / (std::f64::consts::PI * bore_m * bore_m / 4.0);
    LIFT_M + friction_m + TOTAL_K * velocity_m_s * velocity_m_s / (2.0 * 9.80665)
}

#[test]
fn val_a_system_curve_is_the_lift_and_the_losses_of_its_run() {
    let found = curve(&one_run(), "lift").clean;
    assert!(found.len() > 6, "{found:?}");
    assert_eq!((found[0].flow_m3_s, found[0].head_m), (0.0, LIFT_M));
    for point in &found[1..] {
        let by_hand_m = by_hand_m(point.flow_m3_s, BORE_M, C);
        assert!(
            (point.head_m - by_hand_m).abs() < 1e-5,
            "{point:?}: {by_hand_m}"
        );
        assert!((point.static_m - LIFT_M).abs() < 1e-9);
    }
}

#[test]
fn it_goes_from_no_flow_over_the_duty_to_the_end_of_the_curve() {
    let found = curve(&one_run(), "lift");
    for line in [&found.clean, &found.dirty] {
        let own = line.iter().find(|point| (point.speed - 1.0).abs() < 1e-12);
        assert!(own.is_some_and(|own| own.flow_m3_s > 0.0), "{line:?}");
        let last = line.last().unwrap();
        let ends = last.flow_m3_s > 0.0015 * 0.99 || last.head_m > 3.0 * 1.25;
        assert!(ends, "{last:?}");
        let rises = |pair: &[fallwright::evaluate::SystemPoint]| {
            pair[0].flow_m3_s < pair[1].flow_m3_s && pair[0].head_m < pair[1].head_m
        };
        assert!(line.windows(2).all(rises), "{line:?}");
    }
}

#[test]
fn prop_dirt_takes_more_head_at_every_flow() {
    for (layout, pump) in [(one_run(), "lift"), (demo(), pump_of(&demo()).as_str())] {
        let found = curve(&layout, pump);
        let clean = |flow: f64| {
            let pair = found
                .clean
                .windows(2)
                .find(|pair| pair[1].flow_m3_s >= flow)?;
            let share = (flow - pair[0].flow_m3_s) / (pair[1].flow_m3_s - pair[0].flow_m3_s);
            Some(pair[0].head_m + share * (pair[1].head_m - pair[0].head_m))
        };
        let mut looked_at = 0;
        for point in found.dirty.iter().skip(1) {
            if let Some(clean_m) = clean(point.flow_m3_s) {
                // A chord lies over a curve that bends upwards.
                assert!(point.head_m > clean_m - 0.02, "{point:?}: {clean_m}");
                looked_at += 1;
            }
        }
        assert!(looked_at > 3, "{looked_at}");
    }
}

fn pump_of(layout: &Layout) -> Id {
    let mut pumps = layout.runs.iter().filter_map(|run| run.pump.as_ref());
    pumps.next().unwrap().id.clone()
}

#[test]
fn the_duty_of_the_demo_lies_on_it() {
    let layout = demo();
    let pump = pump_of(&layout);
    let found = curve(&layout, pump.as_str());
    let report = super::running(&layout);
    let duty = report.pumps.iter().find(|one| one.id == pump).unwrap();
    let own = found
        .clean
        .iter()
        .find(|point| (point.speed - 1.0).abs() < 1e-12);
    let own = own.unwrap();
    assert!((own.flow_m3_s - duty.flow_m3_s).abs() < 1e-8);
    assert!((own.head_m - duty.head_m).abs() < 1e-6);
}

#[test]
fn a_pump_that_cannot_lift_has_a_system_curve_over_its_own() {
    let mut layout = one_run();
    layout.fixed[1].level_m = 3.4;
    let found = curve(&layout, "lift").clean;
    assert_eq!((found[0].flow_m3_s, found[0].head_m), (0.0, 3.4));
    assert!(found[1].speed > 1.0, "{found:?}");
}

#[test]
fn where_nothing_can_flow_there_is_none() {
    let mut layout = one_run();
    layout.runs[0].valves = vec![crate::support::layouts::valve("ball valve", 0.0)];
    assert_eq!(curve(&layout, "lift").clean, []);
}

#[test]
fn it_is_given_up_when_nobody_wants_it_any_longer() {
    let asked = std::cell::Cell::new(0);
    let go_on = || {
        asked.set(asked.get() + 1);
        asked.get() < 4
    };
    let found = system_curve(&one_run(), Catalogue::builtin(), &"lift".into(), &go_on);
    assert_eq!((found, asked.get()), (None, 4));
    let none = system_curve(&one_run(), Catalogue::builtin(), &"nobody".into(), &|| true);
    assert_eq!(none, None);
}

#[test]
fn where_the_intake_lets_no_more_through_it_ends_without_the_head_that_is_left() {
    // So little stands over it that the weir round its lip holds a faster pump.
    let mut layout = demo();
    let pit_m = super::running(&layout)
        .vessels
        .iter()
        .find(|one| one.id.as_str() == "pit")
        .and_then(|one| one.level_m)
        .unwrap();
    for run in layout.runs.iter_mut().filter(|run| run.pump.is_some()) {
        run.from.opening = Some(Opening::Mouth {
            lip_m: pit_m - COVER_M,
            turned: Turned::Down,
            bore_m: None,
            air_gap: false,
        });
    }
    let found = curve(&layout, pump_of(&layout).as_str()).clean;
    let last = found.last().unwrap();
    assert!(
        last.is_limit && found.iter().filter(|point| point.is_limit).count() == 1,
        "{found:?}"
    );
    // The same by a pump that starves: no more flows, and what head it has left is not used.
    let mut fast = layout.clone();
    for pump in fast.runs.iter_mut().filter_map(|run| run.pump.as_mut()) {
        pump.speed = 1.3;
    }
    let report = super::running(&fast);
    assert!(
        (report.pumps[0].flow_m3_s - last.flow_m3_s).abs() < 2e-6,
        "{last:?}"
    );
    let lift = report
        .runs
        .iter()
        .find(|run| run.id == report.pumps[0].run)
        .unwrap();
    let taken_m = report.pumps[0].head_m - lift.free_drop_m;
    assert!(
        lift.free_drop_m > 1.0 && (taken_m - last.head_m).abs() < 0.01,
        "{taken_m} {last:?}"
    );
}
