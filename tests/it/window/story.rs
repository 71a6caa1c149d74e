//! Tests one whole task: drag a crest until the bed spills, read the finding, apply its cure, undo, save, open again.

use crate::support::window::{Answers, click, crest_m, let_go, level_m, says, settle, take, with};
use egui_kittest::kittest::Queryable;
use fallwright::file;
use fallwright::finding::Code;
use fallwright::session::Freshness;

const CREST: &str = "Crest of Cress upstand 3";

#[test]
fn ui_drag_a_crest_until_the_bed_spills_then_cure_undo_save_and_open() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("mine.ron");
    let answers = Answers {
        save: [path.clone()].into(),
        open: [path.clone()].into(),
        ..Answers::default()
    };
    let mut harness = with(answers);
    let before = harness.state().session().layout().as_ref().clone();
    let still = level_m(&harness, "cress-2");
    assert!(!codes(&harness).contains(&Code::Spills));

    // While it is held, every level follows in the same frame.
    let held = take(&mut harness, CREST, -22.0);
    let shown = harness.state().session().shown();
    assert_ne!(shown.levels, Freshness::Stale);
    assert!(harness.state().session().previewing());
    let raised = crest_m(&harness, "step-3");
    assert!(raised > 1.20, "{raised}");
    assert!(level_m(&harness, "cress-2") > still + 0.03);

    // Let go: one step, followed to the end, and the bed that spills is told.
    let_go(&mut harness, held);
    assert!(!harness.state().session().previewing());
    assert_eq!(
        harness.state().session().shown().reported,
        Freshness::Solved
    );
    assert!(says(&harness, "Cress bed 2 spills").is_some());
    assert!(codes(&harness).contains(&Code::Spills));

    // The cure, with one click; the finding is gone.
    let cure = {
        let mut cures =
            harness.query_all_by_label_contains("Apply: Lower the crest of Cress upstand 3");
        let node = cures.next().expect("a cure that can be applied");
        node.click();
        node.rect()
    };
    assert!(cure.width() > 10.0);
    harness.run();
    settle(&mut harness);
    assert!(!codes(&harness).contains(&Code::Spills));
    assert!(crest_m(&harness, "step-3") < raised);

    // Two steps were made, both are taken back, and the layout is what it was.
    click(&mut harness, "Undo");
    assert!((crest_m(&harness, "step-3") - raised).abs() < 1e-12);
    click(&mut harness, "Undo");
    assert_eq!(*harness.state().session().layout().as_ref(), before);
    assert!(harness.state().session().undo_name().is_none());
    click(&mut harness, "Redo");
    let wanted = harness.state().session().layout().as_ref().clone();
    assert_ne!(wanted, before);

    // Saved, read back and opened, it is equal.
    let save = egui::Modifiers::COMMAND;
    harness.key_press_modifiers(save, egui::Key::S);
    harness.run();
    assert!(!harness.state().session().unsaved());
    assert_eq!(file::read(&path).unwrap(), wanted);
    harness.key_press_modifiers(save, egui::Key::O);
    harness.run();
    settle(&mut harness);
    assert_eq!(*harness.state().session().layout().as_ref(), wanted);
    assert_eq!(harness.state().session().path(), Some(path.as_path()));
}

#[test]
fn ui_escape_drops_a_drag_and_what_follows_until_the_button_is_let_go() {
    let mut harness = crate::support::window::demo();
    let before = harness.state().session().layout().as_ref().clone();
    let held = take(&mut harness, CREST, -20.0);
    assert!(crest_m(&harness, "step-3") > 1.2);
    harness.key_press(egui::Key::Escape);
    harness.step();
    assert!(!harness.state().session().previewing());
    assert!((crest_m(&harness, "step-3") - 1.155).abs() < 1e-12);
    harness.hover_at(held + egui::vec2(0.0, -30.0));
    harness.step();
    assert!(!harness.state().session().previewing());
    let_go(&mut harness, held);
    assert_eq!(*harness.state().session().layout().as_ref(), before);
    assert!(harness.state().session().undo_name().is_none());
}

#[test]
fn ui_a_click_on_a_finding_finds_its_crest() {
    let mut harness = crate::support::window::demo();
    let held = take(&mut harness, CREST, -20.0);
    let_go(&mut harness, held);
    harness.key_press(egui::Key::Escape);
    harness.run();
    assert!(harness.state().tool_state().selected.is_empty());
    says(&harness, "Cress bed 2 spills: its level")
        .unwrap()
        .click();
    harness.run();
    assert!(says(&harness, "Upstand in Cress bed 3").is_some());
}

#[test]
fn ui_a_cure_can_be_looked_at_before_it_is_made() {
    let mut harness = crate::support::window::demo();
    let held = take(&mut harness, CREST, -20.0);
    let_go(&mut harness, held);
    let raised = crest_m(&harness, "step-3");
    says(&harness, "Preview: Lower the crest").unwrap().click();
    harness.step();
    harness.step();
    assert!(harness.state().session().previewing());
    assert!(crest_m(&harness, "step-3") < raised);
    harness.key_press(egui::Key::Escape);
    harness.run();
    assert!(!harness.state().session().previewing());
    assert!((crest_m(&harness, "step-3") - raised).abs() < 1e-12);
}

#[test]
fn ui_a_cure_that_is_looked_at_can_be_made_from_there() {
    let mut harness = crate::support::window::demo();
    let held = take(&mut harness, CREST, -20.0);
    let_go(&mut harness, held);
    let raised = crest_m(&harness, "step-3");
    says(&harness, "Preview: Lower the crest").unwrap().click();
    harness.run();
    settle(&mut harness);
    click(&mut harness, "Apply preview");
    assert!(!harness.state().session().previewing());
    assert!(crest_m(&harness, "step-3") < raised);
    click(&mut harness, "Undo");
    assert!((crest_m(&harness, "step-3") - raised).abs() < 1e-12);
}

fn codes(harness: &egui_kittest::Harness<'_, fallwright::window::App>) -> Vec<Code> {
    let shown = harness.state().session().shown();
    shown.findings.iter().map(|one| one.code).collect()
}
