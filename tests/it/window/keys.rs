//! Tests of the drawing by keyboard, and of panning, zooming and the limits of dragging.

use crate::support::window::{crest_m, demo, says, settle, take};
use egui_kittest::kittest::Queryable;

#[test]
fn ui_a_crest_is_chosen_and_set_by_keys() {
    let mut harness = demo();
    for _ in 0..40 {
        harness.key_press(egui::Key::N);
        harness.run();
        if says(&harness, "Upstand in Cress bed 3").is_some() {
            break;
        }
    }
    assert!(says(&harness, "Upstand in Cress bed 3").is_some());
    harness.key_press(egui::Key::ArrowUp);
    harness.run();
    settle(&mut harness);
    assert!((crest_m(&harness, "step-3") - 1.156).abs() < 1e-12);
    harness.key_press_modifiers(egui::Modifiers::SHIFT, egui::Key::ArrowDown);
    harness.run();
    settle(&mut harness);
    assert!((crest_m(&harness, "step-3") - 1.146).abs() < 1e-12);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    harness.run();
    assert!((crest_m(&harness, "step-3") - 1.156).abs() < 1e-12);
    let redo = egui::Modifiers::COMMAND | egui::Modifiers::SHIFT;
    harness.key_press_modifiers(redo, egui::Key::Z);
    harness.run();
    assert!((crest_m(&harness, "step-3") - 1.146).abs() < 1e-12);
}

#[test]
fn ui_a_drag_beside_the_parts_moves_the_page_and_f_fits_it_again() {
    let mut harness = demo();
    let name = "Crest of Cress upstand 3";
    let before = harness.get_by_label(name).rect().center();
    let from = egui::pos2(900.0, 100.0);
    harness.drag_at(from);
    harness.step();
    harness.hover_at(from + egui::vec2(40.0, 25.0));
    harness.step();
    harness.drop_at(from + egui::vec2(40.0, 25.0));
    harness.run();
    let moved = harness.get_by_label(name).rect().center() - before;
    assert!((moved - egui::vec2(40.0, 25.0)).length() < 1.0, "{moved:?}");
    assert!(harness.state().session().undo_name().is_none());
    harness.key_press(egui::Key::F);
    harness.run();
    let back = harness.get_by_label(name).rect().center() - before;
    assert!(back.length() < 0.5, "{back:?}");
}

#[test]
fn ui_the_wheel_enlarges_about_the_pointer() {
    let mut harness = demo();
    let name = "Crest of Cress upstand 3";
    let at = harness.get_by_label(name).rect().center();
    let other = "Crest of Cress upstand 4";
    let off = harness.get_by_label(other).rect().center() - at;
    harness.hover_at(at);
    harness.step();
    harness.event(egui::Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        delta: egui::vec2(0.0, 60.0),
        phase: egui::TouchPhase::Move,
        source: egui::MouseWheelSource::Wheel,
        modifiers: egui::Modifiers::NONE,
    });
    for _ in 0..40 {
        harness.step();
    }
    let held = harness.get_by_label(name).rect().center() - at;
    assert!(held.length() < 0.6, "{held:?}");
    let now = harness.get_by_label(other).rect().center() - at;
    assert!(now.length() > off.length() * 1.15, "{off:?} {now:?}");
}

#[test]
fn ui_a_crest_can_be_dragged_to_its_floor_and_not_through_it() {
    let mut harness = demo();
    take(&mut harness, "Crest of Cress upstand 3", 400.0);
    let floor = 0.95;
    assert!((crest_m(&harness, "step-3") - floor).abs() < 1e-9);
}
