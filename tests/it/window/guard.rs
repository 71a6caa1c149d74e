//! Tests that the window asks about unsaved work before it opens something else.

use crate::support::window::{Answers, click, let_go, says, take, with};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use fallwright::window::App;
use std::path::{Path, PathBuf};

fn other() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/two-beds.ron")
}

/// A window with a step that is not saved, in which opening another layout was asked for.
fn asked(save: Option<PathBuf>) -> Harness<'static, App> {
    let answers = Answers {
        open: [other()].into(),
        save: save.into_iter().collect(),
        ..Answers::default()
    };
    let mut harness = with(answers);
    let held = take(&mut harness, "Crest of Cress upstand 3", -12.0);
    let_go(&mut harness, held);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::O);
    harness.run();
    assert!(says(&harness, "Save the changes to").is_some());
    harness
}

#[test]
fn ui_cancel_leaves_everything() {
    let mut harness = asked(None);
    click(&mut harness, "Cancel");
    assert!(harness.state().session().unsaved());
    assert!(harness.state().session().path().is_none());
    assert!(says(&harness, "Save the changes to").is_none());
}

#[test]
fn ui_do_not_save_goes_on() {
    let mut harness = asked(None);
    click(&mut harness, "Don't save");
    assert_eq!(harness.state().session().path(), Some(other().as_path()));
}

#[test]
fn ui_save_saves_first() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kept.ron");
    let mut harness = asked(Some(path.clone()));
    let wanted = harness.state().session().layout().as_ref().clone();
    harness.get_by_label("Save").click();
    harness.run();
    assert_eq!(fallwright::file::read(&path).unwrap(), wanted);
    assert_eq!(harness.state().session().path(), Some(other().as_path()));
}

#[test]
fn ui_where_no_place_is_chosen_nothing_goes_on() {
    let mut harness = asked(None);
    harness.get_by_label("Save").click();
    harness.run();
    assert!(harness.state().session().unsaved());
    assert!(harness.state().session().path().is_none());
}

#[test]
fn ui_keys_do_nothing_behind_a_dialog() {
    let mut harness = asked(None);
    let before = harness.state().session().layout().clone();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    harness.run();
    let after = harness.state().session().layout();
    assert!(std::sync::Arc::ptr_eq(&before, after));
}
