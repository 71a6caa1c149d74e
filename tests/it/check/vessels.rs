//! Rules on vessels.

use super::case::{Case, three};
use crate::support::layouts::{at, drain, joint, pump, run, submerged, two_tanks, upstand};
use fallwright::finding::{Code, Severity};
use fallwright::layout::{Direction, Role};
use fallwright::state::State;
use fallwright::states::report::{Control, WithSpill};
use fallwright::units::Quantity;

fn plain() -> Case {
    Case::new(two_tanks(vec![drain()]))
}

fn with_level(level_m: f64) -> Case {
    let mut case = plain();
    case.vessel("upper").level_m = Some(level_m);
    case
}

#[test]
fn a_level_over_the_rim_spills() {
    let one = three(Code::Spills, with_level, [1.4, 1.5, 1.501]);
    assert_eq!(one.severity, Severity::Problem);
    assert_eq!((one.measured, one.limit), (Some(1.501), Some(1.5)));
    assert_eq!(
        (one.quantity, one.state),
        (Quantity::Height, State::Running)
    );
    assert_eq!(one.about[0].as_str(), "upper");
}

#[test]
fn a_rim_without_length_never_spills() {
    let mut case = with_level(1.6);
    case.layout.vessels[0].rim_perimeter_m = Some(0.0);
    assert!(case.found(Code::Spills).is_empty());
    assert!(case.found(Code::LittleFreeboard).is_empty());
}

#[test]
fn what_is_lost_is_said() {
    let mut case = with_level(1.514);
    case.layout.vessels[0].name = "Cress 2".to_owned();
    case.run("drain").control = Control::Inlet;
    case.vessel("upper").with_spill = Some(WithSpill {
        level_m: 1.502,
        spill_m3_s: 0.012 / 60.0,
        lost_m3: 0.2,
        first_spill_s: Some(10.0),
    });
    let text = case.read(&case.found(Code::Spills)[0]);
    let wanted = "Cress 2 spills: its level stands 14 mm over the rim while running, held up by the crest \
                  of drain in Cress 2 at 1200 mm. It loses 0.720 m³/h.";
    assert_eq!(text, wanted);
}

#[test]
fn at_rest_it_says_so() {
    let mut case = with_level(1.6);
    case.report.state = State::Rest;
    case.run("drain").flow_m3_s = 0.0;
    case.run("drain").control = Control::Still;
    let text = case.read(&case.found(Code::Spills)[0]);
    assert!(
        text.starts_with("upper spills: its level stands 100 mm over the rim at rest, because"),
        "{text}"
    );
}

#[test]
fn water_lost_on_the_way_is_a_spill_too() {
    let lost = |lost_m3| {
        let mut case = plain();
        case.vessel("upper").with_spill = Some(WithSpill {
            level_m: 1.0,
            spill_m3_s: 0.0,
            lost_m3,
            first_spill_s: Some(3.0),
        });
        case
    };
    let one = three(Code::Spills, lost, [0.0, 1e-4, 0.02]);
    assert_eq!((one.measured, one.quantity), (Some(0.02), Quantity::Volume));
}

#[test]
fn a_splash_is_only_a_note() {
    // Two vessels with as much water as is said: a ten-thousandth of it is the other limit.
    let severity = |lost_m3: f64, water_m3: f64| {
        let mut case = plain();
        for vessel in &mut case.report.vessels {
            vessel.volume_m3 = Some(0.5 * water_m3);
        }
        case.vessel("upper").with_spill = Some(WithSpill {
            level_m: 1.0,
            spill_m3_s: 0.0,
            lost_m3,
            first_spill_s: Some(3.0),
        });
        case.found(Code::Spills)[0].severity
    };
    assert_eq!(severity(0.0009, 20.0), Severity::Note);
    assert_eq!(severity(0.001, 20.0), Severity::Problem, "on the limit");
    assert_eq!(severity(0.0011, 20.0), Severity::Problem);
    assert_eq!(severity(0.0002, 2.0), Severity::Problem, "on the limit");
    assert_eq!(severity(0.0002, 2.1), Severity::Note);
    assert_eq!(severity(0.0005, 2.0), Severity::Problem);
}

#[test]
fn a_vessel_that_is_brim_full_after_a_splash_has_little_freeboard() {
    let mut case = with_level(1.5);
    for vessel in &mut case.report.vessels {
        vessel.volume_m3 = Some(10.0);
    }
    case.vessel("upper").with_spill = Some(WithSpill {
        level_m: 1.5,
        spill_m3_s: 0.0,
        lost_m3: 0.0005,
        first_spill_s: Some(3.0),
    });
    assert_eq!(case.found(Code::LittleFreeboard).len(), 1);
    case.vessel("upper").with_spill.as_mut().unwrap().lost_m3 = 0.005;
    assert!(
        case.found(Code::LittleFreeboard).is_empty(),
        "told as a spill"
    );
}

#[test]
fn a_vessel_that_no_level_is_enough_for_fills_for_ever() {
    assert!(plain().found(Code::FillsForEver).is_empty());
    let mut case = plain();
    case.vessel("upper").level_m = None;
    let found = case.found(Code::FillsForEver);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].severity, Severity::Problem);
    assert_eq!(found[0].measured, Some(0.001));
    assert!(case.found(Code::Spills).is_empty());
}

#[test]
fn little_room_under_the_rim() {
    let one = three(Code::LittleFreeboard, with_level, [1.4, 1.475, 1.48]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!(one.limit, Some(0.025));
    assert!((one.measured.unwrap() - 0.02).abs() < 1e-12);
    assert!(with_level(1.5).found(Code::LittleFreeboard).len() == 1);
    assert!(
        with_level(1.51).found(Code::LittleFreeboard).is_empty(),
        "told as a spill"
    );
}

/// The drain passes so much of the 1 L/s at the rim.
fn passing(share: f64) -> Case {
    let mut case = plain();
    case.run("drain").capacity_at_rim_m3_s = Some(0.001 * share);
    case
}

#[test]
fn a_drain_that_passes_too_little_at_the_rim() {
    let one = three(Code::DrainTooSmall, passing, [1.3, 1.0, 0.9]);
    assert_eq!((one.severity, one.limit), (Severity::Problem, Some(0.001)));
    assert_eq!(one.about, ["upper".into(), "drain".into()]);
}

#[test]
fn a_drain_with_little_to_spare() {
    let one = three(Code::LittleReserve, passing, [1.3, 1.25, 1.2]);
    assert_eq!(one.severity, Severity::Warning);
    assert!((one.measured.unwrap() - 1.2).abs() < 1e-12);
    assert!(passing(0.9).found(Code::LittleReserve).is_empty());
}

#[test]
fn drains_are_added_up_and_a_vessel_that_spills_is_told_once() {
    let second = run(
        "second",
        at("upper", upstand(1.3)),
        at("lower", submerged()),
    );
    let mut case = Case::new(two_tanks(vec![drain(), second]));
    case.run("drain").capacity_at_rim_m3_s = Some(0.0007);
    case.run("second").capacity_at_rim_m3_s = Some(0.0007);
    case.run("second").flow_m3_s = 0.0;
    assert!(case.found(Code::DrainTooSmall).is_empty());
    assert!(case.found(Code::LittleReserve).is_empty());
    case.run("second").capacity_at_rim_m3_s = Some(0.0002);
    assert_eq!(case.found(Code::DrainTooSmall).len(), 1);
    case.vessel("upper").level_m = Some(1.6);
    assert!(case.found(Code::DrainTooSmall).is_empty());
}

#[test]
fn a_sump_drained_by_a_pump_needs_no_drain() {
    let mut rise = run("rise", at("lower", submerged()), at("upper", submerged()));
    rise.pump = Some(pump(Direction::Forward));
    let mut case = Case::new(two_tanks(vec![drain(), rise]));
    case.run("rise").capacity_at_rim_m3_s = Some(0.0);
    assert!(case.found(Code::DrainTooSmall).is_empty());
}

#[test]
fn a_level_at_the_floor_has_run_dry() {
    let one = three(Code::RunsDry, with_level, [0.6, 0.501, 0.5]);
    assert_eq!(one.severity, Severity::Problem);
    let mut case = with_level(0.5);
    case.layout.vessels[0].role = Role::Tower;
    assert_eq!(case.found(Code::RunsDry)[0].severity, Severity::Warning);
    case.report.state = State::Rest;
    assert_eq!(case.found(Code::RunsDry).len(), 1);
    case.layout.vessels[0].fill_m = 0.5;
    assert!(case.found(Code::RunsDry).is_empty(), "it was never filled");
}

#[test]
fn water_changed_too_seldom() {
    let changed = |per_h: f64| {
        let mut case = plain();
        case.layout.vessels[0].wanted_turnover_per_h = Some(2.0);
        case.vessel("upper").inflow_m3_s = per_h / 3600.0;
        case
    };
    let one = three(Code::LittleTurnover, changed, [3.0, 2.0, 1.9]);
    assert_eq!(
        (one.severity, one.quantity),
        (Severity::Warning, Quantity::Turnover)
    );
}

#[test]
fn a_joint_whose_runs_do_not_take_what_is_let_in() {
    let away = run(
        "away",
        crate::support::layouts::bare("tee"),
        at("upper", submerged()),
    );
    let drawing = |l_s: f64| {
        let mut layout = two_tanks(vec![drain(), away.clone()]);
        layout.joints = vec![joint("tee", 0.3)];
        layout.joints[0].make_up_m3_s = 0.001 * l_s;
        Case::new(layout)
    };
    let one = three(Code::TooMuchForJoint, drawing, [0.5, 1.0, 1.5]);
    assert_eq!(one.quantity, Quantity::Flow);
    assert_eq!((one.measured, one.limit), (Some(0.001), Some(0.0015)));
}

#[test]
fn a_joint_that_its_runs_cannot_feed() {
    let feed = run(
        "feed",
        at("upper", submerged()),
        crate::support::layouts::bare("tee"),
    );
    let drawing = |l_s: f64| {
        let mut layout = two_tanks(vec![drain(), feed.clone()]);
        layout.joints = vec![joint("tee", 0.3)];
        layout.joints[0].make_up_m3_s = -0.001 * l_s;
        Case::new(layout)
    };
    let one = three(Code::CannotDraw, drawing, [0.5, 1.0, 1.5]);
    assert_eq!(
        (one.severity, one.measured),
        (Severity::Problem, Some(0.001))
    );
}
