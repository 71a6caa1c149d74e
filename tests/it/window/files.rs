//! Tests of files in the window: broken ones, dropped ones, comments in them.

use crate::support::window::{Answers, click, demo, let_go, says, settle, take, with};
use egui_kittest::kittest::Queryable;
use std::path::{Path, PathBuf};
use std::sync::Arc;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A file as it is let go over the window.
#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

#[test]
fn ui_a_layout_that_cannot_be_read_says_why_and_nothing_is_lost() {
    let mut harness = demo();
    let before = harness.state().session().layout().clone();
    harness
        .state_mut()
        .open(&root().join("tests/bad/bore-zero.ron"));
    harness.run();
    assert!(says(&harness, "Cannot open this layout").is_some());
    let text = says(&harness, "line").expect("the line is named");
    let _ = text;
    click(&mut harness, "Close");
    assert!(says(&harness, "Cannot open this layout").is_none());
    assert!(Arc::ptr_eq(&before, harness.state().session().layout()));
}

#[test]
fn ui_a_file_that_is_dropped_is_opened() {
    let mut harness = demo();
    let path = root().join("examples/two-beds.ron");
    let file: Arc<dyn egui::DroppedFile + Send + Sync> = Arc::new(Dropped(path.clone()));
    harness.input_mut().dropped_files.push(file);
    harness.step();
    settle(&mut harness);
    assert_eq!(harness.state().session().path(), Some(path.as_path()));
    assert!(says(&harness, "Two beds over a tub").is_some());
}

#[test]
fn ui_saving_over_notes_is_asked_about() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("noted.ron");
    std::fs::copy(root().join("examples/glasshouse.ron"), &path).unwrap();
    let other = folder.path().join("other.ron");
    let answers = Answers {
        save: [other.clone()].into(),
        ..Answers::default()
    };
    let mut harness = with(answers);
    harness.state_mut().open(&path);
    settle(&mut harness);
    let held = take(&mut harness, "Crest of Cress upstand 3", -12.0);
    let_go(&mut harness, held);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::S);
    harness.run();
    assert!(says(&harness, "The file contains comments").is_some());
    harness.get_by_label("Save as…").click();
    harness.run();
    let kept = std::fs::read_to_string(&path).unwrap();
    assert!(kept.contains("// Perch and watercress glasshouse."));
    assert!(other.exists());
    assert!(!harness.state().session().unsaved());
}

#[test]
fn ui_a_place_that_cannot_be_written_is_told_and_the_work_stays() {
    let answers = Answers {
        save: [PathBuf::from("/nowhere/at/all.ron")].into(),
        ..Answers::default()
    };
    let mut harness = with(answers);
    let held = take(&mut harness, "Crest of Cress upstand 3", -12.0);
    let_go(&mut harness, held);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::S);
    harness.run();
    assert!(says(&harness, "Cannot save the layout").is_some());
    click(&mut harness, "Close");
    assert!(harness.state().session().unsaved());
    assert!(harness.state().session().undo_name().is_some());
}

#[test]
fn ui_where_the_system_has_no_dialog_the_name_is_typed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("typed.ron");
    let answers = Answers {
        without_dialogs: true,
        ..Answers::default()
    };
    let mut harness = with(answers);
    let held = take(&mut harness, "Crest of Cress upstand 3", -12.0);
    let_go(&mut harness, held);
    let wanted = harness.state().session().layout().as_ref().clone();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::S);
    harness.run_steps(4);
    assert!(says(&harness, "Save to file").is_some());
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
    harness.step();
    harness.event(egui::Event::Text(path.display().to_string()));
    harness.run_steps(2);
    harness.get_by_label("Save").click();
    harness.run_steps(4);
    assert_eq!(fallwright::file::read(&path).unwrap(), wanted);
    assert!(!harness.state().session().unsaved());
}

#[test]
fn ui_an_empty_layout_says_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("empty.ron");
    std::fs::write(&path, "(fallwright: 1, title: \"Nothing yet\")").unwrap();
    let mut harness = demo();
    harness.state_mut().open(&path);
    settle(&mut harness);
    assert!(says(&harness, "Nothing here yet").is_some());
    assert!(says(&harness, "Nothing to check yet").is_some());
}

#[test]
fn ui_help_names_the_version_and_what_results_are_good_for() {
    let mut harness = demo();
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    harness.run();
    assert_eq!(harness.state().said(), Some("Nothing to undo."));
    click(&mut harness, "Help");
    click(&mut harness, "About Fallwright");
    let version = format!("Version {}", env!("CARGO_PKG_VERSION"));
    assert!(harness.query_by_label(&version).is_some());
    // The panel behind the dialog gives the same caution.
    let caution = "estimates for planning. Local code and licensed practice decide";
    assert_eq!(harness.query_all_by_label_contains(caution).count(), 2);
    click(&mut harness, "Close");
    assert!(harness.query_by_label(&version).is_none());
}
