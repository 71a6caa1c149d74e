//! What keeps water from moving, pumps that short-circuit, and numbers that may be slips.

use super::case::{Case, three};
use crate::support::layouts::{
    at, bare, drain, joint, pump, run, submerged, tank, two_tanks, upstand, valve,
};
use fallwright::finding::{Code, Finding, Severity};
use fallwright::layout::{Direction, FloatSwitch, Layout, Opening, Run, Turned, Way};
use fallwright::state::State;
use fallwright::states::report::Control;

fn standing(layout: Layout, flow_m3_s: f64) -> Case {
    let mut case = Case::new(layout);
    for run in &mut case.report.runs {
        run.flow_m3_s = flow_m3_s;
        run.control = Control::Dry;
    }
    case
}

#[test]
fn where_nothing_makes_water_flow_it_is_said_once() {
    let back = || run("back", at("upper", upstand(1.3)), at("lower", submerged()));
    let with = |flow_m3_s: f64| standing(two_tanks(vec![drain(), back()]), flow_m3_s);
    let one = three(Code::NoPump, with, [0.001, 1.1e-7, 1e-7]);
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!(one.about, ["drain".into(), "back".into()]);
    let mut dry = with(0.0);
    dry.vessel("upper").level_m = Some(0.5);
    let codes: Vec<Code> = dry.all().iter().map(|one| one.code).collect();
    assert_eq!(codes, [Code::NoPump]);
}

#[test]
fn a_pump_or_any_water_that_comes_in_leaves_each_run_to_its_own() {
    let dry = |change: &dyn Fn(&mut Layout)| {
        let mut layout = two_tanks(vec![drain()]);
        change(&mut layout);
        standing(layout, 0.0)
    };
    let all: [&dyn Fn(&mut Layout); 4] = [
        &|layout| layout.runs[0].pump = Some(pump(Direction::Forward)),
        &|layout| layout.vessels[0].make_up_m3_s = 1e-4,
        &|layout| layout.joints[0].make_up_m3_s = 1e-4,
        &|layout| layout.weather.rain_m_s = 1e-6,
    ];
    for change in all {
        assert!(dry(change).found(Code::NoPump).is_empty());
    }
    assert_eq!(dry(&|_| ()).found(Code::NoPump).len(), 1);
    let mut resting = dry(&|_| ());
    resting.report.state = State::Rest;
    assert!(resting.found(Code::NoPump).is_empty());
}

#[test]
fn a_flow_that_no_pipe_here_should_carry() {
    let with = |flow_m3_s: f64| {
        let mut case = Case::new(two_tanks(vec![drain()]));
        case.run("drain").flow_m3_s = flow_m3_s;
        case
    };
    assert!(with(0.4).found(Code::IsThisMeant).is_empty());
    assert!(
        with(0.5).found(Code::IsThisMeant).is_empty(),
        "on the limit"
    );
    let case = with(0.6);
    let one = &case.found(Code::IsThisMeant)[0];
    assert_eq!((one.severity, one.limit), (Severity::Note, Some(0.5)));
    assert_eq!(
        case.read(one),
        "drain carries 2160 m³/h while running. Is this meant?"
    );
    let back = with(-0.6).found(Code::IsThisMeant);
    assert_eq!(back[0].measured, Some(0.6));
}

/// Two pumps side by side between the joints `low` and `high`.
fn side_by_side(change: impl Fn(&mut Vec<Run>)) -> Case {
    let pumped = |id: &str| {
        let mut made = run(id, bare("low"), bare("high"));
        made.pump = Some(pump(Direction::Forward));
        made.pump
            .iter_mut()
            .for_each(|pump| pump.id = format!("pump-{id}").as_str().into());
        made
    };
    let mut runs = vec![
        pumped("one"),
        pumped("two"),
        run("suction", at("lower", submerged()), bare("low")),
        run("riser", bare("high"), at("upper", submerged())),
    ];
    change(&mut runs);
    let mut layout = two_tanks(runs);
    layout.joints = vec![joint("low", 0.1), joint("high", 0.3), joint("branch", 0.3)];
    Case::new(layout)
}

fn has_float(run: &mut Run) {
    let switch = FloatSwitch {
        on_m: 0.3,
        off_m: 0.2,
        at: Some("lower".into()),
    };
    run.pump
        .iter_mut()
        .for_each(|pump| pump.float = Some(switch.clone()));
}

fn idle(case: &Case) -> Vec<Finding> {
    case.found(Code::IdlePumpsShortCircuit)
}

#[test]
fn a_pump_that_may_stand_still_lets_the_one_beside_it_push_back_through_it() {
    let found = idle(&side_by_side(|runs| has_float(&mut runs[0])));
    let kinds: Vec<_> = found
        .iter()
        .map(|one| (one.severity, one.about[1].as_str()))
        .collect();
    assert_eq!(
        kinds,
        [(Severity::Problem, "one"), (Severity::Warning, "two")]
    );
    let case = side_by_side(|runs| has_float(&mut runs[0]));
    assert_eq!(
        case.read(&found[0]),
        "When the pump of one stands still, the pump of two pushes water back through it: one has no check valve."
    );
}

#[test]
fn a_check_valve_that_holds_and_a_shut_valve_keep_a_pump_from_it() {
    let guarded = side_by_side(|runs| {
        has_float(&mut runs[0]);
        runs.iter_mut()
            .take(2)
            .for_each(|run| run.check_valve = Some(Direction::Forward));
    });
    assert!(idle(&guarded).is_empty());
    // It lets water back where it has failed.
    let failed = side_by_side(|runs| {
        runs.iter_mut()
            .take(2)
            .for_each(|run| run.check_valve = Some(Direction::Forward));
        runs[1].check_valve_failed = true;
    });
    assert_eq!(idle(&failed).len(), 1);
    // A check valve behind the joint of the other one holds as well as one of its own.
    let beyond = side_by_side(|runs| {
        runs[0].to = bare("branch");
        runs.push(run("link", bare("branch"), bare("high")));
        runs[4].check_valve = Some(Direction::Forward);
    });
    assert_eq!(idle(&beyond).len(), 1, "only the other one is unguarded");
}

#[test]
fn what_stands_still_by_plan_is_a_problem_and_what_fails_a_warning() {
    let severity = |case: &Case| idle(case)[0].severity;
    let off = side_by_side(|runs| runs[0].pump.iter_mut().for_each(|pump| pump.speed = 0.0));
    assert_eq!(severity(&off), Severity::Problem);
    let mut case = side_by_side(|_| ());
    assert_eq!(severity(&case), Severity::Warning);
    case.layout.ways = vec![Way {
        id: "night".into(),
        name: String::new(),
        valves: Vec::new(),
        out: Vec::new(),
        pumps_off: vec!["one".into()],
        washing_s: None,
    }];
    assert_eq!(severity(&case), Severity::Problem);
}

#[test]
fn a_mouth_in_air_lets_nothing_back_and_one_at_the_water_neither() {
    let mouth = |lip_m: f64| Opening::Mouth {
        lip_m,
        turned: Turned::Down,
        bore_m: None,
        air_gap: false,
    };
    let lifting = |lip_m: f64| {
        let pumped = |id: &str| {
            let mut made = run(id, at("lower", submerged()), at("upper", mouth(lip_m)));
            made.pump = Some(pump(Direction::Forward));
            made
        };
        // The level of the upper tank is 1.0 m.
        let mut case = Case::new(two_tanks(vec![pumped("one"), pumped("two"), drain()]));
        case.report.pumps[0].on = true;
        case
    };
    assert!(idle(&lifting(1.4)).is_empty());
    assert!(idle(&lifting(1.0)).is_empty(), "on the limit");
    assert_eq!(idle(&lifting(0.9)).len(), 2);
}

/// A pump that draws from the joint `low`, which one run feeds, and a second where there is one.
fn draws_from_a_joint(openings: &[f64], flow_m3_s: f64) -> Case {
    let mut lift = run("lift-run", bare("low"), at("upper", submerged()));
    lift.pump = Some(pump(Direction::Forward));
    let mut runs = vec![lift];
    for (place, opening) in openings.iter().enumerate() {
        let mut feed = run(
            &format!("feed-{place}"),
            at("lower", submerged()),
            bare("low"),
        );
        feed.valves = vec![valve("gate", *opening)];
        runs.push(feed);
    }
    let mut layout = two_tanks(runs);
    layout.joints = vec![joint("low", 0.1)];
    layout.vessels.push(tank("spare", 0.0, 1.0));
    let mut case = Case::new(layout);
    case.report.pumps[0].flow_m3_s = flow_m3_s;
    case.run("lift-run").flow_m3_s = flow_m3_s;
    case
}

#[test]
fn a_shut_valve_before_a_pump_is_named() {
    let with =
        |opening: f64| draws_from_a_joint(&[opening], if opening > 0.0 { 0.001 } else { 0.0 });
    let one = three(Code::SuctionShut, with, [1.0, 1e-6, 0.0]);
    assert_eq!(one.severity, Severity::Problem);
    let about: Vec<&str> = one.about.iter().map(|id| id.as_str()).collect();
    assert_eq!(about, ["lift", "lift-run", "feed-0"]);
    assert_eq!(
        with(0.0).read(&one),
        "The pump of lift-run cannot draw water while running: feed-0 is shut before it."
    );
    assert!(with(0.0).found(Code::PumpCannotLift).is_empty());
}

#[test]
fn all_of_several_ways_must_be_shut() {
    assert!(
        draws_from_a_joint(&[0.0, 1.0], 0.0)
            .found(Code::SuctionShut)
            .is_empty()
    );
    let case = draws_from_a_joint(&[0.0, 0.0], 0.0);
    let text = case.read(&case.found(Code::SuctionShut)[0]);
    assert!(
        text.ends_with("feed-0 and feed-1 are shut before it."),
        "{text}"
    );
    // What comes in at the joint itself is water to draw.
    let mut fed = draws_from_a_joint(&[0.0], 0.0);
    fed.layout.joints[0].make_up_m3_s = 1e-4;
    assert!(fed.found(Code::SuctionShut).is_empty());
}
