//! Which crest, pipe or level is to blame.

use super::case::Case;
use crate::support::layouts::{at, fixed, run, submerged, tank, upstand, valve};
use fallwright::check::blame::{Blame, blame, crests_below};
use fallwright::layout::RunEnd;
use fallwright::layout::{Layout, Opening, Turned};
use fallwright::states::report::Control;

/// Three beds in a chain, each drained by an upstand into the next, the last into a ditch.
fn chain() -> Case {
    let step =
        |id: &str, from: &str, to: &str| run(id, at(from, upstand(0.8)), at(to, submerged()));
    let layout = Layout {
        vessels: vec![
            tank("a", 0.5, 1.0),
            tank("b", 0.5, 1.0),
            tank("c", 0.5, 1.0),
        ],
        fixed: vec![fixed("ditch", 0.0)],
        runs: vec![
            step("ab", "a", "b"),
            step("bc", "b", "c"),
            step("out", "c", "ditch"),
        ],
        ..Layout::default()
    };
    let mut case = Case::new(layout);
    for (id, level_m) in [("a", 1.014), ("b", 1.004), ("c", 0.994)] {
        case.vessel(id).level_m = Some(level_m);
    }
    case.run("out").control = Control::Inlet;
    case
}

fn of(case: &Case, vessel: &str) -> Blame {
    let at = case
        .report
        .vessels
        .iter()
        .find(|at| at.id.as_str() == vessel);
    let excess_m = (at.unwrap().level_m.unwrap() - 1.0).max(0.01);
    blame(&case.layout, &case.report, &vessel.into(), excess_m)
}

fn crest_of(case: &Case, vessel: &str) -> String {
    match of(case, vessel) {
        Blame::Crest(crest) => crest.run.to_string(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_run_under_inlet_control_is_held_by_its_own_crest() {
    let mut case = chain();
    case.run("ab").control = Control::Inlet;
    assert_eq!(crest_of(&case, "a"), "ab");
}

#[test]
fn a_drowned_run_hands_the_blame_down_the_chain() {
    let case = chain();
    let Blame::Crest(crest) = of(&case, "a") else {
        panic!("a crest is to blame");
    };
    assert_eq!((crest.run.as_str(), crest.at.as_str()), ("out", "c"));
    assert_eq!((crest.which, crest.height_m), (RunEnd::From, 0.8));
    let below = crests_below(&case.layout, &case.report, &"a".into());
    let below: Vec<&str> = below.iter().map(|crest| crest.run.as_str()).collect();
    assert_eq!(below, ["ab", "bc", "out"]);
}

#[test]
fn a_pipe_that_loses_most_is_to_blame() {
    let mut case = chain();
    case.run("ab").loss_m = 0.31;
    case.vessel("a").level_m = Some(1.3);
    let Blame::Pipe { run, loss_m, .. } = of(&case, "a") else {
        panic!("the pipe is to blame");
    };
    assert_eq!((run.as_str(), loss_m), ("ab", 0.31));
}

#[test]
fn a_screen_that_loses_most_is_to_blame_and_not_its_pipe() {
    let mut case = chain();
    case.run("ab").loss_m = 0.31;
    case.vessel("a").level_m = Some(1.3);
    let screen = |which, loss_m| Blame::Screen {
        run: "ab".into(),
        which,
        loss_m,
    };
    case.run("ab").loss_m = 0.61;
    case.run("ab").screens_m = [0.5, 0.0];
    assert_eq!(of(&case, "a"), screen(RunEnd::From, 0.5));
    case.run("ab").screens_m = [0.0, 0.5];
    assert_eq!(of(&case, "a"), screen(RunEnd::To, 0.5));
    // The pipe is told without its screens.
    case.run("ab").screens_m = [0.0, 0.1];
    let Blame::Pipe { loss_m, .. } = of(&case, "a") else {
        panic!("the pipe is to blame");
    };
    assert!((loss_m - 0.51).abs() < 1e-12);
}

#[test]
fn a_screen_before_a_crest_has_its_part_of_what_stands_over_it() {
    let mut case = chain();
    case.run("ab").control = Control::Inlet;
    case.vessel("a").level_m = Some(1.3);
    // 0.5 m over the crest: 0.35 by the screen, 0.15 by the lip.
    case.run("ab").screens_m = [0.35, 0.0];
    let wanted = Blame::Screen {
        run: "ab".into(),
        which: RunEnd::From,
        loss_m: 0.35,
    };
    assert_eq!(of(&case, "a"), wanted);
    case.run("ab").screens_m = [0.2, 0.0];
    assert!(matches!(of(&case, "a"), Blame::Crest(_)));
    // Behind the crest water falls free, whatever a screen there takes.
    case.run("ab").screens_m = [0.0, 0.4];
    assert!(matches!(of(&case, "a"), Blame::Crest(_)));
}

#[test]
fn a_loss_smaller_than_what_is_over_the_crest_is_not() {
    let mut case = chain();
    case.run("ab").loss_m = 0.1;
    assert_eq!(crest_of(&case, "a"), "out");
}

#[test]
fn an_opening_whose_crest_cannot_go_low_enough_is_too_small() {
    let mut case = chain();
    case.run("ab").control = Control::Inlet;
    case.vessel("a").level_m = Some(1.301);
    assert!(matches!(of(&case, "a"), Blame::SmallOpening(_)));
    case.vessel("a").level_m = Some(1.3);
    assert!(
        matches!(of(&case, "a"), Blame::Crest(_)),
        "down to the floor is allowed"
    );
}

#[test]
fn a_raised_crest_with_a_free_drop_holds_its_level() {
    let mut case = chain();
    case.layout.runs[0].from.opening = Some(Opening::RaisedIntake {
        intake_m: 0.6,
        crest_m: 0.9,
        crest: Default::default(),
        rise: Default::default(),
        vent: Default::default(),
    });
    assert_eq!(crest_of(&case, "a"), "out");
    case.run("ab").free_drop_m = 0.05;
    assert_eq!(crest_of(&case, "a"), "ab");
}

#[test]
fn rings_end() {
    let mut case = chain();
    case.layout.runs[2].to.at = "a".into();
    case.run("out").to = "a".into();
    case.run("out").control = Control::Outlet;
    assert!(matches!(of(&case, "a"), Blame::Level { .. }));
}

#[test]
fn a_mouth_in_air_and_a_fixed_level() {
    let mut case = chain();
    case.run("out").control = Control::Outlet;
    case.run("out").loss_m = 0.005;
    let Blame::Level { at: part, level_m } = of(&case, "c") else {
        panic!("the ditch is to blame");
    };
    assert_eq!((part.as_str(), level_m), ("ditch", 0.0));
    case.layout.runs[2].to = at(
        "ditch",
        Opening::Mouth {
            lip_m: 0.99,
            turned: Turned::Up,
            bore_m: None,
            air_gap: false,
        },
    );
    case.run("out").drowned = false;
    let Blame::Mouth(mouth) = of(&case, "c") else {
        panic!("the end is to blame");
    };
    assert_eq!((mouth.which, mouth.height_m), (RunEnd::To, 0.99));
}

#[test]
fn nothing_flows_out() {
    let mut case = chain();
    case.run("ab").flow_m3_s = 0.0;
    case.run("ab").control = Control::Still;
    assert_eq!(of(&case, "a"), Blame::NoWayOut);
    case.run("ab").control = Control::Shut;
    case.layout.runs[0].valves = vec![valve("gate", 0.0)];
    assert_eq!(of(&case, "a"), Blame::Shut("ab".into()));
    case.run("ab").control = Control::Dry;
    case.layout.runs[0].from.opening = Some(upstand(1.1));
    assert_eq!(crest_of(&case, "a"), "ab");
}

#[test]
fn water_that_flows_backward_is_followed_too() {
    let mut case = chain();
    // Drawn from b to a, flowing from a to b.
    let run = &mut case.layout.runs[0];
    std::mem::swap(&mut run.from, &mut run.to);
    let here = case.run("ab");
    std::mem::swap(&mut here.from, &mut here.to);
    here.flow_m3_s = -0.001;
    here.control = Control::Inlet;
    let Blame::Crest(crest) = of(&case, "a") else {
        panic!("a crest is to blame");
    };
    assert_eq!((crest.run.as_str(), crest.which), ("ab", RunEnd::To));
}
