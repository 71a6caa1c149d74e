//! Tests of the list of recent files.

use super::engines::patient;
use fallwright::session::{MOST_RECENT, Options, Session, default_settings};
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::{TempDir, tempdir};

fn keeping(settings: &Path) -> Session {
    let options = Options {
        settings: Some(settings.to_path_buf()),
        ..Options::default()
    };
    Session::with_services(options, patient())
}

/// A folder with so many layouts in it, and where recent files are kept: in a folder that is not there yet.
fn files(count: usize) -> (TempDir, Vec<PathBuf>, PathBuf) {
    let folder = tempdir().unwrap();
    let paths = (0..count).map(|number| {
        let path = folder.path().join(format!("{number}.ron"));
        fs::write(&path, fallwright::session::DEMO).unwrap();
        path
    });
    let paths = paths.collect();
    let settings = folder.path().join("own/folder/recent.txt");
    (folder, paths, settings)
}

#[test]
fn the_newest_come_first_and_each_once() {
    let (_folder, paths, settings) = files(MOST_RECENT + 2);
    let mut session = keeping(&settings);
    assert!(session.recent().is_empty());
    for path in &paths {
        session.open(path).unwrap();
    }
    let newest: Vec<&PathBuf> = paths.iter().rev().take(MOST_RECENT).collect();
    assert!(session.recent().iter().eq(newest.iter().copied()));
    session.open(&paths[5]).unwrap();
    assert_eq!(session.recent().len(), MOST_RECENT);
    assert_eq!(session.recent()[..2], [paths[5].clone(), paths[9].clone()]);
    assert_eq!(keeping(&settings).recent(), session.recent());
}

#[test]
fn saving_counts_too() {
    let (folder, _, settings) = files(0);
    let mut session = keeping(&settings);
    session.save_as(&folder.path().join("new")).unwrap();
    assert_eq!(session.recent(), [folder.path().join("new.ron")]);
}

#[test]
fn files_that_vanished_are_dropped() {
    let (_folder, paths, settings) = files(3);
    let mut session = keeping(&settings);
    for path in &paths {
        session.open(path).unwrap();
    }
    fs::remove_file(&paths[1]).unwrap();
    let kept = [paths[2].clone(), paths[0].clone()];
    assert_eq!(keeping(&settings).recent(), kept);
}

#[test]
fn two_windows_keep_one_list() {
    let (_folder, paths, settings) = files(2);
    let (mut first, mut second) = (keeping(&settings), keeping(&settings));
    first.open(&paths[0]).unwrap();
    second.open(&paths[1]).unwrap();
    let both = [paths[1].clone(), paths[0].clone()];
    assert_eq!(second.recent(), both);
    assert_eq!(keeping(&settings).recent(), both);
}

#[test]
fn without_a_file_they_are_remembered_until_the_end() {
    let (_folder, paths, _) = files(1);
    let mut session = Session::with_services(Options::default(), patient());
    session.open(&paths[0]).unwrap();
    assert_eq!(session.recent(), paths);
}

#[test]
fn a_list_that_cannot_be_read_or_written_is_left_alone() {
    let (folder, paths, _) = files(2);
    let garbage = folder.path().join("garbage");
    fs::write(&garbage, [b'/', 0xff, 0xfe, b'\n']).unwrap();
    let mut session = keeping(&garbage);
    session.open(&paths[0]).unwrap();
    session.open(&paths[1]).unwrap();
    assert_eq!(session.recent(), [paths[1].clone(), paths[0].clone()]);
    assert_eq!(fs::read(&garbage).unwrap(), [b'/', 0xff, 0xfe, b'\n']);
    // A file where a folder would have to be.
    let mut session = keeping(&paths[0].join("recent.txt"));
    session.open(&paths[1]).unwrap();
    assert_eq!(session.recent(), [paths[1].clone()]);
    assert_eq!(
        fs::read_to_string(&paths[0]).unwrap(),
        fallwright::session::DEMO
    );
}

#[test]
fn paths_are_kept_from_the_root() {
    let mut session = Session::with_services(Options::default(), patient());
    session.open(Path::new("examples/two-beds.ron")).unwrap();
    let recent = &session.recent()[0];
    assert!(recent.is_absolute() && recent.ends_with("examples/two-beds.ron"));
    assert_eq!(session.path(), Some(recent.as_path()));
}

#[test]
fn the_list_has_a_place_of_its_own() {
    if let Some(path) = default_settings() {
        assert!(
            path.is_absolute() && path.ends_with("recent-files.txt"),
            "{path:?}"
        );
    }
}
