//! Rules on air at high points and on vents.

use super::case::{Case, three};
use crate::support::layouts::{at, bare, drain, pump, run, submerged, two_tanks, upstand};
use fallwright::finding::{Code, Severity};
use fallwright::geometry::Corner;
use fallwright::layout::Direction;
use fallwright::state::State;
use fallwright::states::report::{Control, DepthPoint, RunAir, WithSpill};

/// What the drain here would pass if it were full, m³/s.
const FULL_M3_S: f64 = 0.001;

/// Air in the drain at a height, with what passes; the upper tank stands at 1.0 m.
fn airy(high_m: f64, flow_m3_s: f64) -> Case {
    let mut over = drain();
    over.route = vec![Corner::at(1.0, 0.0, high_m)];
    let mut case = Case::new(two_tanks(vec![over]));
    let run = case.run("drain");
    run.flow_m3_s = flow_m3_s;
    run.air = Some(RunAir {
        primed: false,
        high_m,
        distance_m: 1.5,
        shut_in: true,
        full_flow_m3_s: FULL_M3_S,
        missing_head_m: 0.25,
    });
    case
}

#[test]
fn air_that_is_shut_in_takes_flow() {
    let share = |share: f64| airy(0.8, share * FULL_M3_S);
    let one = three(Code::AirLock, share, [0.95, 0.9, 0.89]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!(one.measured, Some(0.89 * FULL_M3_S));
    assert_eq!(one.limit, Some(FULL_M3_S));
    assert_eq!(one.about, ["drain".into()]);
    let text = share(0.89).read(&one);
    assert!(text.contains("1.50 m from upper, at 800 mm"), "{text}");
    let stopped = share(0.0).found(Code::AirLock).remove(0);
    assert_eq!(stopped.severity, Severity::Problem);
    assert!(share(0.0).found(Code::NoFlow).is_empty(), "told once");
}

#[test]
fn air_that_is_not_shut_in_or_was_cleared_is_no_lock() {
    let mut open = airy(0.8, 0.0);
    open.run("drain").air.as_mut().unwrap().shut_in = false;
    assert!(open.found(Code::AirLock).is_empty());
    let mut cleared = airy(0.8, 0.0);
    cleared.run("drain").air.as_mut().unwrap().primed = true;
    assert!(cleared.found(Code::AirLock).is_empty());
}

#[test]
fn a_pump_can_push_against_air_too() {
    let mut case = airy(0.8, 0.5 * FULL_M3_S);
    case.layout.runs[0].pump = Some(pump(Direction::Forward));
    case.run("drain").control = Control::Pumped;
    assert_eq!(case.found(Code::AirLock).len(), 1);
}

#[test]
fn a_siphon_that_nobody_filled() {
    let high = |high_m: f64| airy(high_m, 0.0);
    let one = three(Code::MayNeverPrime, high, [0.9, 1.0, 1.1]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!((one.measured, one.limit), (Some(1.1), Some(1.0)));
    assert_eq!(one.about, ["drain".into(), "upper".into()]);
    // It is told of once, and as what it is.
    for code in [Code::AirLock, Code::NoFlow, Code::RunClimbs] {
        assert!(high(1.1).found(code).is_empty(), "{code:?}");
    }
}

#[test]
fn a_siphon_over_the_rim_is_a_problem_where_its_vessel_spills() {
    // The rim is at 1.5 m.
    let spills = |high_m: f64| {
        let mut case = airy(high_m, 0.5 * FULL_M3_S);
        case.vessel("upper").level_m = Some(1.6);
        case.vessel("upper").with_spill = Some(WithSpill {
            level_m: 1.5,
            spill_m3_s: 0.001,
            lost_m3: 0.5,
            first_spill_s: Some(60.0),
        });
        case
    };
    let one = three(Code::MayNeverPrime, spills, [1.4, 1.5, 1.7]);
    assert_eq!(one.severity, Severity::Problem);
    assert_eq!((one.measured, one.limit), (Some(1.7), Some(1.5)));
}

/// A drain with a vented corner at 0.5 m, where its grade stands at 0.75 m; its bore is 0.1 m.
fn vented_corner(top_m: Option<f64>) -> Case {
    let mut over = drain();
    over.route = vec![Corner {
        vented: true,
        vent_top_m: top_m,
        ..Corner::at(1.0, 0.0, 0.5)
    }];
    let mut case = Case::new(two_tanks(vec![over]));
    let share = case.facts[0].corners[1].0;
    let run = case.run("drain");
    let distance_m = share * run.length_m;
    run.profile = [0.0, distance_m, run.length_m]
        .map(|distance_m| DepthPoint {
            distance_m,
            depth_m: 0.1,
            grade_m: 0.75,
            velocity_m_s: 0.1,
            invert_m: None,
        })
        .to_vec();
    case
}

#[test]
fn a_vent_on_a_corner_under_the_grade_spills() {
    let top = |top_m: f64| vented_corner(Some(top_m));
    let one = three(Code::VentSpills, top, [0.9, 0.75, 0.74]);
    assert_eq!(one.severity, Severity::Problem);
    assert_eq!((one.measured, one.limit), (Some(0.75), Some(0.74)));
    assert_eq!(one.about, ["drain".into()]);
    // Without a pipe of its own it is open at the crown.
    let at_crown = vented_corner(None).found(Code::VentSpills).remove(0);
    assert_eq!(at_crown.limit, Some(0.6));
    let mut dry = vented_corner(None);
    dry.run("drain").control = Control::Dry;
    assert!(dry.found(Code::VentSpills).is_empty());
}

#[test]
fn water_that_stands_leaves_at_a_vent_that_it_reaches() {
    let still = |level_m: f64| {
        let mut case = vented_corner(Some(1.25));
        case.vessel("upper").level_m = Some(level_m);
        let run = case.run("drain");
        (run.flow_m3_s, run.control) = (0.0, Control::Still);
        run.profile.clear();
        case.report.state = State::Rest;
        case
    };
    // The crest of the drain is at 1.2 m: only water over it stands in the pipe behind.
    let one = three(Code::VentSpills, still, [1.21, 1.25, 1.26]);
    assert_eq!((one.measured, one.limit), (Some(1.26), Some(1.25)));
}

/// A vented joint at 0.3 m in pipe of 0.1 m, with water standing in it.
fn vented_joint((top_m, head_m): (Option<f64>, f64)) -> Case {
    let rise = run("rise", at("lower", submerged()), bare("tee"));
    let on = run("on", bare("tee"), at("upper", upstand(1.2)));
    let mut layout = two_tanks(vec![rise, on]);
    (layout.joints[0].vented, layout.joints[0].vent_top_m) = (true, top_m);
    let mut case = Case::new(layout);
    for id in ["rise", "on"] {
        case.run(id).flow_m3_s = 0.0;
    }
    case.report.joints[0].head_m = Some(head_m);
    case
}

#[test]
fn a_vent_on_a_joint_under_its_grade_spills() {
    let top = |top_m: f64| vented_joint((Some(top_m), 0.8));
    let one = three(Code::VentSpills, top, [0.9, 0.8, 0.79]);
    assert_eq!((one.measured, one.limit), (Some(0.8), Some(0.79)));
    assert_eq!(one.about, ["tee".into()]);
    let at_crown = |head_m: f64| vented_joint((None, head_m));
    let one = three(Code::VentSpills, at_crown, [0.3, 0.35, 0.36]);
    assert_eq!(one.limit, Some(0.35));
    // What moves has less grade than head: 2 m/s have 0.204 m.
    let mut moves = at_crown(0.5);
    for id in ["rise", "on"] {
        let run = moves.run(id);
        (run.flow_m3_s, run.velocity_m_s) = (0.0157, 2.0);
    }
    assert!(moves.found(Code::VentSpills).is_empty());
}
