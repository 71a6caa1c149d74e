//! Tests of opening, saving and unsaved changes.

use super::{commit, raised, session};
use fallwright::file;
use fallwright::session::Saved;
use std::path::Path;
use tempfile::tempdir;

/// A good layout in a folder that is thrown away.
fn good(folder: &Path) -> std::path::PathBuf {
    let path = folder.join("good.ron");
    std::fs::write(&path, fallwright::session::DEMO).unwrap();
    path
}

#[test]
fn opened_edited_undone_saved_and_opened_again() {
    let folder = tempdir().unwrap();
    let path = good(folder.path());
    let mut first = session();
    first.open(&path).unwrap();
    assert_eq!(first.path(), Some(path.as_path()));
    commit(&mut first, 1.2);
    commit(&mut first, 1.21);
    first.undo();
    assert!(first.unsaved());
    assert_eq!(first.save(), Ok(Saved::Done));
    assert!(!first.unsaved());
    let mut second = session();
    second.open(&path).unwrap();
    assert_eq!(second.layout(), first.layout());
    assert_eq!(**second.layout(), file::read(&path).unwrap());
    assert!(second.undo_name().is_none() && !second.unsaved());
}

#[test]
fn undone_to_what_was_saved_counts_as_saved() {
    let folder = tempdir().unwrap();
    let mut session = session();
    assert!(!session.unsaved());
    commit(&mut session, 1.2);
    assert!(session.unsaved());
    session.undo();
    assert!(!session.unsaved());
    session.redo();
    session.save_as(&folder.path().join("a.ron")).unwrap();
    assert!(!session.unsaved());
    session.undo();
    assert!(session.unsaved());
    commit(&mut session, 1.2);
    assert!(!session.unsaved(), "another way to the same layout");
    let edit = raised(session.layout(), 1.3);
    session.preview(&edit).unwrap();
    assert!(!session.unsaved(), "a preview is nothing to save");
}

#[test]
fn what_has_no_file_needs_a_name() {
    let mut session = session();
    assert_eq!(session.path(), None);
    assert_eq!(session.save(), Ok(Saved::NeedsName));
    session.open_new();
    assert_eq!(session.save(), Ok(Saved::NeedsName));
    assert!(session.layout().faults().is_empty());
}

#[test]
fn a_name_without_extension_gets_one() {
    let folder = tempdir().unwrap();
    let mut session = session();
    for (given, kept) in [
        ("a", "a.ron"),
        ("b.", "b.ron"),
        ("c.json", "c.json"),
        ("d.RON", "d.RON"),
    ] {
        session.save_as(&folder.path().join(given)).unwrap();
        let path = folder.path().join(kept);
        assert_eq!(session.path(), Some(path.as_path()));
        assert_eq!(file::read(&path).as_ref(), Ok(&**session.layout()));
    }
    session.open_demo();
    assert_eq!(session.path(), None);
}

#[test]
fn only_what_is_committed_is_saved() {
    let folder = tempdir().unwrap();
    let mut session = session();
    let edit = raised(session.layout(), 1.3);
    session.preview(&edit).unwrap();
    let path = folder.path().join("a.ron");
    session.save_as(&path).unwrap();
    assert_eq!(file::read(&path).as_ref(), Ok(&**session.layout()));
    assert!(session.previewing());
}

#[test]
fn a_bad_file_changes_nothing() {
    let folder = tempdir().unwrap();
    let path = good(folder.path());
    let mut session = session();
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    let edit = raised(session.layout(), 1.3);
    session.preview(&edit).unwrap();
    let (layout, revision) = (session.layout().clone(), session.shown().revision);
    let recent = session.recent().to_vec();
    let bad = folder.path().join("bad.ron");
    std::fs::write(&bad, "(fallwright: 1, title: \"Half a").unwrap();
    for wrong in [
        bad,
        folder.path().join("gone.ron"),
        folder.path().to_path_buf(),
    ] {
        let error = session.open(&wrong).unwrap_err();
        assert_eq!(error.place.file.as_deref(), Some(wrong.as_path()));
    }
    assert_eq!(session.layout(), &layout);
    assert_eq!(session.shown().revision, revision);
    assert_eq!(session.path(), Some(path.as_path()));
    assert!(session.previewing() && session.unsaved());
    assert!(session.undo_name().is_some());
    assert_eq!(session.recent(), recent);
}

#[test]
fn what_cannot_be_written_keeps_its_file_and_counts_as_unsaved() {
    let folder = tempdir().unwrap();
    let path = good(folder.path());
    let mut session = session();
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    let nowhere = folder.path().join("no-such-folder").join("a.ron");
    assert!(session.save_as(&nowhere).is_err());
    assert_eq!(session.path(), Some(path.as_path()));
    assert!(session.unsaved());
    assert!(session.notes_lost() > 0);
    std::fs::remove_file(&path).unwrap();
    std::fs::create_dir(&path).unwrap();
    assert!(session.save().is_err());
    assert!(session.unsaved());
}
