//! Tests of the properties panel: typing values, and changing units.

use crate::support::window::{click, crest_m, demo, dry, says, settle};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use fallwright::units::UnitSystem;
use fallwright::window::App;

/// Types into the field with this label, from an empty field.
fn write(harness: &mut Harness<'_, App>, label: &str, text: &str) {
    field(harness, label).focus();
    harness.run();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.step();
    field(harness, label).type_text(text);
    harness.step();
    harness.step();
}

fn field<'h>(harness: &'h Harness<'_, App>, label: &'h str) -> egui_kittest::Node<'h> {
    harness.get_by_role_and_label(egui::accesskit::Role::TextInput, label)
}

#[test]
fn ui_a_height_that_is_typed_is_previewed_and_then_made() {
    let mut harness = demo();
    click(&mut harness, "Crest of Cress upstand 3");
    write(&mut harness, "Crest", "1245");
    assert!((crest_m(&harness, "step-3") - 1.245).abs() < 1e-12);
    assert!(harness.state().session().previewing());
    harness.key_press(egui::Key::Enter);
    harness.run();
    settle(&mut harness);
    assert!(!harness.state().session().previewing());
    assert!((crest_m(&harness, "step-3") - 1.245).abs() < 1e-12);
    assert!(says(&harness, "Cress bed 2 spills").is_some());
    let said = harness.state().said().unwrap();
    assert_eq!(said, "Done: Set the crest of Cress upstand 3 to 1245 mm.");
}

#[test]
fn ui_escape_drops_what_is_typed() {
    let mut harness = demo();
    click(&mut harness, "Crest of Cress upstand 3");
    write(&mut harness, "Crest", "1245");
    harness.key_press(egui::Key::Escape);
    harness.run();
    assert!(!harness.state().session().previewing());
    assert!((crest_m(&harness, "step-3") - 1.155).abs() < 1e-12);
    assert!(harness.state().session().undo_name().is_none());
}

#[test]
fn ui_what_cannot_be_read_is_said_beside_the_field_and_changes_nothing() {
    let mut harness = demo();
    click(&mut harness, "Crest of Cress upstand 3");
    write(&mut harness, "Crest", "1,215");
    assert!(says(&harness, "can be read in two ways").is_some());
    write(&mut harness, "Crest", "tall");
    assert!(says(&harness, "a height is typed such as 1215").is_some());
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!((crest_m(&harness, "step-3") - 1.155).abs() < 1e-12);
    assert!(harness.state().session().undo_name().is_none());
}

#[test]
fn ui_a_height_that_no_layout_can_hold_is_refused_with_its_range() {
    let mut harness = unsolved();
    click(&mut harness, "Cress bed 3");
    write(&mut harness, "Rim", "200 mm");
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!(says(&harness, "The rim is 200 mm, not above the floor at").is_some());
    assert!(harness.state().session().undo_name().is_none());
}

fn unsolved() -> Harness<'static, App> {
    dry(egui::Theme::Light, (1440.0, 870.0))
}

/// Bottom of what has this name, and top of what says this.
fn under(harness: &Harness<'_, App>, label: &str, words: &str) -> f32 {
    let field = field(harness, label).rect();
    says(harness, words).unwrap().rect().top() - field.bottom()
}

#[test]
fn ui_a_field_that_refuses_says_so_under_it_in_the_units_of_the_reader_and_keeps_what_was_typed() {
    let mut harness = unsolved();
    click(&mut harness, "Cress bed 3");
    click(&mut harness, "US");
    write(&mut harness, "Rim", "100000000");
    harness.key_press(egui::Key::Enter);
    harness.run();
    let range = "from -65600 ft to 65600 ft";
    let gap = under(&harness, "Rim", range);
    assert!((0.0..24.0).contains(&gap), "{gap}");
    assert_eq!(field(&harness, "Rim").value().unwrap(), "100000000");
    assert!(says(&harness, "20000 m").is_none());
    click(&mut harness, "Metric");
    assert!(says(&harness, "from -20000 m to 20000 m").is_some());
    // Another part has its own field; this one waits.
    click(&mut harness, "Cress bed 2");
    assert!(says(&harness, "give it a number").is_none());
    click(&mut harness, "US");
    click(&mut harness, "Cress bed 3");
    assert_eq!(field(&harness, "Rim").value().unwrap(), "100000000");
    write(&mut harness, "Rim", "5 ft");
    assert!(says(&harness, "give it a number").is_none());
    harness.key_press(egui::Key::Enter);
    harness.run();
    let layout = harness.state().session().layout().clone();
    let rim_m = layout.vessel(&"cress-3".into()).unwrap().rim_m;
    assert!((rim_m - 1.524).abs() < 1e-9, "{rim_m}");
    assert_eq!(field(&harness, "Rim").value().unwrap(), "5 ft 0 in");
}

#[test]
fn ui_what_is_refused_is_dropped_with_escape_and_the_number_stands_again() {
    let mut harness = unsolved();
    click(&mut harness, "Crest of Cress upstand 3");
    write(&mut harness, "Crest", "tall");
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert_eq!(field(&harness, "Crest").value().unwrap(), "tall");
    write(&mut harness, "Crest", "high");
    harness.key_press(egui::Key::Escape);
    harness.run();
    assert!(says(&harness, "a height is typed such as").is_none());
    assert_eq!(field(&harness, "Crest").value().unwrap(), "1155 mm");
}

#[test]
fn ui_units_change_at_a_click_and_the_data_do_not() {
    let mut harness = demo();
    let before = harness.state().session().layout().as_ref().clone();
    click(&mut harness, "Crest of Cress upstand 3");
    click(&mut harness, "US");
    assert_eq!(harness.state().session().layout().units, UnitSystem::Us);
    assert_eq!(field(&harness, "Crest").value().unwrap(), "3 ft 9 1/2 in");
    // Typed in inches, it is 48 inches and not 48 millimetres.
    write(&mut harness, "Crest", "48");
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!((crest_m(&harness, "step-3") - 1.2192).abs() < 1e-9);
    click(&mut harness, "Undo");
    click(&mut harness, "Metric");
    assert_eq!(*harness.state().session().layout().as_ref(), before);
}

#[test]
fn ui_every_kind_of_part_shows_its_inputs_and_answers() {
    let mut harness = demo();
    for (name, kind, answer) in [
        ("Cress bed 2", "Vessel: bed", "Freeboard"),
        (
            "Terrace feed",
            "Run from Header to Cress bed 1",
            "Capacity at rim",
        ),
        ("Circulation pump", "Pump in Lift", "Shut-off head"),
        (
            "Collector 1",
            "Joint: runs meet without a free surface",
            "Pressure",
        ),
        (
            "Crest of Perch drain 1",
            "Raised-intake overflow in Perch tank 1",
            "Water above it",
        ),
    ] {
        click(&mut harness, name);
        assert!(says(&harness, kind).is_some(), "{name}: no {kind}");
        assert!(says(&harness, answer).is_some(), "{name}: no {answer}");
        harness.key_press(egui::Key::Escape);
        harness.run();
    }
}

#[test]
fn ui_at_rest_and_running_are_told_apart() {
    let mut harness = demo();
    click(&mut harness, "Circulation pump");
    assert!(says(&harness, "Static lift").is_some());
    click(&mut harness, "At rest");
    assert!(says(&harness, "Static lift").is_none());
    click(&mut harness, "Running");
    assert!(says(&harness, "Static lift").is_some());
}

#[test]
fn ui_what_is_typed_as_it_will_read_is_made_too() {
    let mut harness = demo();
    click(&mut harness, "Crest of Cress upstand 3");
    write(&mut harness, "Crest", "1245 mm");
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!((crest_m(&harness, "step-3") - 1.245).abs() < 1e-12);
    assert!(!harness.state().session().previewing());
    assert!(harness.state().session().undo_name().is_some());
    click(&mut harness, "Cress bed 2");
    write(&mut harness, "Name", "Bed by the door");
    harness.key_press(egui::Key::Enter);
    harness.run();
    let layout = harness.state().session().layout();
    assert_eq!(
        layout.vessel(&"cress-2".into()).unwrap().name,
        "Bed by the door"
    );
}

#[test]
fn ui_a_valve_is_set_in_percent() {
    let mut harness = demo();
    click(&mut harness, "Terrace feed");
    let kind = fallwright::catalogue::Catalogue::builtin()
        .valve("ball")
        .unwrap();
    let (first, rest) = kind.words.split_at(1);
    let label = first.to_uppercase() + rest;
    assert_eq!(field(&harness, &label).value().unwrap(), "60 %");
    write(&mut harness, &label, "70");
    harness.key_press(egui::Key::Enter);
    harness.run();
    let valve = |harness: &Harness<'_, App>| {
        let layout = harness.state().session().layout();
        layout.run(&"feed-cress".into()).unwrap().valves[0].opening
    };
    assert!((valve(&harness) - 0.7).abs() < 1e-12);
    write(&mut harness, &label, "170 %");
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!((valve(&harness) - 0.7).abs() < 1e-12);
    let said = harness.state().said().unwrap();
    assert!(said.contains("open"), "{said}");
}
