//! Never stuck and never silent: layouts that once ended without an answer, or without a word.

use crate::support::layouts::{
    at, bare, drain, fixed, joint, pump, run, submerged, tank, two_tanks, valve,
};
use fallwright::catalogue::Catalogue;
use fallwright::evaluate::{AsBuilt, Evaluation, evaluate};
use fallwright::finding::{Code, Severity};
use fallwright::layout::{CurveForm, Direction, Layout, Opening, Pipe, Run, Turned};
use fallwright::state::State;
use fallwright::states::{EventKind, InitialChange};

fn solved(layout: &Layout) -> Evaluation {
    let found = evaluate(layout, Catalogue::builtin(), &State::ALL);
    assert!(found.unsolved.is_empty(), "{:?}", found.unsolved);
    assert_eq!(found.unsettled().count(), 0);
    found
}

fn codes(found: &Evaluation) -> Vec<Code> {
    found.findings.iter().map(|one| one.code).collect()
}

/// Two tanks, and a run from a joint at which `inflow_m3_s` is let in by force.
fn forced(inflow_m3_s: f64) -> Layout {
    let mut away = run("away", bare("tee"), at("upper", submerged()));
    away.length_m = Some(20.0);
    let mut layout = two_tanks(vec![drain(), away]);
    layout.joints[0].make_up_m3_s = inflow_m3_s;
    layout
}

#[test]
fn an_inflow_that_no_run_takes_ends_in_few_steps_as_a_finding() {
    let mut taken_m3_s = Vec::new();
    for inflow_m3_s in [1.0, 1000.0, 1e5] {
        let found = solved(&forced(inflow_m3_s));
        let steps: usize = found.states.iter().map(|one| one.newton_steps).sum();
        assert!(steps < 20_000, "{inflow_m3_s} m³/s: {steps} steps");
        let running = found.state(State::Running).unwrap();
        assert!(running.mass_error_m3_s <= 1e-9);
        let mut told = found
            .findings
            .iter()
            .filter(|one| one.state == State::Running);
        let one = told.find(|one| one.code == Code::TooMuchForJoint).unwrap();
        assert_eq!(one.severity, Severity::Problem);
        assert_eq!(one.about, ["tee".into()]);
        assert_eq!(one.limit, Some(inflow_m3_s));
        taken_m3_s.push(one.measured.unwrap());
    }
    // What its runs can take does not hang on what is wanted.
    let spread = taken_m3_s
        .iter()
        .fold(0.0_f64, |most, one| most.max((one - taken_m3_s[0]).abs()));
    assert!(
        taken_m3_s[0] > 0.1 && spread < 0.02 * taken_m3_s[0],
        "{taken_m3_s:?}"
    );
}

#[test]
fn an_inflow_that_its_runs_take_is_taken_whole() {
    let found = solved(&forced(0.002));
    assert!(!codes(&found).contains(&Code::TooMuchForJoint));
    let running = found.state(State::Running).unwrap();
    assert!((running.runs[1].flow_m3_s - 0.002).abs() < 1e-9);
}

#[test]
fn what_no_run_takes_at_a_joint_with_a_shut_way_out_is_told_as_well() {
    let mut layout = forced(0.002);
    layout.runs[1].valves = vec![valve("gate", 0.0)];
    let found = solved(&layout);
    let one = found
        .findings
        .iter()
        .find(|one| one.code == Code::TooMuchForJoint);
    assert_eq!(one.unwrap().measured, Some(0.0));
}

/// Pumps side by side without any pipe of their own, between `low` at 0 m and `high`.
fn pumps_side_by_side(count: usize, high_m: f64) -> Layout {
    let plain = |id: &str, from: &str, to: &str, length_m: f64| {
        let mut made = run(id, bare(from), bare(to));
        (made.length_m, made.total_k, made.friction_factor) =
            (Some(length_m), Some(0.0), Some(0.025));
        made.pipe = Pipe::Own {
            bore_m: 0.2,
            roughness_m: None,
            hazen_williams_c: None,
        };
        made
    };
    let mut runs = vec![
        plain("suction", "low", "a", 30.0),
        plain("main", "b", "high", 1500.0),
    ];
    for index in 0..count {
        let mut beside = plain(&format!("beside-{index}"), "a", "b", 0.0);
        let mut lift = pump(Direction::Forward);
        lift.id = format!("pump-{index}").as_str().into();
        lift.curve = CurveForm::Power {
            h0_m: 111.252,
            c: 7602.478,
            n: 2.0,
        };
        beside.pump = Some(lift);
        runs.push(beside);
    }
    Layout {
        title: "Pumps side by side".to_owned(),
        joints: vec![joint("a", 0.0), joint("b", 0.0)],
        fixed: vec![fixed("low", 0.0), fixed("high", high_m)],
        runs,
        ..Layout::default()
    }
}

#[test]
fn pumps_side_by_side_whose_suction_is_blocked_stand_still_at_any_height() {
    for count in [2, 3, 4] {
        for high_m in [-20.0, -40.0, -88.392, -90.0, -120.0, -733.1, 60.0] {
            let layout = pumps_side_by_side(count, high_m);
            let found = solved(&layout);
            let blocked = found.state(State::Blocked).unwrap();
            let case = blocked
                .blocked
                .iter()
                .find(|case| case.run.as_str() == "suction");
            assert_eq!(
                case.unwrap().starved_s,
                Some(0.0),
                "{count} pumps, {high_m} m"
            );
            // The joint behind the shut suction stands under the other by what the pumps give.
            let ground = AsBuilt::new(&layout, Catalogue::builtin()).unwrap();
            let traced = ground.trace(InitialChange::Block(0), Some(10.0)).unwrap();
            for (id, flows) in &traced.flows_m3_s {
                assert!(
                    flows.iter().all(|flow| flow.abs() < 1e-7),
                    "{id}: {flows:?}"
                );
            }
        }
    }
}

/// A tank over two taps, one of which is open by a share, and a pipe between the joints that feed them.
fn taps(opening: f64, up_m: f64) -> Layout {
    let mouth = |lip_m: f64| Opening::Mouth {
        lip_m: lip_m + up_m,
        turned: Turned::Down,
        bore_m: None,
        air_gap: false,
    };
    let narrow = |mut made: Run| {
        made.pipe = Pipe::Own {
            bore_m: 0.013,
            roughness_m: None,
            hazen_williams_c: None,
        };
        made
    };
    let mut tight = narrow(run("tight", bare("riser"), at("basin", mouth(6.9))));
    tight.valves = vec![valve("tap", opening)];
    let mut header = tank("header", 9.0 + up_m, 9.8 + up_m);
    header.make_up_m3_s = 4e-4;
    Layout {
        title: "Taps".to_owned(),
        vessels: vec![header],
        joints: vec![joint("riser", 6.0 + up_m), joint("floor", 3.5 + up_m)],
        fixed: vec![fixed("basin", 6.4 + up_m), fixed("sink", 3.4 + up_m)],
        runs: vec![
            run(
                "down",
                at(
                    "header",
                    Opening::SideHole {
                        invert_m: 9.05 + up_m,
                        bore_m: None,
                    },
                ),
                bare("riser"),
            ),
            run("between", bare("riser"), bare("floor")),
            tight,
            narrow(run("open", bare("floor"), at("sink", mouth(3.9)))),
        ],
        ..Layout::default()
    }
}

#[test]
fn a_tap_may_be_all_but_shut() {
    for up_m in [0.0, -250.0, 1200.0] {
        let mut last_m3_s = f64::INFINITY;
        for opening in [1e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-9] {
            let found = solved(&taps(opening, up_m));
            let running = found.state(State::Running).unwrap();
            let flow_m3_s = running.runs[2].flow_m3_s;
            assert!(
                flow_m3_s <= last_m3_s && flow_m3_s >= 0.0,
                "{opening}: {flow_m3_s}"
            );
            assert!((running.runs[3].flow_m3_s + flow_m3_s - 4e-4).abs() < 1e-8);
            last_m3_s = flow_m3_s;
        }
    }
}

#[test]
fn the_spill_of_a_ring_is_lost_and_no_more_of_it_than_comes_in() {
    let mut layout = two_tanks(vec![]);
    layout.vessels = vec![tank("one", 0.0, 1.0), tank("two", 0.0, 1.0)];
    layout.vessels[0].make_up_m3_s = 5e-4;
    layout.vessels[0].spills_to = Some("two".into());
    layout.vessels[1].spills_to = Some("one".into());
    let found = solved(&layout);
    let one = found
        .findings
        .iter()
        .find(|one| one.code == Code::SpillsInARing)
        .unwrap();
    assert_eq!((one.severity, one.about.len()), (Severity::Problem, 2));
    let running = found.state(State::Running).unwrap();
    let spill = |vessel: usize| running.vessels[vessel].with_spill.unwrap();
    assert!((spill(0).spill_m3_s - 5e-4).abs() < 1e-7);
    assert!(spill(0).level_m < 1.01 && spill(1).spill_m3_s == 0.0);
}

#[test]
fn a_suction_that_is_blocked_starves_its_pump_at_once() {
    let layout = pumps_side_by_side(2, 60.0);
    let found = solved(&layout);
    let one = found
        .findings
        .iter()
        .find(|one| one.code == Code::SuctionShut)
        .unwrap();
    assert_eq!(
        (one.state, one.severity),
        (State::Blocked, Severity::Warning)
    );
    let ground = AsBuilt::new(&layout, Catalogue::builtin()).unwrap();
    let shut = ground
        .suspects()
        .into_iter()
        .find(|one| one.part.as_str() == "suction");
    let failed = ground.fail(&shut.unwrap()).unwrap();
    assert_eq!(failed.case.starved_s, Some(0.0));
    assert_eq!(failed.severity, Severity::Warning);
    // What is shut behind the pumps leaves them water to stand in.
    let main = ground
        .suspects()
        .into_iter()
        .find(|one| one.part.as_str() == "main");
    assert_eq!(ground.fail(&main.unwrap()).unwrap().case.starved_s, None);
}

fn sample(name: &str) -> Layout {
    let folder = format!("{}/tests/reference/peer/sample", env!("CARGO_MANIFEST_DIR"));
    fallwright::file::read(std::path::Path::new(&format!("{folder}/{name}.ron"))).unwrap()
}

#[test]
fn no_pump_gets_its_water_back_that_had_it_all_along() {
    let mut blocked = 0;
    for name in [
        "plain-000004",
        "plain-000012",
        "plain-000024",
        "plain-000036",
    ] {
        let layout = sample(name);
        let running = evaluate(
            &layout,
            Catalogue::builtin(),
            &[State::Starting, State::Running],
        );
        let starved = |pump: &str| {
            let mut findings = running.findings.iter();
            findings.any(|one| {
                let lacks = matches!(one.code, Code::PumpStarved | Code::StarvesAtStart);
                lacks && one.about[0].as_str() == pump
            })
        };
        let ground = AsBuilt::new(&layout, Catalogue::builtin()).unwrap();
        for run in 0..layout.runs.len() {
            let traced = ground.trace(InitialChange::Block(run), Some(1e4)).unwrap();
            blocked += 1;
            let mut short: Vec<&str> = Vec::new();
            for told in &traced.told {
                let Some(pump) = told.about.first().map(|id| id.as_str()) else {
                    continue;
                };
                match told.what {
                    EventKind::SuctionStarved => short.push(pump),
                    EventKind::SuctionRecovered => {
                        assert!(
                            short.contains(&pump) || starved(pump),
                            "{name}, {run}: {told:?}"
                        );
                    }
                    _ => {}
                }
            }
        }
    }
    assert!(blocked > 30);
}

#[test]
fn rain_moves_no_fill_mark() {
    let path = format!("{}/examples/two-beds.ron", env!("CARGO_MANIFEST_DIR"));
    let mut layout = fallwright::file::read(std::path::Path::new(&path)).unwrap();
    layout.weather.rain_m_s = 0.0;
    let dry = solved(&layout).marks.unwrap();
    layout.weather.rain_m_s = 3e-6;
    let wet = evaluate(&layout, Catalogue::builtin(), &State::ALL)
        .marks
        .unwrap();
    assert_eq!(dry, wet);
    assert!(dry.between_m3().unwrap() > 0.01, "{dry:?}");
}

#[test]
fn a_vessel_that_only_rain_fills_is_a_warning() {
    let mut layout = two_tanks(vec![]);
    layout.weather.rain_m_s = 3e-6;
    let found = solved(&layout);
    let fills = |found: &Evaluation| {
        let mut all = found.findings.iter();
        all.find(|one| one.code == Code::FillsForEver)
            .map(|one| one.severity)
    };
    assert_eq!(fills(&found), Some(Severity::Warning));
    layout.vessels[0].make_up_m3_s = 1e-4;
    assert_eq!(fills(&solved(&layout)), Some(Severity::Problem));
}
