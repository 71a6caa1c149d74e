//! Tests of the strip below the drawing: states, operating modes and the time bar.

use crate::support::window::{click, demo, says, settle};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use fallwright::state::State;
use fallwright::states::report::StateReport;
use fallwright::units::{Quantity, UnitSystem, write};
use fallwright::window::App;

const STATES: [(&str, State, egui::Key); 6] = [
    ("At rest", State::Rest, egui::Key::Num4),
    ("Starting", State::Starting, egui::Key::Num5),
    ("Running", State::Running, egui::Key::Num6),
    ("Fouled", State::Fouled, egui::Key::Num7),
    ("Blocked", State::Blocked, egui::Key::Num8),
    ("Stopped", State::Stopped, egui::Key::Num9),
];

/// The window on an example, solved.
fn example(name: &str) -> Harness<'static, App> {
    let mut harness = demo();
    let path = format!("{}/examples/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    harness.state_mut().open(std::path::Path::new(&path));
    harness.run();
    settle(&mut harness);
    harness
}

fn water(harness: &Harness<'_, App>) -> StateReport {
    harness.state().water().unwrap()
}

fn level_m(harness: &Harness<'_, App>, vessel: &str) -> f64 {
    let water = water(harness);
    let vessel = water.vessels.iter().find(|one| one.id.as_str() == vessel);
    vessel.unwrap().level_m.unwrap()
}

fn key(harness: &mut Harness<'_, App>, key: egui::Key) {
    harness.key_press(key);
    harness.run();
    settle(harness);
}

#[test]
fn ui_each_of_the_six_states_is_one_click_or_one_key_away() {
    let mut harness = example("two-beds");
    click(&mut harness, "Bed 1");
    let mut levels = Vec::new();
    for (name, state, _) in STATES {
        click(&mut harness, name);
        assert_eq!(water(&harness).state, state, "{name}");
        let drawn = format!("Section of Two beds over a tub, {}", state.title());
        assert!(says(&harness, &drawn).is_some(), "{name}");
        // The panel tells the level that is drawn.
        let level_m = level_m(&harness, "bed-1");
        let words = write(Quantity::Height, level_m, UnitSystem::Metric);
        assert!(says(&harness, &words).is_some(), "{name}: {words}");
        levels.push(level_m);
    }
    // At rest, running, fouled and blocked the bed stands at levels of their own.
    let [rest, _, running, fouled, blocked, stopped] = levels[..] else {
        panic!("six states");
    };
    assert!(running > rest + 0.01 && running > stopped + 0.01);
    assert!((running - fouled).abs() > 1e-4 && (running - blocked).abs() > 1e-4);
    for (name, state, number) in STATES {
        key(&mut harness, number);
        assert_eq!(water(&harness).state, state, "{name}");
    }
}

#[test]
fn ui_a_state_that_is_chosen_shows_how_it_ends_and_steps_lead_through_what_happens() {
    let mut harness = example("two-beds");
    click(&mut harness, "Blocked");
    assert_eq!(harness.state().time_s(), None);
    assert!(says(&harness, "First spill after 1 min 29 s: Bed 2").is_some());
    // Back from the end to the first thing that happened.
    let mut times = Vec::new();
    for _ in 0..8 {
        key(&mut harness, egui::Key::Num8);
        for _ in times.iter().chain([&0.0]) {
            click(&mut harness, "Previous event");
        }
        let time_s = harness.state().time_s().unwrap();
        if times.last() == Some(&time_s) {
            break;
        }
        times.push(time_s);
    }
    assert!(times.windows(2).all(|pair| pair[0] > pair[1]), "{times:?}");
    assert_eq!(times.last(), Some(&0.0));
    assert!(says(&harness, "0 s after Side hole 2 was shut").is_some());
    let at_first_m = level_m(&harness, "bed-2");
    click(&mut harness, "Next event");
    let spill_s = harness.state().time_s().unwrap();
    assert!((spill_s - 88.0).abs() < 1.0, "{spill_s}");
    assert!(level_m(&harness, "bed-2") > at_first_m + 0.05);
    for _ in &times {
        click(&mut harness, "Next event");
    }
    assert_eq!(harness.state().time_s(), None);
}

#[test]
fn ui_a_sign_is_an_event_that_can_be_clicked() {
    let mut harness = example("two-beds");
    click(&mut harness, "Blocked");
    click(
        &mut harness,
        "Little pump runs dry and stops after 8 min 51 s",
    );
    assert!((harness.state().time_s().unwrap() - 531.0).abs() < 1.0);
    assert_eq!(water(&harness).pumps[0].flow_m3_s, 0.0);
    assert!(says(&harness, "8 min 51 s after Side hole 2 was shut").is_some());
    // The first wet floor stays in sight, and leads there.
    click(&mut harness, "First spill after 1 min 29 s: Bed 2");
    assert!((harness.state().time_s().unwrap() - 88.0).abs() < 1.0);
    assert!(water(&harness).pumps[0].flow_m3_s > 0.0);
}

#[test]
fn ui_the_time_is_dragged_and_the_levels_follow() {
    let mut harness = example("two-beds");
    click(&mut harness, "Stopped");
    let track = harness.get_by_label("Time after the stop").rect();
    let at = |share: f32| {
        egui::pos2(
            track.left() + 128.0 + share * (track.width() - 244.0),
            track.center().y,
        )
    };
    harness.hover_at(at(0.2));
    harness.step();
    harness.drag_at(at(0.2));
    harness.step();
    let mut levels = Vec::new();
    for share in [0.3, 0.5, 0.8] {
        harness.hover_at(at(share));
        harness.step();
        harness.step();
        assert!(harness.state().time_s().is_some());
        levels.push(level_m(&harness, "bed-1"));
    }
    harness.drop_at(at(0.8));
    harness.run();
    assert!(
        levels.windows(2).all(|pair| pair[0] > pair[1]),
        "{levels:?}"
    );
    assert!((level_m(&harness, "bed-1") - levels[2]).abs() < 1e-4);
    // Water is neither made nor lost on the way.
    let all_m3 = |report: &StateReport| report.water_m3() + report.in_runs_m3;
    let before = all_m3(harness.state().session().shown().running.unwrap());
    assert!((all_m3(&water(&harness)) - before).abs() < 1e-5);
    // Nothing in the layout has changed by it.
    assert!(harness.state().session().undo_name().is_none());
}

#[test]
fn ui_time_plays_to_its_end_and_then_the_window_is_still() {
    let mut harness = example("two-beds");
    click(&mut harness, "Starting");
    harness.get_by_label("Play").click();
    harness.run_steps(3);
    let first_s = harness.state().time_s().unwrap();
    harness.run_steps(60);
    let second_s = harness.state().time_s().unwrap();
    assert!(second_s > first_s);
    assert!(says(&harness, "1 s = about").is_some());
    harness.get_by_label("Pause").click();
    harness.run_steps(2);
    let stands_s = harness.state().time_s();
    harness.run();
    assert_eq!(harness.state().time_s(), stands_s);
    harness.get_by_label("Play").click();
    harness.run_steps(5000);
    assert_eq!(harness.state().time_s(), None);
    // Settles: nobody asks for another frame.
    harness.run();
    assert!(says(&harness, "Steady after 8 min 5 s").is_some());
}

#[test]
fn ui_another_run_is_shut_at_a_click() {
    let mut harness = example("two-beds");
    click(&mut harness, "Blocked");
    assert!(says(&harness, "Run that is shut: Side hole 2").is_some());
    click(&mut harness, "Run that is shut: Side hole 2");
    click(&mut harness, "Upstand 1: Bed 1 spills after 1 min 56 s");
    assert!(says(&harness, "First spill after 1 min 56 s: Bed 1").is_some());
    assert!(level_m(&harness, "bed-1") > 1.149);
    click(&mut harness, "First spill after 1 min 56 s: Bed 1");
    assert!((level_m(&harness, "bed-1") - 1.150).abs() < 1e-3);
}

#[test]
fn ui_a_layout_runs_otherwise_at_a_click() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("otherwise.ron");
    let plain = include_str!("../../../examples/two-beds.ron");
    let ways = "water: (cold_c: 5), ways: [(id: \"half\", name: \"Half open\", \
        valves: [(run: \"lift\", opening: 0.4)])], vessels: [";
    std::fs::write(&path, plain.replacen("vessels: [", ways, 1)).unwrap();
    let mut harness = demo();
    harness.state_mut().open(&path);
    harness.run();
    settle(&mut harness);
    let drawn = water(&harness);
    let mut seen = Vec::new();
    for way in ["Half open", "Water 5.0 °C"] {
        click(&mut harness, way);
        let otherwise = water(&harness);
        assert_eq!(otherwise.state, State::Running);
        assert!(
            otherwise.pumps[0].flow_m3_s < drawn.pumps[0].flow_m3_s,
            "{way}"
        );
        // It is for the running state alone, and another state leaves it.
        click(&mut harness, "Stopped");
        assert!(harness.query_by_label(way).is_none());
        click(&mut harness, "Running");
        assert_eq!(water(&harness).runs, drawn.runs);
        click(&mut harness, way);
        assert_eq!(water(&harness).runs, otherwise.runs);
        seen.push(otherwise.runs);
        click(&mut harness, "As drawn");
        assert_eq!(water(&harness).runs, drawn.runs);
    }
    assert_ne!(seen[0], seen[1]);
}

#[test]
fn ui_other_units_change_no_moment() {
    let mut harness = example("two-beds");
    click(&mut harness, "Blocked");
    click(&mut harness, "First spill after 1 min 29 s: Bed 2");
    let (time_s, level) = (harness.state().time_s(), level_m(&harness, "bed-2"));
    click(&mut harness, "US");
    assert_eq!(harness.state().time_s(), time_s);
    assert_eq!(level_m(&harness, "bed-2"), level);
    assert_eq!(water(&harness).state, State::Blocked);
}

#[test]
fn ui_a_change_keeps_the_moment_and_follows_anew() {
    let mut harness = example("two-beds");
    click(&mut harness, "Stopped");
    click(&mut harness, "Previous event");
    click(&mut harness, "Previous event");
    let before_m = level_m(&harness, "tub");
    let layout = harness.state().session().layout().clone();
    let edit = crate::support::fields::number(&layout, &"tub".into(), "fill_m", 0.40);
    let session = harness.state_mut().session_mut();
    session.commit(edit.unwrap()).unwrap();
    harness.run();
    settle(&mut harness);
    assert!(level_m(&harness, "tub") < before_m - 0.01);
    assert_eq!(water(&harness).state, State::Stopped);
}

#[test]
fn ui_at_rest_there_is_no_time() {
    let mut harness = example("two-beds");
    click(&mut harness, "At rest");
    assert!(harness.query_by_label("Play").is_none());
    key(&mut harness, egui::Key::W);
    assert!(harness.state().said().unwrap().contains("Choose Starting"));
}

#[test]
fn ui_the_first_wet_floor_is_in_sight_wherever_time_stands() {
    let mut harness = example("drain-too-high");
    for state in ["Stopped", "Starting"] {
        click(&mut harness, state);
        for step in ["Previous event", "Previous event", "Next event"] {
            assert!(says(&harness, "Cress bed 2").is_some());
            let spill = says(&harness, "First spill after");
            assert!(
                spill.is_some() || says(&harness, "Cress bed 2 spills from the start").is_some(),
                "{state}, before {step}"
            );
            click(&mut harness, step);
        }
    }
    // Nothing spills in a sound layout, and that is said too.
    let mut harness = example("two-beds");
    click(&mut harness, "Stopped");
    assert!(says(&harness, "No spill").is_some());
}
