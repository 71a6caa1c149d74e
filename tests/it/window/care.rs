//! Tests of recovery: unsaved work, full disks, changed files and internal errors.

use crate::support::services::remembering;
use crate::support::window::{Answers, begun, click, let_go, press, says, settle, take};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use fallwright::file::{self, Format};
use fallwright::session::{DEMO, Disk, Options, Services, Session};
use fallwright::window::App;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use tempfile::{TempDir, tempdir};

/// A folder with the demo in a file without comments.
fn folder() -> (TempDir, PathBuf) {
    let folder = tempdir().unwrap();
    let path = folder.path().join("demo.ron");
    file::write(&file::parse(DEMO, Format::Ron).unwrap(), &path).unwrap();
    (folder, path)
}

fn options(folder: &Path) -> Options {
    Options {
        settings: Some(folder.join("keep/recent.txt")),
        keep: Some(folder.join("keep")),
        ..Options::default()
    }
}

fn window(folder: &Path, file: Option<&Path>) -> Harness<'static, App> {
    window_of(options(folder), file, Answers::default())
}

fn window_of(options: Options, file: Option<&Path>, answers: Answers) -> Harness<'static, App> {
    begun(
        Session::with_services(options, remembering()),
        answers,
        file,
    )
}

fn edit(harness: &mut Harness<'_, App>) {
    let held = take(harness, "Crest of Cress upstand 3", -12.0);
    let_go(harness, held);
    assert!(harness.state().session().unsaved());
}

fn save(harness: &mut Harness<'_, App>) {
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::S);
    harness.run();
    settle(harness);
}

#[test]
fn ui_work_that_was_lost_is_offered_with_its_time_and_got_back() {
    let (folder, path) = folder();
    let mut first = window(folder.path(), Some(&path));
    edit(&mut first);
    let wanted = first.state().session().layout().clone();
    drop(first);
    let mut second = window(folder.path(), None);
    assert!(says(&second, "Restore unsaved work on Perch and watercress").is_some());
    assert!(says(&second, " UTC). It belongs to ").is_some());
    second.key_press(egui::Key::Escape);
    second.run();
    assert!(says(&second, "Restore unsaved work").is_none());
    drop(second);
    let mut third = window(folder.path(), Some(&path));
    click(&mut third, "Restore");
    let session = third.state().session();
    assert_eq!(session.layout(), &wanted);
    assert!(session.unsaved());
    assert_eq!(session.path(), Some(path.as_path()));
    save(&mut third);
    assert_eq!(&file::read(&path).unwrap(), wanted.as_ref());
    drop(third);
    let fourth = window(folder.path(), None);
    assert!(says(&fourth, "Restore unsaved work").is_none());
}

#[test]
fn ui_work_that_is_thrown_away_or_not_saved_on_purpose_is_not_offered_again() {
    let (folder, path) = folder();
    let mut first = window(folder.path(), Some(&path));
    edit(&mut first);
    drop(first);
    let mut second = window(folder.path(), None);
    click(&mut second, "Discard");
    assert!(says(&second, "Restore unsaved work").is_none());
    edit(&mut second);
    second.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Q);
    second.run();
    click(&mut second, "Don't save");
    drop(second);
    let third = window(folder.path(), None);
    assert!(says(&third, "Restore unsaved work").is_none());
}

#[test]
fn ui_the_last_file_opens_with_the_view_it_had() {
    let (folder, path) = folder();
    let mut first = window(folder.path(), Some(&path));
    press(&mut first, "Both");
    first.state_mut().session_mut().settle();
    let at = first
        .get_by_label("Crest of Cress upstand 3")
        .rect()
        .center();
    first.hover_at(at);
    first.run();
    first.event(egui::Event::Zoom(1.7));
    first.run();
    let view = first
        .state()
        .tool_state()
        .look
        .moved_view()
        .expect("it was enlarged");
    assert!(first.state().tool_state().plan.view().is_some());
    drop(first);
    let second = window(folder.path(), None);
    let session = second.state().session();
    assert_eq!(session.path(), Some(path.as_path()));
    let hand = second.state().tool_state();
    assert_eq!(hand.look.moved_view(), Some(view));
    assert!(hand.plan.view().is_some(), "both drawings are shown");
    assert!(says(&second, "Restore unsaved").is_none());
}

#[test]
fn ui_a_last_file_that_is_broken_is_said_and_the_demo_opens() {
    let (folder, path) = folder();
    drop(window(folder.path(), Some(&path)));
    fs::write(&path, "(fallwright: 1, title: \"Half a").unwrap();
    let harness = window(folder.path(), None);
    assert_eq!(harness.state().session().path(), None);
    let said = harness.state().said().unwrap();
    assert!(said.starts_with("Cannot open the last file"), "{said}");
}

fn changed_elsewhere(path: &Path) {
    let mut theirs = file::read(path).unwrap();
    theirs.title = "Changed elsewhere".to_owned();
    file::write(&theirs, path).unwrap();
}

#[test]
fn ui_saving_over_what_another_program_wrote_is_asked_about() {
    let (folder, path) = folder();
    let other = folder.path().join("other.ron");
    let answers = Answers {
        save: [other.clone()].into(),
        ..Answers::default()
    };
    let mut harness = window_of(options(folder.path()), Some(&path), answers);
    edit(&mut harness);
    changed_elsewhere(&path);
    save(&mut harness);
    assert!(says(&harness, "Another program has changed the file").is_some());
    click(&mut harness, "Cancel");
    assert_eq!(file::read(&path).unwrap().title, "Changed elsewhere");
    save(&mut harness);
    {
        let button = egui::accesskit::Role::Button;
        use egui_kittest::kittest::NodeT;
        let mut named = harness.query_all_by_label("Save as…");
        let found = named.rfind(|node| node.accesskit_node().role() == button);
        found.unwrap().click();
    }
    harness.run();
    settle(&mut harness);
    assert!(other.exists());
    assert_eq!(harness.state().session().path(), Some(other.as_path()));
    assert_eq!(file::read(&path).unwrap().title, "Changed elsewhere");
}

#[test]
fn ui_a_change_by_another_program_is_said_over_the_drawing() {
    let (folder, path) = folder();
    let mut harness = window(folder.path(), Some(&path));
    assert!(says(&harness, "Another program has changed").is_none());
    changed_elsewhere(&path);
    std::thread::sleep(std::time::Duration::from_millis(1100));
    harness.run();
    assert!(says(&harness, "Another program has changed demo.ron").is_some());
    click(&mut harness, "Reload");
    assert_eq!(
        harness.state().session().layout().title,
        "Changed elsewhere"
    );
    assert!(says(&harness, "Another program has changed").is_none());
}

#[test]
fn ui_a_second_window_on_one_file_is_said() {
    let (folder, path) = folder();
    let first = window(folder.path(), Some(&path));
    let mut second = window(folder.path(), Some(&path));
    assert!(says(&first, "is also open in another window").is_none());
    assert!(says(&second, "demo.ron is also open in another window").is_some());
    click(&mut second, "Close");
    assert!(says(&second, "is also open in another window").is_none());
}

#[test]
fn ui_a_full_disk_is_said_with_a_way_on_and_the_work_stays() {
    let (folder, path) = folder();
    let is_full = Arc::new(AtomicBool::new(true));
    let (theirs, own) = (is_full.clone(), Disk::default().fill);
    let disk = Disk {
        fill: Arc::new(move |file, bytes| match theirs.load(Ordering::SeqCst) {
            true => Err(ErrorKind::StorageFull.into()),
            false => own(file, bytes),
        }),
    };
    let options = Options {
        disk,
        ..options(folder.path())
    };
    let mut harness = window_of(options, Some(&path), Answers::default());
    edit(&mut harness);
    assert!(says(&harness, "Unsaved work would be lost").is_some());
    save(&mut harness);
    assert!(says(&harness, "Cannot save the layout").is_some());
    assert!(says(&harness, "The disk is full").is_some());
    assert!(harness.state().session().unsaved());
    is_full.store(false, Ordering::SeqCst);
    // The first of that name is the one behind the question.
    click(&mut harness, "Close");
    press(&mut harness, "Try again");
    assert!(says(&harness, "Unsaved work would be lost").is_none());
    save(&mut harness);
    assert!(!harness.state().session().unsaved());
}

#[test]
fn ui_a_fault_while_drawing_is_lived_through_and_the_layout_is_safe() {
    let (folder, path) = folder();
    let mut harness = window(folder.path(), Some(&path));
    let good = harness.state().session().layout().clone();
    let fails = good.clone();
    harness
        .state_mut()
        .before_drawing(move |layout| assert_eq!(*layout, *fails, "drawing fails on this"));
    let held = take(&mut harness, "Crest of Cress upstand 3", 0.0);
    harness.drop_at(held);
    harness.run();
    let edit = fallwright::edit::title(&good, "Fails").unwrap();
    harness.state_mut().session_mut().commit(edit).unwrap();
    harness.run();
    assert!(says(&harness, "Something went wrong").is_some());
    assert!(says(&harness, "You can open it at any time").is_some());
    let aside = fs::read_dir(folder.path().join("keep/aside")).unwrap();
    let aside: Vec<PathBuf> = aside.map(|file| file.unwrap().path()).collect();
    assert_eq!(aside.len(), 1);
    assert_eq!(file::read(&aside[0]).unwrap().title, "Fails");
    click(&mut harness, "Try again");
    assert!(
        says(&harness, "Something went wrong").is_some(),
        "it fails again"
    );
    click(&mut harness, "Undo the last step");
    assert!(says(&harness, "Something went wrong").is_none());
    assert!(harness.query_by_label("Crest of Cress upstand 3").is_some());
    assert_eq!(harness.state().session().layout(), &good);
}

#[test]
fn ui_a_fault_while_solving_is_said_and_the_layout_is_safe() {
    let (folder, path) = folder();
    let own = remembering();
    let evaluate = own.evaluate.clone();
    let engine = Services {
        evaluate: Arc::new(move |layout, states| {
            assert_ne!(layout.title, "Fails");
            evaluate(layout, states)
        }),
        ..own
    };
    let session = Session::with_services(options(folder.path()), engine);
    let mut harness = begun(session, Answers::default(), Some(&path));
    assert!(says(&harness, "An error in the program stopped the solve").is_none());
    let edit = fallwright::edit::title(harness.state().session().layout(), "Fails").unwrap();
    harness.state_mut().session_mut().commit(edit).unwrap();
    settle(&mut harness);
    assert!(says(&harness, "An error in the program stopped the solve").is_some());
    let aside = fs::read_dir(folder.path().join("keep/aside")).unwrap();
    assert_eq!(aside.count(), 1);
    harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::Z);
    harness.run();
    settle(&mut harness);
    assert!(says(&harness, "An error in the program stopped the solve").is_none());
}

#[test]
fn ui_no_frame_is_asked_for_when_nothing_happens() {
    let (folder, path) = folder();
    let mut harness = window(folder.path(), Some(&path));
    harness.run();
    let output = &harness.output().viewport_output;
    let delay = output.values().map(|one| one.repaint_delay).min().unwrap();
    assert!(delay > std::time::Duration::from_secs(60), "{delay:?}");
}
