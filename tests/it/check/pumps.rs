//! Rules on pumps.

use super::case::{Case, three};
use crate::support::layouts::{at, drain, pump, run, submerged, two_tanks, valve};
use fallwright::finding::{Code, Severity};
use fallwright::layout::{CrestKind, Direction, Opening, Rise, Turned, Vent};
use fallwright::states::report::Control;

/// A pump that draws from a mouth at 0.1 m in the lower tank.
fn loop_with_pump() -> Case {
    let intake = Opening::Mouth {
        lip_m: 0.1,
        turned: Turned::Down,
        bore_m: None,
        air_gap: false,
    };
    let mut rise = run("rise", at("lower", intake), at("upper", submerged()));
    rise.pump = Some(pump(Direction::Forward));
    let mut case = Case::new(two_tanks(vec![drain(), rise]));
    case.run("rise").control = Control::Pumped;
    case
}

#[test]
fn a_pump_that_moves_no_water() {
    let with = |flow_m3_s: f64| {
        let mut case = loop_with_pump();
        case.run("rise").flow_m3_s = flow_m3_s;
        case.run("rise").control = Control::Still;
        let lift = &mut case.report.pumps[0];
        (lift.flow_m3_s, lift.static_m) = (flow_m3_s, 3.2);
        case
    };
    let one = three(Code::PumpCannotLift, with, [0.001, 1.1e-7, 0.0]);
    assert_eq!(one.severity, Severity::Problem);
    assert_eq!((one.measured, one.limit), (Some(3.2), Some(3.0)));
    assert_eq!(one.about, ["lift".into(), "rise".into()]);
    let mut off = with(0.0);
    off.report.pumps[0].on = false;
    assert!(off.found(Code::PumpCannotLift).is_empty());
}

#[test]
fn a_shut_valve_is_named() {
    let mut case = loop_with_pump();
    case.layout.runs[1].valves = vec![valve("gate", 0.0)];
    case.run("rise").flow_m3_s = 0.0;
    case.run("rise").valve_open = Some(0.0);
    case.report.pumps[0].flow_m3_s = 0.0;
    let text = case.read(&case.found(Code::PumpCannotLift)[0]);
    assert!(text.contains("shut valve"), "{text}");
}

#[test]
fn a_check_valve_that_stands_the_wrong_way_is_named() {
    let mut case = loop_with_pump();
    case.run("rise").flow_m3_s = 0.0;
    case.report.pumps[0].flow_m3_s = 0.0;
    let words = |case: &Case| case.read(&case.found(Code::PumpCannotLift)[0]);
    case.layout.runs[1].check_valve = Some(Direction::Backward);
    let text = words(&case);
    assert!(text.contains("against its check valve"), "{text}");
    // One that stands right, or holds nothing back any more, is not what stops it.
    case.layout.runs[1].check_valve_failed = true;
    assert!(words(&case).contains("the lift is"));
    case.layout.runs[1].check_valve_failed = false;
    case.layout.runs[1].check_valve = Some(Direction::Forward);
    assert!(words(&case).contains("the lift is"));
}

/// The words never say that a pump gives more than it has to and cannot.
#[test]
fn a_pump_that_could_lift_and_moves_nothing_is_not_said_to_be_too_weak() {
    let words = |static_m: f64| {
        let mut case = loop_with_pump();
        case.run("rise").flow_m3_s = 0.0;
        let lift = &mut case.report.pumps[0];
        (lift.flow_m3_s, lift.static_m) = (0.0, static_m);
        case.read(&case.found(Code::PumpCannotLift)[0])
    };
    // At no flow it gives 3 m.
    assert!(words(3.2).contains(" cannot lift the water: the lift is 3.20 m"));
    assert!(words(1.2).contains(" moves no water: the lift is 1.20 m"));
}

fn duty(share_of_end: f64) -> Case {
    let mut case = loop_with_pump();
    case.layout.limits.most_share_of_curve = 0.8;
    case.report.pumps[0].flow_m3_s = 0.0015 * share_of_end;
    case
}

#[test]
fn a_duty_beyond_the_wanted_part_of_the_curve() {
    let one = three(Code::PumpOffCurve, duty, [0.5, 0.8, 0.81]);
    assert_eq!(one.severity, Severity::Warning);
    assert!((one.limit.unwrap() - 0.0012).abs() < 1e-12);
}

#[test]
fn a_duty_close_to_no_flow() {
    three(Code::PumpOffCurve, duty, [0.5, 0.1, 0.09]);
}

#[test]
fn a_pump_without_water_over_its_intake() {
    let level = |level_m: f64| {
        let mut case = loop_with_pump();
        case.report.pumps[0].suction_level_m = Some(level_m);
        case
    };
    let one = three(Code::PumpStarved, level, [0.2, 0.1001, 0.1]);
    assert_eq!(one.severity, Severity::Problem);
    assert_eq!(one.about, ["lift".into(), "rise".into(), "lower".into()]);
    let mut limited = level(0.11);
    limited.run("rise").control = Control::Inlet;
    assert_eq!(limited.found(Code::PumpStarved).len(), 1);
    let mut dry = level(0.05);
    dry.report.pumps[0].flow_m3_s = 0.0;
    assert!(
        dry.found(Code::PumpCannotLift).is_empty(),
        "told as starved"
    );
}

/// Under the crest of its raised intake it draws nothing, however much stands over the intake itself.
#[test]
fn a_pump_whose_water_stands_under_the_crest_of_its_intake() {
    let with = |level_m: f64| {
        let mut case = loop_with_pump();
        case.layout.runs[1].from.opening = Some(Opening::RaisedIntake {
            intake_m: 0.1,
            crest_m: 0.4,
            crest: CrestKind::default(),
            rise: Rise::default(),
            vent: Vent::default(),
        });
        case.run("rise").flow_m3_s = 0.0;
        case.run("rise").control = Control::Still;
        let lift = &mut case.report.pumps[0];
        (lift.flow_m3_s, lift.suction_level_m) = (0.0, Some(level_m));
        case
    };
    let one = three(Code::PumpStarved, with, [0.5, 0.4001, 0.4]);
    assert_eq!((one.measured, one.limit), (Some(0.4), Some(0.4)));
    let low = with(0.25);
    assert!(low.found(Code::PumpCannotLift).is_empty());
    let text = low.read(&low.found(Code::PumpStarved)[0]);
    assert!(
        text.contains(
            "too little water stands over the crest of its intake in lower, which is at 400 mm"
        ),
        "{text}"
    );
    // Once it draws, the intake alone counts.
    let mut primed = with(0.25);
    primed.run("rise").control = Control::Pumped;
    primed.report.pumps[0].flow_m3_s = 0.001;
    assert!(primed.found(Code::PumpStarved).is_empty());
}

#[test]
fn a_pump_driven_backwards() {
    let with = |flow_m3_s: f64| {
        let mut case = loop_with_pump();
        case.report.pumps[0].flow_m3_s = flow_m3_s;
        case
    };
    let one = three(Code::PumpDrivenBackward, with, [0.001, 0.0, -0.001]);
    assert_eq!(one.severity, Severity::Problem);
}

#[test]
fn little_left_to_draw_with() {
    let with = |left_m: f64| {
        let mut case = loop_with_pump();
        case.report.pumps[0].npsh_available_m = Some(left_m);
        case
    };
    let one = three(Code::Suction, with, [9.0, 1.0, 0.9]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!(
        with(-0.1).found(Code::Suction)[0].severity,
        Severity::Problem
    );
}

/// A pump that has and asks for so much, metres.
fn by_its_sheet(left_m: f64, asked_m: f64) -> Case {
    let mut case = loop_with_pump();
    case.report.pumps[0].npsh_available_m = Some(left_m);
    case.report.pumps[0].npsh_required_m = Some(asked_m);
    case
}

#[test]
fn a_pump_is_held_to_the_suction_head_of_its_own_sheet() {
    let with = |left_m: f64| by_its_sheet(left_m, 2.0);
    let one = three(Code::Suction, with, [3.0, 2.6, 2.5]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!((one.measured, one.limit), (Some(2.5), Some(2.6)));
    let severity = |left_m: f64| with(left_m).found(Code::Suction)[0].severity;
    assert_eq!(severity(2.0), Severity::Warning, "on the limit");
    assert_eq!(severity(1.9), Severity::Problem);
    let case = with(1.9);
    let text = case.read(&case.found(Code::Suction)[0]);
    assert!(text.contains("its sheet asks for 2.00 m"), "{text}");
    // With a sheet, one metre is no measure.
    let little = by_its_sheet(0.9, 0.2);
    assert!(little.found(Code::Suction).is_empty());
}
