//! Pumps: on, off, at their speed, and what lies before them.

use crate::support::layouts::{
    BORE_M, RUNNING, at, first_facts, first_law, pump, run, running, said, submerged, two_tanks,
    upstand,
};
use approx::assert_relative_eq;
use fallwright::catalogue::Catalogue;
use fallwright::evaluate;
use fallwright::finding::Code;
use fallwright::hydraulics::pump::Curve;
use fallwright::layout::{CurveForm, CurvePoint, Direction, Pump, Run, Suction};
use fallwright::lower::{Lowered, Pumps, Situation, lower};

fn rising_main(pump: Pump) -> Run {
    Run {
        pump: Some(pump),
        ..run("rise", at("lower", submerged()), at("upper", upstand(1.4)))
    }
}

fn lowered(pump: Pump, pumps: Pumps) -> Lowered {
    let layout = two_tanks(vec![rising_main(pump)]);
    let situation = Situation { pumps, ..RUNNING };
    lower(&layout, Catalogue::builtin(), situation)
}

fn total_k(lowered: &Lowered) -> f64 {
    let minors = &first_law(lowered).loss.minors;
    assert!(minors.iter().all(|minor| minor.bore_m == BORE_M));
    minors.iter().map(|minor| minor.k).sum()
}

#[test]
fn a_running_pump_has_its_curve_and_no_k() {
    let mut given = pump(Direction::Forward);
    given.stopped_k = 4.0;
    let on = lowered(given, Pumps::On);
    let law = first_law(&on).pump.clone().unwrap();
    assert!(!law.backward);
    assert_relative_eq!(law.curve.head(0.001).value, 2.0, max_relative = 1e-9);
    assert_eq!(total_k(&on), 1.5);
    assert!(first_facts(&on).pump_on);
}

#[test]
fn a_stopped_pump_is_an_open_pipe_with_its_own_k() {
    let mut given = pump(Direction::Forward);
    given.stopped_k = 4.0;
    let off = lowered(given.clone(), Pumps::Off);
    assert!(first_law(&off).pump.is_none());
    assert_eq!(total_k(&off), 5.5);
    let facts = first_facts(&off);
    assert!(!facts.pump_on);
    let curve = facts.pump_curve.as_ref().unwrap();
    assert_relative_eq!(curve.shut_off_head_m(), 3.0);
    given.speed = 0.0;
    let still = lowered(given, Pumps::On);
    assert!(first_law(&still).pump.is_none());
    assert_eq!(total_k(&still), 5.5);
}

#[test]
fn the_k_of_a_stopped_pump_counts_beside_a_total_k() {
    let mut given = pump(Direction::Forward);
    given.stopped_k = 4.0;
    let mut run = rising_main(given);
    run.total_k = Some(2.0);
    let situation = Situation {
        pumps: Pumps::Off,
        ..RUNNING
    };
    let off = lower(&two_tanks(vec![run]), Catalogue::builtin(), situation);
    assert_eq!(total_k(&off), 6.0);
}

#[test]
fn a_pump_that_pushes_against_the_drawing_is_turned() {
    let on = lowered(pump(Direction::Backward), Pumps::On);
    assert!(first_law(&on).pump.as_ref().unwrap().backward);
}

#[test]
fn speed_goes_by_the_affinity_laws() {
    // Half speed: half the flow, a quarter of the head.
    let mut half = pump(Direction::Forward);
    half.speed = 0.5;
    let lowered = lowered(half, Pumps::On);
    let curve = &first_law(&lowered).pump.as_ref().unwrap().curve;
    assert_relative_eq!(curve.head(0.0).value, 0.75, max_relative = 1e-9);
    assert_relative_eq!(curve.head(0.0005).value, 0.5, max_relative = 1e-9);
}

#[test]
fn a_power_curve_is_taken_as_given() {
    let mut power = pump(Direction::Forward);
    power.curve = CurveForm::Power {
        h0_m: 4.0,
        c: 1e6,
        n: 2.0,
    };
    let expected = Curve::Power {
        h0_m: 4.0,
        c: 1e6,
        n: 2.0,
    };
    let lowered = lowered(power, Pumps::On);
    assert_eq!(first_law(&lowered).pump.as_ref().unwrap().curve, expected);
}

fn points(points: &[(f64, f64)]) -> Pump {
    let points = points
        .iter()
        .map(|&(flow_m3_s, head_m)| CurvePoint { flow_m3_s, head_m });
    Pump {
        curve: CurveForm::Points(points.collect()),
        ..pump(Direction::Forward)
    }
}

fn codes(lowered: &Lowered) -> Vec<Code> {
    said(lowered).iter().map(|found| found.code).collect()
}

#[test]
fn a_label_is_computed_by_its_middle_and_told_as_a_guess() {
    let label = Pump {
        curve: CurveForm::Label {
            largest_head_m: 6.0,
            largest_flow_m3_s: 0.0025,
        },
        ..pump(Direction::Forward)
    };
    let edges = evaluate::edges_of_guess(&label.curve).unwrap();
    let lowered = lowered(label, Pumps::On);
    assert_eq!(codes(&lowered), [Code::CurveGuessed]);
    assert_eq!(said(&lowered)[0].about, ["lift".into(), "rise".into()]);
    let curve = &first_law(&lowered).pump.as_ref().unwrap().curve;
    // 6 · (1 − 0.4²)
    assert_relative_eq!(curve.head(0.001).value, 5.04, max_relative = 1e-12);
    // 32 of 80 pieces of the line: 0.4 of the largest flow.
    let [low, high] = edges.map(|edge| {
        let (flow_m3_s, head_m) = evaluate::line_of_curve(&edge).unwrap()[32];
        assert_relative_eq!(flow_m3_s, 0.001, max_relative = 1e-9);
        head_m
    });
    // 6 · (1 − 0.4^1.25) and 6 · (1 − 0.4³)
    assert_relative_eq!(low, 4.091_35, max_relative = 1e-5);
    assert_relative_eq!(high, 5.616, max_relative = 1e-12);
    assert_eq!(
        evaluate::edges_of_guess(&pump(Direction::Forward).curve),
        None
    );
}

#[test]
fn a_curve_that_rises_is_told_and_computed_as_level_there() {
    let rising = lowered(points(&[(0.0, 2.0), (0.001, 2.5), (0.002, 1.0)]), Pumps::On);
    assert_eq!(codes(&rising), [Code::CurveRises]);
    assert_eq!(said(&rising)[0].about, ["lift".into(), "rise".into()]);
    assert!(first_facts(&rising).curve_rises);
    let curve = &first_law(&rising).pump.as_ref().unwrap().curve;
    assert_relative_eq!(curve.head(0.0005).value, 2.5);
    let falling = lowered(pump(Direction::Forward), Pumps::On);
    assert!(codes(&falling).is_empty());
}

#[test]
fn a_curve_that_cannot_be_read_leaves_the_pump_standing_and_is_told() {
    for bad in [vec![], vec![(0.0, 2.0)], vec![(0.002, 1.0), (0.001, 2.0)]] {
        let lowered = lowered(points(&bad), Pumps::On);
        assert_eq!(codes(&lowered), [Code::PumpOffCurve]);
        assert!(first_law(&lowered).pump.is_none());
    }
}

#[test]
fn what_lies_before_the_pump_is_kept_for_its_suction() {
    let mut given = pump(Direction::Backward);
    given.suction = Some(Suction {
        elevation_m: 0.25,
        length_m: 1.5,
        total_k: 2.0,
    });
    let lowered = lowered(given, Pumps::On);
    let suction = first_facts(&lowered).suction.clone().unwrap();
    assert_eq!((suction.elevation_m, suction.end), (0.25, 1));
    assert_eq!(suction.loss.length_m, 1.5);
    // K alone, no friction: 2·V²/2g at 1 m/s.
    let flow = suction.loss.area_m2();
    assert_relative_eq!(
        suction.loss.parts(flow).minor_m,
        2.0 / (2.0 * 9.80665),
        max_relative = 1e-12
    );
    let plain = crate::support::layouts::drain();
    assert!(
        first_facts(&running(&two_tanks(vec![plain])))
            .suction
            .is_none()
    );
}
