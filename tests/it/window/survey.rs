//! Tests of the survey dialog: typing, preview, applying and cancelling.

use crate::support::window::{click, demo, level_m, says, settle};
use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use egui_kittest::{Harness, Node};
use fallwright::layout::Vessel;
use fallwright::window::App;

fn open(harness: &mut Harness<'_, App>) {
    click(harness, "Edit");
    click(harness, "Enter survey…");
    assert!(says(harness, "Numbers without a unit:").is_some());
}

fn field<'h>(harness: &'h Harness<'_, App>, label: &'h str) -> Node<'h> {
    harness.get_by_role_and_label(Role::TextInput, label)
}

fn write(harness: &mut Harness<'_, App>, label: &str, text: &str) {
    field(harness, label).focus();
    // A row out of sight is brought into sight.
    harness.run_steps(12);
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.step();
    field(harness, label).type_text(text);
    harness.run();
}

fn button<'h>(harness: &'h Harness<'_, App>, label: &'h str) -> Node<'h> {
    harness.get_by_role_and_label(Role::Button, label)
}

fn shown(harness: &Harness<'_, App>, id: &str) -> Vessel {
    let shown = harness.state().session().shown();
    shown.layout.vessel(&id.into()).unwrap().clone()
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// By hand: the mark at 200 and 1500 on it make a line of sight at 1700; 1700 − 424 = 1276.
fn typed() -> Harness<'static, App> {
    let mut harness = demo();
    open(&mut harness);
    write(&mut harness, "Mark", "the door sill");
    write(&mut harness, "Height of the mark", "200");
    write(&mut harness, "Reading on the mark", "1500");
    write(&mut harness, "Rim of Cress bed 3 read", "420; 424 ;419 mm");
    harness
}

#[test]
fn ui_what_is_read_is_seen_at_once_and_taken_as_one_step() {
    let mut harness = demo();
    let before = harness.state().session().layout().as_ref().clone();
    drop(harness);
    harness = typed();
    let session = harness.state().session();
    assert!(session.previewing());
    assert_eq!(session.layout().as_ref(), &before, "nothing is made yet");
    assert!(close(shown(&harness, "cress-3").rim_m, 1.276));
    for words in ["1276 mm", "5 mm", "No readings, left as drawn: Pit, Header"] {
        assert!(says(&harness, words).is_some(), "no {words}");
    }
    // The levels behind follow: the upstand moved with the bed, and so does the water.
    settle(&mut harness);
    let moved_m =
        shown(&harness, "cress-3").floor_m - before.vessel(&"cress-3".into()).unwrap().floor_m;
    let level = level_m(&harness, "cress-3");
    click(&mut harness, "Apply heights");
    settle(&mut harness);
    let session = harness.state().session();
    assert!(!session.previewing());
    assert!((level_m(&harness, "cress-3") - level).abs() < 1e-3);
    let said = harness.state().said().unwrap();
    let words = "Done: Set floors and rims from the survey with mark the door sill.";
    assert_eq!(said, words);
    assert!(says(&harness, "Numbers without a unit:").is_none());
    let after = shown(&harness, "cress-3");
    assert!(close(after.rim_m, 1.276));
    assert!(moved_m.abs() > 1e-3);
    click(&mut harness, "Undo");
    assert_eq!(harness.state().session().layout().as_ref(), &before);
}

#[test]
fn ui_escape_drops_a_survey_and_keeps_its_readings() {
    let mut harness = typed();
    harness.key_press(Key::Escape);
    harness.run();
    let session = harness.state().session();
    assert!(!session.previewing());
    assert!(session.undo_name().is_none());
    assert!(says(&harness, "Numbers without a unit:").is_none());
    open(&mut harness);
    let rim = "Rim of Cress bed 3 read";
    assert_eq!(field(&harness, rim).value().unwrap(), "420; 424 ;419 mm");
    assert!(harness.state().session().previewing());
    click(&mut harness, "Start over");
    assert_eq!(field(&harness, rim).value().unwrap_or_default(), "");
    assert!(!harness.state().session().previewing());
    click(&mut harness, "Cancel");
    assert!(harness.state().session().undo_name().is_none());
}

#[test]
fn ui_a_staff_in_metres_is_not_taken_for_millimetres() {
    let mut harness = typed();
    write(&mut harness, "Rim of Cress bed 3 read", "0.424");
    assert!(says(&harness, "0.424 could be metres").is_some());
    let take = button(&harness, "Apply heights");
    assert!(take.accesskit_node().is_disabled());
    click(&mut harness, "m");
    // Now the 200 of the mark and the 1500 on it are metres too.
    assert!(says(&harness, "1500 m is longer than any staff").is_some());
    write(&mut harness, "Height of the mark", "0.2");
    write(&mut harness, "Reading on the mark", "1,5");
    assert!(close(shown(&harness, "cress-3").rim_m, 1.276));
}

#[test]
fn ui_in_us_units_readings_are_inches_or_decimal_feet() {
    let mut harness = demo();
    click(&mut harness, "US");
    open(&mut harness);
    write(&mut harness, "Height of the mark", "1 ft");
    write(&mut harness, "Reading on the mark", "4' 6 1/2\"");
    write(&mut harness, "Rim of Cress bed 3 read", "1 ft 3 in");
    let inch_m = 0.0254;
    assert!(close(shown(&harness, "cress-3").rim_m, 51.5 * inch_m));
    assert!(says(&harness, "4 ft 3 1/2 in").is_some());
    click(&mut harness, "ft");
    write(&mut harness, "Rim of Cress bed 3 read", "1.25");
    assert!(close(shown(&harness, "cress-3").rim_m, 51.5 * inch_m));
}

#[test]
fn ui_heights_above_the_mark_need_no_reading_on_it() {
    let mut harness = demo();
    open(&mut harness);
    write(&mut harness, "Floor of Pit read", "-1300");
    assert!(says(&harness, "Type the reading on the mark").is_some());
    assert!(!harness.state().session().previewing());
    click(&mut harness, "Height above the mark");
    assert!(close(shown(&harness, "pit").floor_m, -1.3));
    assert!(says(&harness, "50 mm down").is_some());
}

#[test]
fn ui_the_instrument_is_moved_and_the_mark_read_again() {
    let mut harness = typed();
    click(&mut harness, "Add set-up");
    assert!(says(&harness, "Type the reading on the turning point").is_some());
    write(&mut harness, "Turning point from set-up 1", "300");
    write(&mut harness, "Turning point from set-up 2", "1100");
    write(&mut harness, "Rim of Header read", "100");
    assert!(close(shown(&harness, "header").rim_m, 2.4));
    assert!(close(shown(&harness, "cress-3").rim_m, 1.276));
    write(&mut harness, "Closing reading", "2302");
    assert!(says(&harness, "is 2.00 mm too low").is_some());
    write(&mut harness, "Distance walked", "40");
    assert!(says(&harness, "Third-order levelling allows 2.40 mm").is_some());
    write(&mut harness, "Distance walked", "10");
    assert!(says(&harness, "allows 1.20 mm: look for").is_some());
    assert!(says(&harness, "The error is not distributed").is_some());
    click(&mut harness, "Remove last set-up");
    assert!(close(shown(&harness, "cress-3").rim_m, 1.276));
}

#[test]
fn ui_a_rim_under_its_floor_is_told_and_cannot_be_taken() {
    let mut harness = typed();
    write(&mut harness, "Floor of Cress bed 3 read", "100");
    let words = "Its rim at 1276 mm is not above its floor at 1600 mm (Cress bed 3)";
    assert!(says(&harness, words).is_some());
    assert!(!harness.state().session().previewing());
    let take = button(&harness, "Apply heights");
    assert!(take.accesskit_node().is_disabled());
}

/// All that can be told at once: how it closes, what was not read, what is wrong.
fn type_everything(harness: &mut Harness<'_, App>) {
    click(harness, "Add set-up");
    for (label, text) in [
        ("Turning point from set-up 1", "300"),
        ("Turning point from set-up 2", "1100"),
        ("Rim of Header read", "100"),
        ("Closing reading", "2400"),
        ("Distance walked", "10"),
        ("Floor of Header read", "tall"),
    ] {
        write(harness, label, text);
    }
    click(harness, "Set-up 1");
    write(harness, "Reading on the mark", "1500");
    assert!(says(harness, "look for a wrong reading, or level again").is_some());
    assert!(says(harness, "Header, set-up 2: ").is_some());
}

#[test]
fn ui_a_survey_fits_a_small_window_and_needs_no_pointer() {
    let mut harness = demo();
    harness.set_size(egui::vec2(1100.0, 700.0));
    harness.run();
    open(&mut harness);
    let window = egui::Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(1100.0, 700.0));
    for name in ["Apply heights", "Cancel", "Start over"] {
        let rect = button(&harness, name).rect();
        assert!(window.contains_rect(rect), "{name}: {rect:?}");
    }
    for name in [
        "Mark",
        "Height of the mark",
        "Rim of Pit read",
        "Distance walked",
    ] {
        let rect = field(&harness, name).rect();
        assert!(window.contains_rect(rect), "{name}: {rect:?}");
    }
    type_everything(&mut harness);
    let rect = button(&harness, "Apply heights").rect();
    assert!(
        window.contains_rect(rect),
        "with all that is told: {rect:?}"
    );
    click(&mut harness, "Start over");
    // The mark has the focus; Tab leads on, and the whole can be typed.
    harness.event(egui::Event::Text("sill".to_owned()));
    harness.run();
    assert_eq!(field(&harness, "Mark").value().unwrap(), "sill");
    harness.key_press(Key::Tab);
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
    harness.step();
    harness.event(egui::Event::Text("200".to_owned()));
    harness.run();
    assert_eq!(
        field(&harness, "Height of the mark").value().unwrap(),
        "200"
    );
}
