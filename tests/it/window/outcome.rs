//! Tests of the choice between the outcomes with air and primed.

use crate::support::air::{BRIDGE, HOSE};
use crate::support::window::{click, demo, says, settle};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use fallwright::states::report::{Outcome, StateReport};
use fallwright::units::{Quantity, UnitSystem, write};
use fallwright::window::App;

/// The window on a layout, solved.
fn opened(layout: &str) -> Harness<'static, App> {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("layout.ron");
    std::fs::write(&file, layout).expect("a file");
    let mut harness = demo();
    harness.state_mut().open(&file);
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

#[test]
fn ui_the_switch_shows_drawing_panel_and_note_in_the_other_outcome() {
    let mut harness = opened(BRIDGE);
    click(&mut harness, "Tank A");
    assert_eq!(
        water(&harness).outcome,
        Outcome::WithAir,
        "what comes by itself"
    );
    assert!(says(&harness, "Once Bridge is primed: Sump stands").is_some());
    let with_air_m = level_m(&harness, "a");
    click(&mut harness, "Primed");
    assert_eq!(water(&harness).outcome, Outcome::Primed);
    let primed_m = level_m(&harness, "a");
    assert!(primed_m < with_air_m - 0.2);
    let level = write(Quantity::Height, primed_m, UnitSystem::Metric);
    assert!(says(&harness, &level).is_some(), "the panel: {level}");
    assert!(says(&harness, "With air in Bridge: Sump stands").is_some());
    // It stays chosen from state to state.
    click(&mut harness, "At rest");
    assert_eq!(water(&harness).outcome, Outcome::Primed);
    click(&mut harness, "With air");
    assert_eq!(water(&harness).outcome, Outcome::WithAir);
}

#[test]
fn ui_the_time_bar_says_that_of_the_second_outcome_the_end_alone_is_shown() {
    let mut harness = opened(HOSE);
    click(&mut harness, "Starting");
    assert!(says(&harness, "Steady after").is_some());
    click(&mut harness, "Primed");
    let words = "Primed shows only the end of this state. Choose With air to play it.";
    assert!(says(&harness, words).is_some());
    assert!(says(&harness, "Steady after").is_none());
    click(&mut harness, "With air");
    assert!(says(&harness, words).is_none());
}

#[test]
fn ui_the_panel_of_a_run_says_what_stands_at_its_high_point_in_both_systems() {
    let mut harness = opened(BRIDGE);
    click(&mut harness, "Bridge");
    assert!(says(&harness, "at the high point, 1500 mm").is_some());
    click(&mut harness, "US");
    let high = write(Quantity::Height, 1.5, UnitSystem::Us);
    let words = format!("at the high point, {high}");
    assert!(says(&harness, &words).is_some(), "{words}");
    click(&mut harness, "Primed");
    assert!(says(&harness, "full over its high point").is_some());
    assert!(says(&harness, "at the high point").is_none());
}

#[test]
fn ui_a_state_with_one_outcome_has_no_switch() {
    let mut harness = demo();
    let path = format!("{}/examples/two-beds.ron", env!("CARGO_MANIFEST_DIR"));
    harness.state_mut().open(std::path::Path::new(&path));
    harness.run();
    settle(&mut harness);
    assert!(harness.query_all_by_label("With air").next().is_none());
}
