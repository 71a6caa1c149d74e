//! Rules on what happens on the way: starting, with a path blocked, once stopped, and round and round.

use super::case::{Case, three};
use crate::support::layouts::{at, drain, pump, run, submerged, two_tanks};
use fallwright::check::blocked_severity;
use fallwright::check::{RULES, without_repeats};
use fallwright::finding::{Code, Finding, Severity};
use fallwright::hydraulics::openings::vortex::submergence_m;
use fallwright::layout::{Direction, Id, Limits, Opening, Turned};
use fallwright::state::State;
use fallwright::states::report::{
    BackReport, BlockedCase, Control, CycleLevel, CycleReport, Standing, TrajectoryReport,
    TrajectorySuction, TrajectoryVessel, WithSpill,
};
use fallwright::states::{Event, EventKind};

const LIP_M: f64 = 0.1;

/// A pump that draws from a mouth in the lower tank.
fn loop_with_pump() -> Case {
    let intake = Opening::Mouth {
        lip_m: LIP_M,
        turned: Turned::Down,
        bore_m: None,
        air_gap: false,
    };
    let mut rise = run("rise", at("lower", intake), at("upper", submerged()));
    rise.pump = Some(pump(Direction::Forward));
    let mut case = Case::new(two_tanks(vec![drain(), rise]));
    case.run("rise").control = Control::Pumped;
    case.vessel("lower").level_m = Some(0.35);
    case.report.pumps[0].suction_level_m = Some(0.35);
    case
}

fn course() -> TrajectoryReport {
    TrajectoryReport {
        time_s: 600.0,
        still: true,
        told: Vec::new(),
        vessels: Vec::new(),
        suctions: Vec::new(),
        volume_error_m3: 0.0,
        back: None,
    }
}

fn starting(starved_s: Option<f64>, dry_s: Option<f64>, lowest_m: f64) -> Case {
    let mut case = loop_with_pump();
    case.report.state = State::Starting;
    case.report.course = Some(TrajectoryReport {
        suctions: vec![TrajectorySuction {
            pump: "lift".into(),
            vessel: "lower".into(),
            lip_m: LIP_M,
            lowest_m,
            lowest_s: 300.0,
            starved_s,
            dry_s,
        }],
        ..course()
    });
    case
}

#[test]
fn a_pump_held_back_while_starting_is_a_warning_and_one_that_runs_dry_a_problem() {
    assert!(
        starting(None, None, 0.12)
            .found(Code::StarvesAtStart)
            .is_empty()
    );
    let held = starting(Some(240.0), None, 0.12);
    let found = held.found(Code::StarvesAtStart);
    assert_eq!((found.len(), found[0].severity), (1, Severity::Warning));
    assert_eq!(
        (found[0].measured, found[0].limit),
        (Some(0.12), Some(LIP_M))
    );
    assert_eq!(
        held.read(&found[0]),
        "The pump of rise gets too little water while starting, from 4 min on: the level of \
         lower falls to 120 mm, 20 mm over the intake."
    );
    let at_once = starting(Some(0.2), None, 0.12);
    let text = at_once.read(&at_once.found(Code::StarvesAtStart)[0]);
    assert!(
        text.contains("while starting, from the start on: "),
        "{text}"
    );
    let dry = starting(Some(240.0), Some(300.0), LIP_M);
    let found = dry.found(Code::StarvesAtStart);
    assert_eq!((found.len(), found[0].severity), (1, Severity::Problem));
    assert_eq!(
        dry.read(&found[0]),
        "The pump of rise runs dry while starting, after 5 min: the level of lower falls to its intake at \
         100 mm."
    );
}

#[test]
fn water_that_was_spilled_by_then_is_named() {
    let with = |first_spill_s| {
        let mut case = starting(None, Some(300.0), LIP_M);
        let course = case.report.course.as_mut().unwrap();
        course.vessels.push(TrajectoryVessel {
            id: "upper".into(),
            lowest_m: 1.0,
            highest_m: 1.51,
            spilled_m3: 0.5,
            first_spill_s,
        });
        case.found(Code::StarvesAtStart).remove(0)
    };
    assert_eq!(with(Some(299.0)).about.len(), 4);
    assert_eq!(with(Some(299.0)).about[3], Id::from("upper"));
    assert_eq!(with(Some(301.0)).about.len(), 3);
    assert_eq!(with(None).about.len(), 3);
}

#[test]
fn a_pump_that_has_run_dry_and_stands_is_a_problem() {
    let standing = |standing| {
        let mut case = loop_with_pump();
        case.report.pumps[0].on = false;
        case.report.pumps[0].standing = standing;
        case
    };
    for fine in [Standing::Runs, Standing::Off, Standing::FloatOff] {
        assert!(standing(fine).found(Code::PumpRunsDry).is_empty());
    }
    let mut dry = standing(Standing::RanDry);
    let found = dry.found(Code::PumpRunsDry);
    assert_eq!((found.len(), found[0].severity), (1, Severity::Problem));
    assert_eq!(
        found[0].about,
        ["lift".into(), "rise".into(), "lower".into()]
    );
    // What it does not feed is no news.
    dry.run("drain").flow_m3_s = 0.0;
    assert!(dry.found(Code::NoFlow).is_empty());
    dry.report.cycle = Some(cycle(EventKind::PumpRunsDry));
    assert!(
        dry.found(Code::PumpRunsDry).is_empty(),
        "told as never steady"
    );
    assert_eq!(dry.found(Code::NeverSteady).len(), 1);
}

fn cycle(what: EventKind) -> CycleReport {
    CycleReport {
        period_s: 720.0,
        regular: true,
        vessels: vec![
            CycleLevel {
                id: "upper".into(),
                lowest_m: 0.9,
                highest_m: 1.2,
                mean_m: 1.0,
            },
            CycleLevel {
                id: "lower".into(),
                lowest_m: 0.15,
                highest_m: 0.3,
                mean_m: 0.2,
            },
        ],
        told: vec![Event {
            time_s: 1000.0,
            what,
            about: vec!["lift".into()],
        }],
    }
}

#[test]
fn what_goes_round_for_ever_is_told_by_what_switches() {
    assert!(loop_with_pump().found(Code::NeverSteady).is_empty());
    let mut case = loop_with_pump();
    for (what, severity) in [
        (EventKind::PumpRunsDry, Severity::Problem),
        (EventKind::SiphonPrimed, Severity::Warning),
        (EventKind::FloatOn, Severity::Note),
    ] {
        case.report.cycle = Some(cycle(what));
        let found = case.found(Code::NeverSteady);
        assert_eq!((found.len(), found[0].severity), (1, severity));
        assert_eq!(found[0].measured, Some(720.0));
        assert_eq!(found[0].about, ["lift".into(), "upper".into()]);
    }
    assert_eq!(
        case.read(&case.found(Code::NeverSteady)[0]),
        "While running the pump of rise is turned on and off by its float switch every 12 min; the level of upper goes \
         between 900 mm and 1200 mm."
    );
}

#[test]
fn in_a_round_the_highest_level_counts_for_rims_and_the_lowest_for_intakes() {
    let with = |highest_m: f64| {
        let mut case = loop_with_pump();
        let mut round = cycle(EventKind::FloatOn);
        round.vessels[0].highest_m = highest_m;
        case.report.cycle = Some(round);
        case
    };
    let one = three(Code::Spills, with, [1.4, 1.5, 1.501]);
    assert_eq!(one.measured, Some(1.501));
    let text = with(1.52).read(&with(1.52).found(Code::Spills)[0]);
    assert!(
        text.contains("its level rises to 20 mm over the rim"),
        "{text}"
    );
    let one = three(Code::LittleFreeboard, with, [1.4, 1.475, 1.48]);
    assert!((one.measured.unwrap() - 0.02).abs() < 1e-12);
    // The mean of the lower tank covers its intake well, its lowest level does not.
    assert_eq!(with(1.4).found(Code::IntakeUncovered).len(), 1);
}

#[test]
fn an_intake_wants_water_over_it() {
    let wanted_m = submergence_m(0.001, 0.1, 9.80665);
    let with = |over_m: f64| {
        let mut case = loop_with_pump();
        case.vessel("lower").level_m = Some(LIP_M + over_m);
        case
    };
    let one = three(
        Code::IntakeUncovered,
        with,
        [wanted_m + 0.01, wanted_m, wanted_m - 0.001],
    );
    assert_eq!(one.severity, Severity::Warning);
    assert_eq!(one.limit, Some(wanted_m));
    let mut held = with(0.02);
    held.run("rise").control = Control::Inlet;
    assert!(
        held.found(Code::IntakeUncovered).is_empty(),
        "told as starved"
    );
}

#[test]
fn the_mouth_of_an_intake_counts_and_not_its_run() {
    let mut case = loop_with_pump();
    let bell_m = 0.15;
    if let Some(Opening::Mouth { bore_m, .. }) = &mut case.layout.runs[1].from.opening {
        *bore_m = Some(bell_m);
    }
    case.vessel("lower").level_m = Some(LIP_M + 0.05);
    let found = case.found(Code::IntakeUncovered);
    assert_eq!(found[0].limit, Some(submergence_m(0.001, bell_m, 9.80665)));
}

fn blocked(run: &str, first_spill_s: Option<f64>, starved_s: Option<f64>) -> BlockedCase {
    BlockedCase {
        run: run.into(),
        first_spill_s,
        spills: first_spill_s.map(|_| "upper".into()),
        spilled_m3: 0.4,
        starved_s,
        starves: starved_s.map(|_| "lift".into()),
        lowest_m: Vec::new(),
        time_s: 86_400.0,
        water_m3: 1000.0,
    }
}

fn with_cases(cases: Vec<BlockedCase>) -> Case {
    let mut case = loop_with_pump();
    case.report.state = State::Blocked;
    case.report.blocked = cases;
    case
}

#[test]
fn a_vessel_that_spills_when_a_path_is_blocked_is_told_once_with_every_path() {
    let case = with_cases(vec![
        blocked("drain", Some(120.0), Some(300.0)),
        blocked("rise", Some(900.0), None),
    ]);
    let found = case.all();
    assert_eq!(
        found.len(),
        1,
        "a dry pump after a spill is no news: {found:?}"
    );
    assert_eq!(found[0].code, Code::SpillsWhenBlocked);
    assert_eq!(found[0].severity, Severity::Warning);
    assert_eq!(
        found[0].about,
        ["upper".into(), "drain".into(), "rise".into()]
    );
    assert_eq!(
        case.read(&found[0]),
        "With drain blocked, upper spills after 2 min, and 400 L are lost in a day; so it does with rise \
         (15 min)."
    );
}

#[test]
fn of_many_paths_the_soonest_are_named_and_the_rest_are_counted() {
    let cases = |count: usize| {
        let paths = (0..count).map(|place| {
            let after_s = 60.0 * (place + 1) as f64;
            blocked(&format!("r{place}"), Some(after_s), None)
        });
        let case = with_cases(paths.collect());
        case.read(&case.found(Code::SpillsWhenBlocked)[0])
    };
    assert!(
        cases(6).ends_with("r4 (5 min) and r5 (6 min)."),
        "{}",
        cases(6)
    );
    assert!(
        cases(7).ends_with("r4 (5 min) and 2 others."),
        "{}",
        cases(7)
    );
}

#[test]
fn a_spill_on_the_limit_is_late_enough() {
    let severity = |first_spill_s| {
        let case = with_cases(vec![blocked("drain", Some(first_spill_s), None)]);
        case.found(Code::SpillsWhenBlocked)[0].severity
    };
    assert_eq!(severity(899.0), Severity::Warning);
    assert_eq!(severity(900.0), Severity::Note);
    assert_eq!(severity(901.0), Severity::Note);
    assert!(
        with_cases(vec![blocked("drain", None, None)])
            .all()
            .is_empty()
    );
}

#[test]
fn a_splash_of_a_blocked_path_is_a_note_and_hides_no_flood() {
    let splash = |spilled_m3: f64, after_s: f64, water_m3: f64| BlockedCase {
        spilled_m3,
        water_m3,
        ..blocked("drain", Some(after_s), None)
    };
    let told = |case: &BlockedCase| blocked_severity(&Limits::default(), case);
    assert_eq!(told(&splash(0.0009, 60.0, 20.0)), Severity::Note);
    assert_eq!(
        told(&splash(0.001, 60.0, 20.0)),
        Severity::Problem,
        "on the limit"
    );
    assert_eq!(
        told(&splash(0.0009, 60.0, 8.0)),
        Severity::Problem,
        "a large share"
    );
    let starved = BlockedCase {
        starved_s: Some(90.0),
        ..splash(0.0009, 60.0, 20.0)
    };
    assert_eq!(told(&starved), Severity::Warning);
    // A pump that lacks water after a splash is news, after a flood it is not.
    let lacks = BlockedCase {
        starves: Some("lift".into()),
        ..starved
    };
    assert_eq!(
        with_cases(vec![lacks])
            .found(Code::StarvesWhenBlocked)
            .len(),
        1
    );
    let flood = blocked("rise", Some(120.0), None);
    assert!(flood.by_harm(&splash(0.0009, 60.0, 20.0)).is_lt());
    let case = with_cases(vec![splash(0.0009, 60.0, 20.0), flood]);
    let found = case.found(Code::SpillsWhenBlocked);
    assert_eq!(found[0].severity, Severity::Warning);
    assert_eq!(found[0].measured, Some(120.0));
    let alone = with_cases(vec![splash(0.0009, 60.0, 20.0)]);
    assert_eq!(
        alone.found(Code::SpillsWhenBlocked)[0].severity,
        Severity::Note
    );
}

#[test]
fn a_pump_left_without_water_before_anything_spills_is_told() {
    let case = with_cases(vec![blocked("drain", None, Some(1320.0))]);
    let found = case.found(Code::StarvesWhenBlocked);
    assert_eq!((found.len(), found[0].severity), (1, Severity::Warning));
    assert_eq!(
        case.read(&found[0]),
        "With drain blocked, the pump of rise gets too little water after 22 min."
    );
    let before = with_cases(vec![blocked("drain", Some(400.0), Some(399.0))]);
    assert_eq!(before.found(Code::StarvesWhenBlocked).len(), 1);
    let after = with_cases(vec![blocked("drain", Some(400.0), Some(400.0))]);
    assert!(after.found(Code::StarvesWhenBlocked).is_empty());
}

fn stopped(back: BackReport) -> Case {
    let mut case = loop_with_pump();
    case.report.state = State::Stopped;
    case.report.course = Some(TrajectoryReport {
        back: Some(back),
        ..course()
    });
    case
}

#[test]
fn what_runs_back_is_a_note_from_a_litre_on() {
    let with = |drained_m3: f64| {
        stopped(BackReport {
            drained_m3,
            ..BackReport::default()
        })
    };
    let found = with(0.12).found(Code::RunsBack);
    assert_eq!((found.len(), found[0].severity), (1, Severity::Note));
    assert_eq!(found[0].about, [Id::from("lower")]);
    assert_eq!(
        with(0.12).read(&found[0]),
        "Once the pump has stopped, 120 L have run back into lower, which then stands 50 mm under its rim."
    );
    assert_eq!(with(0.001).found(Code::RunsBack).len(), 1);
    assert!(with(0.0009).found(Code::RunsBack).is_empty());
}

#[test]
fn more_back_through_the_pump_than_otherwise_is_a_warning() {
    let severity = |drained_m3: f64, siphoned_m3: f64| {
        let case = stopped(BackReport {
            drained_m3,
            siphoned_m3,
            in_runs_m3: 0.002,
            room_m3: None,
        });
        case.found(Code::RunsBack)[0].severity
    };
    assert_eq!(severity(0.1, 0.05), Severity::Note);
    assert_eq!(severity(0.1, 0.1), Severity::Note);
    assert_eq!(severity(0.1, 0.11), Severity::Warning);
}

#[test]
fn what_stood_in_runs_is_part_of_what_runs_back() {
    let case = stopped(BackReport {
        drained_m3: 0.09,
        in_runs_m3: 0.063,
        room_m3: Some(0.01),
        ..BackReport::default()
    });
    let found = case.found(Code::RunsBack);
    assert_eq!(found[0].severity, Severity::Note);
    assert!((found[0].measured.unwrap() - 0.153).abs() < 1e-12);
    assert!((found[0].limit.unwrap() - 0.163).abs() < 1e-12);
    assert_eq!(
        case.read(&found[0]),
        "Once the pump has stopped, 153 L have run back into lower, which then stands 50 mm under its rim. Of that \
         63.0 L stood in runs that empty."
    );
    // Of a vessel that never spills no room is known.
    let closed = stopped(BackReport {
        drained_m3: 0.09,
        ..BackReport::default()
    });
    assert_eq!(closed.found(Code::RunsBack)[0].limit, None);
}

#[test]
fn a_pump_vessel_that_floods_on_a_stop_says_what_ran_back() {
    let mut case = stopped(BackReport {
        drained_m3: 0.34,
        ..BackReport::default()
    });
    case.vessel("lower").level_m = Some(0.4);
    case.vessel("lower").with_spill = Some(WithSpill {
        level_m: 0.4,
        spill_m3_s: 0.0,
        lost_m3: 0.12,
        first_spill_s: Some(246.0),
    });
    assert!(case.found(Code::RunsBack).is_empty(), "told as a spill");
    let found = case.found(Code::Spills);
    assert_eq!(
        case.read(&found[0]),
        "lower spills once stopped: 340 L run back into it, more than it has room for, and 120 L run over its \
         rim, the first after 4 min 6 s."
    );
    assert_eq!(found[0].measured, Some(0.12));
}

#[test]
fn what_spills_while_starting_says_when() {
    let mut case = loop_with_pump();
    case.report.state = State::Starting;
    case.vessel("upper").level_m = Some(1.6);
    case.vessel("upper").with_spill = Some(WithSpill {
        level_m: 1.502,
        spill_m3_s: 0.001,
        lost_m3: 0.12,
        first_spill_s: Some(246.0),
    });
    let found = case.found(Code::Spills);
    assert_eq!(
        case.read(&found[0]),
        "upper spills while starting: 120 L run over its rim, the first after 4 min 6 s."
    );
}

#[test]
fn every_rule_says_which_states_it_is_for() {
    for rule in RULES {
        assert!(!rule.states.is_empty() && !rule.codes.is_empty());
    }
    // A report of a state that a rule is not for gives it nothing to say.
    let mut case = loop_with_pump();
    case.vessel("upper").level_m = Some(1.6);
    case.report.state = State::Blocked;
    assert!(case.all().is_empty());
}

fn found(code: Code, state: State, severity: Severity, part: &str) -> Finding {
    Finding {
        code,
        state,
        about: vec![part.into()],
        ..crate::support::finding(severity, "words")
    }
}

#[test]
fn a_thing_that_two_states_show_is_told_once() {
    use Severity::{Note, Problem, Warning};
    let rows = [
        // (told by, is told, is dropped)
        ((State::Running, Warning), (State::Fouled, Warning), true),
        ((State::Running, Problem), (State::Fouled, Warning), true),
        ((State::Running, Warning), (State::Fouled, Problem), false),
        ((State::Running, Note), (State::Starting, Note), true),
        ((State::Rest, Warning), (State::Stopped, Warning), true),
        ((State::Running, Warning), (State::Stopped, Warning), true),
        ((State::Rest, Warning), (State::Running, Warning), false),
        ((State::Running, Warning), (State::Rest, Warning), false),
        ((State::Running, Warning), (State::Blocked, Warning), false),
    ];
    for ((by, loud), (state, severity), dropped) in rows {
        let list = vec![
            found(Code::TooFast, by, loud, "a"),
            found(Code::TooFast, state, severity, "a"),
        ];
        let left = without_repeats(list.clone());
        assert_eq!(left.len(), if dropped { 1 } else { 2 }, "{by:?} {state:?}");
        assert_eq!(left[0], list[0]);
    }
    let apart = vec![
        found(Code::TooFast, State::Running, Warning, "a"),
        found(Code::TooFast, State::Fouled, Warning, "b"),
        found(Code::TooSlow, State::Fouled, Warning, "a"),
    ];
    assert_eq!(without_repeats(apart.clone()), apart);
}

#[test]
fn a_pump_that_lacks_water_for_good_is_not_told_as_starting_too() {
    for code in [Code::PumpStarved, Code::PumpRunsDry, Code::NeverSteady] {
        let list = vec![
            found(code, State::Running, Severity::Problem, "lift"),
            found(
                Code::StarvesAtStart,
                State::Starting,
                Severity::Problem,
                "lift",
            ),
        ];
        assert_eq!(without_repeats(list).len(), 1, "{code:?}");
    }
    let lost = vec![
        found(Code::Spills, State::Running, Severity::Problem, "bed"),
        found(
            Code::StarvesWhenBlocked,
            State::Blocked,
            Severity::Warning,
            "lift",
        ),
    ];
    assert_eq!(without_repeats(lost).len(), 1);
    let brim = vec![
        found(Code::Spills, State::Running, Severity::Problem, "bed"),
        found(
            Code::LittleFreeboard,
            State::Stopped,
            Severity::Warning,
            "bed",
        ),
    ];
    assert_eq!(without_repeats(brim).len(), 1);
}
