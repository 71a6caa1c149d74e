//! Rules on runs.

use super::case::{Case, three};
use crate::support::layouts::{at, bare, drain, pump, run, submerged, two_tanks, upstand, valve};
use fallwright::finding::{Code, Severity};
use fallwright::geometry::Corner;
use fallwright::layout::{CrestKind, Direction, Friction, Opening, Rise, Turned, Vent};
use fallwright::state::State;
use fallwright::states::report::{Control, Regime, Surge};

fn plain() -> Case {
    Case::new(two_tanks(vec![drain()]))
}

fn at_velocity(velocity_m_s: f64) -> Case {
    let mut case = plain();
    case.run("drain").velocity_m_s = velocity_m_s;
    case
}

#[test]
fn too_fast_where_water_falls() {
    let one = three(Code::TooFast, at_velocity, [1.0, 1.5, 1.6]);
    assert_eq!((one.severity, one.limit), (Severity::Warning, Some(1.5)));
    assert_eq!(at_velocity(-1.6).found(Code::TooFast).len(), 1);
}

#[test]
fn a_branch_behind_a_pump_is_held_to_the_limit_of_pumped_runs() {
    let mut rise = run("rise", at("lower", submerged()), bare("tee"));
    rise.pump = Some(pump(Direction::Forward));
    let branch = run("branch", bare("tee"), at("upper", upstand(1.6)));
    let with = |velocity_m_s: f64| {
        let mut layout = two_tanks(vec![rise.clone(), branch.clone(), drain()]);
        layout.limits.pumped_velocity_m_s = 1.0;
        let mut case = Case::new(layout);
        case.run("branch").velocity_m_s = velocity_m_s;
        case.run("drain").velocity_m_s = 1.2;
        case
    };
    let one = three(Code::TooFast, with, [0.9, 1.0, 1.1]);
    assert_eq!(one.about, ["branch".into()]);
}

#[test]
fn too_slow_for_solids() {
    let carrying = |velocity_m_s: f64| {
        let mut case = at_velocity(velocity_m_s);
        case.layout.runs[0].carries_solids = true;
        case
    };
    let one = three(Code::TooSlow, carrying, [0.5, 0.3, 0.29]);
    assert_eq!((one.severity, one.limit), (Severity::Warning, Some(0.3)));
    assert!(
        at_velocity(0.1).found(Code::TooSlow).is_empty(),
        "carries none"
    );
}

#[test]
fn hazen_williams_above_its_velocity() {
    let by_formula = |velocity_m_s: f64| {
        let mut case = at_velocity(velocity_m_s);
        case.layout.runs[0].friction = Some(Friction::HazenWilliams);
        case
    };
    let one = three(Code::HazenWilliamsRange, by_formula, [2.0, 3.0, 3.1]);
    assert_eq!((one.severity, one.limit), (Severity::Warning, Some(3.0)));
    assert!(at_velocity(3.1).found(Code::HazenWilliamsRange).is_empty());
}

#[test]
fn a_run_that_flows_backward() {
    let with = |flow_m3_s: f64| {
        let mut case = plain();
        case.run("drain").flow_m3_s = flow_m3_s;
        case
    };
    let one = three(Code::FlowsBackward, with, [0.001, 0.0, -0.001]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!(one.about, ["drain".into(), "lower".into(), "upper".into()]);
    let mut resting = with(-0.001);
    resting.report.state = State::Rest;
    assert!(resting.found(Code::FlowsBackward).is_empty());
}

/// A drain and a second one that carries nothing.
fn idle(control: Control) -> Case {
    let second = run(
        "second",
        at("upper", upstand(1.3)),
        at("lower", submerged()),
    );
    let mut case = Case::new(two_tanks(vec![drain(), second]));
    case.run("second").flow_m3_s = 0.0;
    case.run("second").control = control;
    case
}

#[test]
fn a_parallel_drain_that_stands_dry_is_a_note() {
    let found = idle(Control::Dry).found(Code::NoFlow);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].severity, Severity::Note);
    let text = idle(Control::Dry).read(&found[0]);
    assert!(text.contains("stands 300 mm below its crest"), "{text}");
}

#[test]
fn the_only_drain_that_carries_nothing_is_a_warning() {
    let with = |flow_m3_s: f64| {
        let mut case = plain();
        case.run("drain").flow_m3_s = flow_m3_s;
        case.run("drain").control = Control::Dry;
        // Else it is no run that carries nothing, but a layout in which nothing flows.
        case.layout.vessels[0].make_up_m3_s = 1e-4;
        case
    };
    let one = three(Code::NoFlow, with, [0.001, 1.1e-7, 0.0]);
    assert_eq!(one.severity, Severity::Warning);
}

#[test]
fn a_shut_valve_is_meant_and_a_check_valve_is_noted() {
    let mut case = idle(Control::Shut);
    assert_eq!(case.found(Code::NoFlow).len(), 1);
    case.run("second").valve_open = Some(0.0);
    assert!(case.found(Code::NoFlow).is_empty());
}

#[test]
fn an_air_gap_under_water() {
    let mouth = Opening::Mouth {
        lip_m: 0.35,
        turned: Turned::Down,
        bore_m: None,
        air_gap: true,
    };
    let level = |level_m: f64| {
        let top_up = run(
            "top-up",
            at("upper", submerged()),
            at("lower", mouth.clone()),
        );
        let mut case = Case::new(two_tanks(vec![drain(), top_up]));
        case.vessel("lower").level_m = Some(level_m);
        case
    };
    let one = three(Code::AirGapDrowned, level, [0.3, 0.35, 0.36]);
    assert_eq!(one.severity, Severity::Problem);
    assert_eq!((one.measured, one.limit), (Some(0.36), Some(0.35)));
    let mut resting = level(0.36);
    resting.report.state = State::Rest;
    assert_eq!(
        resting.found(Code::AirGapDrowned).len(),
        1,
        "at rest as well"
    );
}

fn by_way_of(z_m: f64) -> Case {
    let mut over = drain();
    over.route = vec![Corner::at(1.0, 0.0, z_m)];
    Case::new(two_tanks(vec![over]))
}

#[test]
fn a_run_that_climbs_over_its_feed() {
    let one = three(Code::RunClimbs, by_way_of, [0.9, 1.0, 1.1]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!((one.measured, one.limit), (Some(1.1), Some(1.0)));
}

/// The lower level is 0.2 m and the loss is the velocity head alone, so the grade is 0.2 m all along.
fn siphon(top_m: f64) -> Case {
    let mut case = by_way_of(top_m);
    let velocity_m_s = case.run("drain").velocity_m_s;
    case.run("drain").loss_m = velocity_m_s * velocity_m_s / (2.0 * 9.80665);
    case
}

#[test]
fn suction_at_a_high_point() {
    let one = three(Code::Suction, siphon, [3.0, 3.2, 3.3]);
    assert_eq!(one.severity, Severity::Warning);
    assert!((one.measured.unwrap() - 3.1).abs() < 1e-9);
    // 101 325 Pa carry 10.332 m of this water.
    assert_eq!(
        siphon(10.5).found(Code::Suction)[0].severity,
        Severity::Warning
    );
    let broken = siphon(10.6).found(Code::Suction);
    assert_eq!(broken[0].severity, Severity::Problem);
    assert!((broken[0].limit.unwrap() - 101_325.0 / 9806.65).abs() < 1e-9);
    let mut airy = siphon(3.3);
    airy.run("drain").regime = Regime::PartFull;
    assert!(airy.found(Code::Suction).is_empty());
}

#[test]
fn losses_after_the_high_point_hold_the_grade_up() {
    let mut case = siphon(3.3);
    case.run("drain").loss_m += 1.0;
    assert!(case.found(Code::Suction).is_empty());
}

#[test]
fn suction_at_a_joint() {
    let with = |head_m: f64| {
        let mut case = plain();
        case.report.joints[0].head_m = Some(head_m);
        case
    };
    // The joint is at 0.3 m.
    let one = three(Code::Suction, with, [0.0, -2.7, -2.8]);
    assert_eq!(one.about, ["tee".into()]);
}

fn vented(top_m: f64) -> Case {
    let raised = Opening::RaisedIntake {
        intake_m: 0.6,
        crest_m: 0.95,
        crest: CrestKind::Tee,
        rise: Rise::default(),
        vent: Vent::OpenTo { top_m },
    };
    let over = run("over", at("upper", raised), at("lower", submerged()));
    let mut case = Case::new(two_tanks(vec![over]));
    case.run("over").flow_m3_s = 0.0;
    case
}

#[test]
fn a_vent_under_the_grade_spills() {
    let one = three(Code::VentSpills, vented, [1.1, 1.0, 0.99]);
    assert_eq!(one.severity, Severity::Problem);
    assert_eq!((one.measured, one.limit), (Some(1.0), Some(0.99)));
}

#[test]
fn the_rising_leg_takes_head_off_the_vent() {
    let mut case = vented(0.99);
    // 20 L/s in the bore of 100 mm that runs here have: V²/2g = 0.33 m, and half of it at the entrance alone.
    case.run("over").flow_m3_s = 0.02;
    assert!(case.found(Code::VentSpills).is_empty());
}

#[test]
fn a_run_with_a_shut_valve_may_climb() {
    let mut case = by_way_of(1.1);
    case.layout.runs[0].valves = vec![valve("gate", 0.0)];
    case.run("drain").valve_open = Some(0.0);
    assert!(case.found(Code::RunClimbs).is_empty());
}

#[test]
fn an_upstand_that_surges_is_told_with_both_levels() {
    assert!(plain().found(Code::Surges).is_empty());
    let mut case = plain();
    let surge = Surge {
        low_m: 1.25,
        likely_m: 1.31,
        high_m: 1.31,
        gulp_m3: 0.01,
        room_m3: Some(1.0),
    };
    case.run("drain").surge = Some(surge);
    let one = &case.found(Code::Surges)[0];
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!((one.measured, one.limit), (Some(1.31), Some(1.25)));
    assert_eq!(one.about, ["upper".into(), "drain".into()]);
    let said = |case: &Case| case.read(&case.found(Code::Surges)[0]);
    let plain = said(&case);
    assert!(
        !plain.contains("Most likely") && !plain.contains("rim") && !plain.contains("surge is"),
        "{plain}"
    );
    // The likely level apart from the highest, the rim between the two, and a gulp that has no room below.
    let rim_m = case.layout.vessels[0].rim_m;
    let between = Surge {
        likely_m: rim_m,
        high_m: rim_m + 0.1,
        gulp_m3: 2.0,
        ..surge
    };
    case.run("drain").surge = Some(between);
    let told = said(&case);
    for words in [
        "Most likely it stands at",
        "Its rim at",
        "One surge is",
        "has room for",
    ] {
        assert!(told.contains(words), "{told}");
    }
    // A rim as high as the highest level holds it, and so does room for just the gulp.
    case.run("drain").surge = Some(Surge {
        high_m: rim_m,
        likely_m: 1.27,
        room_m3: Some(2.0),
        ..between
    });
    let told = said(&case);
    assert!(
        !told.contains("Its rim") && !told.contains("One surge"),
        "{told}"
    );
}
