//! Rules on water from outside: where drinking water comes out, what runs on to waste, and ends over the water.

use super::case::{Case, three};
use crate::support::layouts::{at, bare, drain, joint, run, submerged, two_tanks, upstand};
use fallwright::check::without_repeats;
use fallwright::finding::{Code, Finding, Severity};
use fallwright::layout::{FloatValve, Layout, Opening, Turned};
use fallwright::state::State;
use fallwright::states::report::{TrajectoryReport, TrajectoryVessel, WithSpill};

/// Rim of the lower tank of [`two_tanks`], metres.
const RIM_M: f64 = 0.4;
/// The usual gap of a narrow mouth, metres: an inch.
const INCH_M: f64 = 0.0254;

fn mouth(lip_m: f64) -> Opening {
    Opening::Mouth {
        lip_m,
        turned: Turned::Down,
        bore_m: None,
        air_gap: true,
    }
}

/// The lower tank with a float valve of drinking water, shut as it stands.
fn float(outlet_m: Option<f64>) -> Case {
    let mut layout = two_tanks(vec![drain()]);
    layout.vessels[1].float_valve = Some(FloatValve {
        shut_m: 0.2,
        open_m: 0.1,
        flow_m3_s: 1e-4,
        outlet_m,
        drinking_water: true,
    });
    Case::new(layout)
}

/// A main at 10 m that ends in the lower tank.
fn main_into(end: Opening) -> Case {
    let mut layout = two_tanks(vec![drain(), run("fill", bare("ditch"), at("lower", end))]);
    layout.fixed[0].level_m = 10.0;
    layout.fixed[0].drinking_water = true;
    Case::new(layout)
}

fn only(case: &Case, code: Code) -> Finding {
    let mut found = case.found(code);
    assert_eq!(found.len(), 1, "{found:?}");
    found.remove(0)
}

#[test]
fn a_float_valve_of_drinking_water_stands_an_inch_over_the_rim() {
    let with = |outlet_m: f64| float(Some(outlet_m));
    let one = three(
        Code::CrossConnection,
        with,
        [RIM_M + 0.03, RIM_M + INCH_M, RIM_M + 0.02],
    );
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!(one.about, ["lower".into()]);
    let under = only(&with(RIM_M - 0.01), Code::CrossConnection);
    assert_eq!(under.severity, Severity::Problem);
    assert_eq!(under.measured, Some(RIM_M - 0.01));
    // On the rim it is over no used water yet.
    let on = only(&with(RIM_M), Code::CrossConnection);
    assert_eq!(on.severity, Severity::Warning);
}

#[test]
fn what_is_not_said_to_be_drinking_water_is_no_matter() {
    let mut case = float(Some(0.1));
    if let Some(valve) = &mut case.layout.vessels[1].float_valve {
        valve.drinking_water = false;
    }
    assert!(case.found(Code::CrossConnection).is_empty());
    let mut main = main_into(submerged());
    main.layout.fixed[0].drinking_water = false;
    assert!(main.found(Code::CrossConnection).is_empty());
}

#[test]
fn a_mouth_without_a_height_is_not_known_and_said_so() {
    let case = float(None);
    let one = only(&case, Code::CrossConnection);
    assert_eq!((one.severity, one.measured), (Severity::Warning, None));
    let text = case.read(&one);
    assert!(text.contains("has no height in the layout"), "{text}");
    assert!(
        text.contains("Local code and a licensed plumber decide"),
        "{text}"
    );
}

#[test]
fn a_main_ends_two_bores_over_the_rim() {
    // The bore of every run here is 0.1 m.
    let with = |lip_m: f64| main_into(mouth(lip_m));
    let one = three(
        Code::CrossConnection,
        with,
        [RIM_M + 0.21, RIM_M + 0.2, RIM_M + 0.19],
    );
    assert_eq!(one.about, ["lower".into(), "fill".into(), "ditch".into()]);
    let under = only(&with(0.35), Code::CrossConnection);
    assert_eq!(under.severity, Severity::Problem);
    for end in [
        submerged(),
        upstand(0.3),
        Opening::Floor {
            lip_m: None,
            bore_m: None,
        },
    ] {
        let one = only(&main_into(end), Code::CrossConnection);
        assert_eq!(one.severity, Severity::Problem);
    }
}

#[test]
fn a_main_is_followed_through_joints_and_shut_valves() {
    let through = |lip_m: f64| {
        let mut last = run("spout", bare("tee"), at("lower", mouth(lip_m)));
        last.valves = vec![crate::support::layouts::valve("gate", 0.0)];
        let mut layout = two_tanks(vec![drain(), run("main", bare("ditch"), bare("tee")), last]);
        layout.fixed[0].drinking_water = true;
        Case::new(layout)
    };
    assert!(through(0.7).found(Code::CrossConnection).is_empty());
    let one = only(&through(0.3), Code::CrossConnection);
    assert_eq!(one.about[1], "spout".into());
    // Water that is let in at the joint itself is followed too.
    let mut joint_only = through(0.3);
    joint_only.layout.fixed[0].drinking_water = false;
    assert!(joint_only.found(Code::CrossConnection).is_empty());
    joint_only.layout.joints[0].make_up_m3_s = 1e-4;
    joint_only.layout.joints[0].make_up_drinking_water = true;
    // The ditch is a level that is no drinking water, and the pipe to it ends under water.
    let found = joint_only.found(Code::CrossConnection);
    assert_eq!(found.len(), 2, "{found:?}");
}

#[test]
fn water_over_the_mouth_is_a_problem_in_the_state_that_brings_it_there() {
    let drowned = |highest_m: f64| {
        let mut case = float(Some(RIM_M + 0.03));
        case.report.state = State::Stopped;
        case.report.course = Some(TrajectoryReport {
            time_s: 60.0,
            still: true,
            told: Vec::new(),
            vessels: vec![TrajectoryVessel {
                id: "lower".into(),
                lowest_m: 0.2,
                highest_m,
                spilled_m3: 0.0,
                first_spill_s: None,
            }],
            suctions: Vec::new(),
            volume_error_m3: 0.0,
            back: None,
        });
        case
    };
    let one = three(
        Code::CrossConnection,
        drowned,
        [RIM_M, RIM_M + 0.03, RIM_M + 0.04],
    );
    assert_eq!(
        (one.severity, one.state),
        (Severity::Problem, State::Stopped)
    );
}

/// A float valve in the upper tank that lets in `in_m3_s` as it stands, and an overflow into the ditch.
fn wasting(in_m3_s: f64, out_m3_s: f64) -> Case {
    let overflow = run("overflow", at("upper", upstand(0.9)), bare("ditch"));
    let mut layout = two_tanks(vec![overflow]);
    layout.vessels[0].float_valve = Some(FloatValve {
        shut_m: 1.2,
        open_m: 1.0,
        flow_m3_s: in_m3_s,
        outlet_m: None,
        drinking_water: false,
    });
    let mut case = Case::new(layout);
    case.run("overflow").flow_m3_s = out_m3_s;
    case.vessel("upper").level_m = Some(0.95);
    case
}

#[test]
fn a_float_valve_over_the_overflow_runs_to_waste() {
    let with = |flow_m3_s: f64| wasting(flow_m3_s, flow_m3_s);
    let one = three(Code::RunsToWaste, with, [0.0, 1e-7, 1e-4]);
    assert_eq!(one.severity, Severity::Warning);
    let case = with(1e-4);
    assert_eq!(
        case.read(&one),
        "The float valve of upper never shuts while running: it is set to shut at 1200 mm, over the crest of \
         overflow at 900 mm. 8640 L a day leave by overflow."
    );
    // No more can come of it than leaves, nor than comes in.
    let less = only(&wasting(1e-4, 3e-5), Code::RunsToWaste);
    assert_eq!(less.measured, Some(3e-5));
    let rain = only(&wasting(1e-4, 1e-3), Code::RunsToWaste);
    assert_eq!(rain.measured, Some(1e-4));
}

#[test]
fn a_float_valve_that_shuts_wastes_nothing() {
    let mut case = wasting(1e-4, 1e-4);
    case.vessel("upper").level_m = Some(1.2);
    assert!(case.found(Code::RunsToWaste).is_empty());
}

#[test]
fn a_spill_that_nothing_catches_is_waste_too() {
    let spill = |to: Option<&str>| {
        let mut case = wasting(1e-4, 0.0);
        case.layout.vessels[0].spills_to = to.map(Into::into);
        case.vessel("upper").with_spill = Some(WithSpill {
            level_m: 0.95,
            spill_m3_s: 1e-4,
            lost_m3: 1.0,
            first_spill_s: Some(0.0),
        });
        case.found(Code::RunsToWaste)
    };
    assert_eq!(spill(None).len(), 1);
    assert_eq!(spill(Some("ditch")).len(), 1);
    assert!(spill(Some("lower")).is_empty());
}

fn make_up(layout: &mut Layout) {
    layout.vessels[0].make_up_m3_s = 1e-4;
    layout.vessels[0].float_valve = None;
}

#[test]
fn make_up_that_only_runs_out_again_is_a_warning_and_less_what_evaporates() {
    let mut case = wasting(1e-4, 1e-4);
    make_up(&mut case.layout);
    let one = only(&case, Code::RunsToWaste);
    assert_eq!(
        (one.severity, one.measured),
        (Severity::Warning, Some(1e-4))
    );
    case.water.evaporation_m3_s = 4e-5;
    let less = only(&case, Code::RunsToWaste).measured.unwrap();
    assert!((less - 6e-5).abs() < 1e-12, "{less}");
    case.water.evaporation_m3_s = 1e-4;
    assert!(case.found(Code::RunsToWaste).is_empty());
}

#[test]
fn make_up_that_goes_through_the_system_first_is_a_note() {
    let mut layout = two_tanks(vec![
        drain(),
        run("overflow", at("lower", upstand(0.1)), bare("ditch")),
    ]);
    make_up(&mut layout);
    layout.joints = vec![joint("tee", 0.3)];
    let one = only(&Case::new(layout), Code::RunsToWaste);
    assert_eq!(one.severity, Severity::Note);
    assert_eq!(one.about, ["upper".into(), "overflow".into()]);
}

#[test]
fn waste_at_rest_is_not_told_again() {
    let mut resting = wasting(1e-4, 1e-4);
    resting.report.state = State::Rest;
    let mut all = resting.found(Code::RunsToWaste);
    assert_eq!(all.len(), 1);
    assert_eq!(without_repeats(all.clone()).len(), 1);
    all.extend(wasting(1e-4, 1e-4).found(Code::RunsToWaste));
    let told = without_repeats(all);
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].state, State::Running);
}

#[test]
fn an_end_that_was_to_be_under_water_stands_over_it() {
    let with = |level_m: f64| {
        let end = Opening::Submerged {
            lip_m: Some(0.2),
            bore_m: None,
        };
        let back = run("back", at("upper", upstand(1.2)), at("lower", end));
        let mut case = Case::new(two_tanks(vec![back]));
        case.vessel("lower").level_m = Some(level_m);
        case
    };
    let one = three(Code::MouthOverWater, with, [0.25, 0.2, 0.15]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!((one.measured, one.limit), (Some(0.15), Some(0.2)));
    assert_eq!(one.about, ["back".into(), "lower".into()]);
    // Without a height nothing is known.
    let mut unknown = with(0.15);
    unknown.layout.runs[0].to.opening = Some(submerged());
    assert!(unknown.found(Code::MouthOverWater).is_empty());
}
