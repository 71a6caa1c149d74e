//! Tests of the grade line in the window, along the path through the selection.

use crate::support::window::{click, demo, let_go, says, settle, take};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use fallwright::draw::section::Pick;
use fallwright::window::App;

/// The name of the drawing, which tells its path.
fn path(harness: &Harness<'_, App>) -> String {
    let mut named = harness.query_all_by_label_contains("Grade line of ");
    let node = named.next().expect("a grade line");
    node.accesskit_node().label().unwrap_or_default()
}

fn shown() -> Harness<'static, App> {
    let mut harness = demo();
    click(&mut harness, "Grade line");
    harness
}

#[test]
fn ui_without_a_selection_it_is_the_way_of_the_most_water() {
    let harness = shown();
    let path = path(&harness);
    assert!(path.contains("running: Header → Cress bed 1"), "{path}");
    assert!(path.ends_with("Pit → Circulation pump → Header"), "{path}");
}

#[test]
fn ui_the_path_goes_through_what_is_selected() {
    let mut harness = demo();
    click(&mut harness, "Perch tank 2");
    harness.key_press(egui::Key::G);
    harness.run();
    let by_tank = path(&harness);
    assert!(
        by_tank.contains("Perch tank 2 → Trench → Trickle tower → Pit"),
        "{by_tank}"
    );
    // A click on a run of it selects that run, and the path goes through it.
    click(&mut harness, "Lift (grade line)");
    assert_eq!(
        harness.state().tool_state().selected,
        [Pick::Part("lift".into())]
    );
    assert!(says(&harness, "Run from Pit to Header").is_some());
    assert!(path(&harness).contains("Circulation pump"));
}

#[test]
fn ui_pointing_to_a_place_tells_its_numbers() {
    let mut harness = shown();
    let at = harness.get_by_label("Lift (grade line)").rect().center();
    harness.hover_at(at);
    harness.run();
    for words in [
        "along the pipes",
        "Pressure above the pipe",
        "Energy ",
        "Pipe from ",
    ] {
        assert!(says(&harness, words).is_some(), "{words}");
    }
}

#[test]
fn ui_it_follows_the_state_and_the_drag() {
    let mut harness = shown();
    click(&mut harness, "At rest");
    settle(&mut harness);
    assert!(
        path(&harness).contains("at rest: Header → "),
        "{}",
        path(&harness)
    );
    click(&mut harness, "Running");
    click(&mut harness, "Section");
    let held = take(&mut harness, "Crest of Cress upstand 3", -22.0);
    let_go(&mut harness, held);
    click(&mut harness, "Grade line");
    assert!(path(&harness).contains("Cress bed 3"), "{}", path(&harness));
}

#[test]
fn ui_a_layout_without_runs_says_what_to_do() {
    let mut harness = demo();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::N);
    harness.run();
    settle(&mut harness);
    click(&mut harness, "Grade line");
    assert!(says(&harness, "Draw a run first").is_some());
}
