//! Tests of the journal: unsaved work is stored, offered again, and removed once it is saved or discarded.

use super::engines::patient;
use super::{commit, raised};
use fallwright::file::{self, is_part};
use fallwright::session::{DEMO, Disk, Entry, Options, Saved, Session, utc};
use std::fs;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use tempfile::{TempDir, tempdir};

/// A window of a program that keeps in this folder.
pub(super) fn window_in(folder: &Path) -> Session {
    window_by(folder, Disk::default())
}

fn window_by(folder: &Path, disk: Disk) -> Session {
    let options = Options {
        settings: Some(folder.join("keep/recent.txt")),
        keep: Some(folder.join("keep")),
        disk,
        ..Options::default()
    };
    Session::with_services(options, patient())
}

/// A folder with the demo in a file, of which comments are dropped already.
pub(super) fn folder() -> (TempDir, PathBuf) {
    let folder = tempdir().unwrap();
    let path = folder.path().join("demo.ron");
    let demo = file::parse(DEMO, file::Format::Ron).unwrap();
    file::write(&demo, &path).unwrap();
    (folder, path)
}

fn journal(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let files = fs::read_dir(folder.join("keep/journal"))
        .into_iter()
        .flatten();
    let files = files.map(|file| file.unwrap().path());
    files
        .filter(|path| path.extension().is_some_and(|own| own == ending))
        .collect()
}

/// The window ends without warning: nothing of it is heard any more, and only the system lets go of its files.
fn dies(session: Session) {
    drop(session);
}

#[test]
fn an_edit_is_kept_and_offered_and_taken_up_with_its_file() {
    let (folder, path) = folder();
    let mut first = window_in(folder.path());
    first.open(&path).unwrap();
    first.settle();
    assert!(
        journal(folder.path(), "ron").is_empty(),
        "nothing is unsaved"
    );
    commit(&mut first, 1.2);
    first.settle();
    let kept = journal(folder.path(), "ron");
    assert_eq!(kept.len(), 1);
    // It can be opened like any layout.
    assert_eq!(&file::read(&kept[0]).unwrap(), first.layout().as_ref());
    let mut meanwhile = window_in(folder.path());
    meanwhile.find_left();
    assert!(meanwhile.left().is_empty(), "its window lives");
    let wanted = first.layout().clone();
    dies(first);
    let mut second = window_in(folder.path());
    second.find_left();
    assert_eq!(second.left().len(), 1);
    let left = &second.left()[0];
    assert_eq!(left.entry.file.as_deref(), Some(path.as_path()));
    assert!(
        left.edited_ago_s()
            .is_some_and(|ago_s| (0.0..600.0).contains(&ago_s))
    );
    assert!(left.edited().ends_with(" UTC"), "{}", left.edited());
    meanwhile.find_left();
    assert!(meanwhile.left().is_empty(), "it is being offered already");
    second.take_up_left();
    assert_eq!(second.layout(), &wanted);
    assert_eq!(second.path(), Some(path.as_path()));
    assert!(second.unsaved() && !second.changed_outside());
    // It is still kept: by this window now, and by it alone.
    assert_eq!(journal(folder.path(), "ron").len(), 1);
    assert_eq!(second.save(), Ok(Saved::Done));
    second.settle();
    assert!(journal(folder.path(), "ron").is_empty());
    dies(second);
    let mut third = window_in(folder.path());
    third.find_left();
    assert!(third.left().is_empty());
    assert!(
        journal(folder.path(), "lock").is_empty(),
        "nothing is left over"
    );
    assert_eq!(&file::read(&path).unwrap(), wanted.as_ref());
}

#[test]
fn what_is_saved_undone_or_given_up_is_not_offered() {
    let (folder, path) = folder();
    let offered = || {
        let mut next = window_in(folder.path());
        next.find_left();
        next.left().len()
    };
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    session.undo();
    dies(session);
    assert_eq!(offered(), 0, "undone to what is in the file");
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    session.give_up();
    dies(session);
    assert_eq!(offered(), 0, "given up");
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    session.open_demo();
    dies(session);
    assert_eq!(offered(), 0, "another layout was opened instead");
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    session.settle();
    // It was saved, and the program ended before the journal heard of it.
    file::write(session.layout(), &path).unwrap();
    dies(session);
    assert_eq!(offered(), 0, "the file holds the same");
    assert!(journal(folder.path(), "ron").is_empty());
}

#[test]
fn work_without_a_file_is_kept_too_and_can_be_left_or_thrown_away() {
    let (folder, _) = folder();
    for to_m in [1.2, 1.21] {
        let mut session = window_in(folder.path());
        commit(&mut session, to_m);
        session.settle();
        // So that one is newer than the other.
        std::thread::sleep(std::time::Duration::from_millis(1100));
        dies(session);
    }
    let mut session = window_in(folder.path());
    session.find_left();
    let crests: Vec<f64> = session
        .left()
        .iter()
        .map(|left| {
            let run = left.entry.layout.run(&"step-3".into()).unwrap();
            run.from.opening.as_ref().unwrap().crest_m().unwrap()
        })
        .collect();
    assert_eq!(crests, [1.21, 1.2], "the newest first");
    session.leave_left();
    session.find_left();
    assert_eq!(session.left().len(), 2);
    session.throw_left_away();
    session.take_up_left();
    assert_eq!(session.path(), None);
    assert!(session.unsaved());
    let run = session.layout().run(&"step-3".into()).unwrap();
    assert_eq!(run.from.opening.as_ref().unwrap().crest_m(), Some(1.2));
}

#[test]
fn a_preview_is_not_kept() {
    let (folder, path) = folder();
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    let edit = raised(session.layout(), 1.3);
    session.preview(&edit).unwrap();
    session.settle();
    assert!(journal(folder.path(), "ron").is_empty());
}

/// A disk that writes half of everything and then is full, while this is so.
fn full(is_full: &Arc<AtomicBool>) -> Disk {
    let is_full = is_full.clone();
    let own = Disk::default().fill;
    Disk {
        fill: Arc::new(move |file, bytes| {
            if is_full.load(Ordering::SeqCst) {
                file.write_all(&bytes[..bytes.len() / 2])?;
                return Err(ErrorKind::StorageFull.into());
            }
            own(file, bytes)
        }),
    }
}

#[test]
fn a_full_disk_is_told_loses_nothing_and_is_tried_again() {
    let (folder, path) = folder();
    let is_full = Arc::new(AtomicBool::new(false));
    let mut session = window_by(folder.path(), full(&is_full));
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    session.settle();
    let before = (session.layout().clone(), fs::read(&path).unwrap());
    is_full.store(true, Ordering::SeqCst);
    commit(&mut session, 1.21);
    session.settle();
    let trouble = session.keep_trouble().expect("it is told").to_string();
    assert!(trouble.contains("The disk is full"), "{trouble}");
    let error = session.save().unwrap_err().to_string();
    assert!(
        error.contains("The disk is full") && error.contains("Make room"),
        "{error}"
    );
    assert!(session.unsaved());
    // What was there before is whole: the file, and what the journal kept.
    assert_eq!(fs::read(&path).unwrap(), before.1);
    let kept = journal(folder.path(), "ron");
    assert_eq!(&file::read(&kept[0]).unwrap(), before.0.as_ref());
    let parts = walkdir::WalkDir::new(folder.path()).into_iter();
    let parts = parts.filter(|file| is_part(file.as_ref().unwrap().path()));
    assert_eq!(parts.count(), 0, "nothing half written stays");
    is_full.store(false, Ordering::SeqCst);
    session.keep_again();
    session.settle();
    assert!(session.keep_trouble().is_none());
    assert_eq!(&file::read(&kept[0]).unwrap(), session.layout().as_ref());
    assert_eq!(session.save(), Ok(Saved::Done));
}

#[test]
fn where_the_work_could_not_be_taken_over_it_stays_where_it_was() {
    let (folder, path) = folder();
    let mut first = window_in(folder.path());
    first.open(&path).unwrap();
    commit(&mut first, 1.2);
    first.settle();
    let wanted = first.layout().clone();
    dies(first);
    let mut second = window_by(folder.path(), full(&Arc::new(AtomicBool::new(true))));
    second.find_left();
    second.take_up_left();
    assert_eq!(second.layout(), &wanted);
    assert!(second.keep_trouble().is_some());
    dies(second);
    let mut third = window_in(folder.path());
    third.find_left();
    assert_eq!(third.left()[0].entry.layout, wanted);
}

#[test]
fn what_was_half_written_is_cleared_away_where_one_reads_and_writes() {
    let (folder, path) = folder();
    let keep = folder.path().join("keep/journal");
    fs::create_dir_all(&keep).unwrap();
    let old = std::time::SystemTime::now() - std::time::Duration::from_secs(60);
    let part = |folder: &Path, number: u32| {
        let path = folder.join(format!(".fallwright-99999-{number}.part"));
        let file = fs::File::create(&path).unwrap();
        file.set_modified(old).unwrap();
        (path, file)
    };
    let left = [part(folder.path(), 0), part(&keep, 1)].map(|(path, _)| path);
    // Somebody writes this one still.
    let (lives, writer) = part(folder.path(), 2);
    writer.lock().unwrap();
    let young = folder.path().join(".fallwright-99999-3.part");
    fs::write(&young, "").unwrap();
    let other = folder.path().join("mine.part");
    fs::write(&other, "").unwrap();
    let mut session = window_in(folder.path());
    session.find_left();
    session.open(&path).unwrap();
    assert!(left.iter().all(|path| !path.exists()));
    assert!(lives.exists() && young.exists() && other.exists());
    drop(writer);
    commit(&mut session, 1.2);
    session.save().unwrap();
    assert!(!lives.exists());
}

#[test]
fn an_entry_reads_back_whatever_its_file_is_called() {
    let layout = Arc::new(fallwright::session::demo().unwrap());
    let names = ["/a/b.ron", "/with a\nline/ \"quoted\" \u{202e}.ron"];
    for file in [None].into_iter().chain(names.map(Some)) {
        for print in [None, Some(0), Some(u64::MAX)] {
            let entry = Entry {
                file: file.map(PathBuf::from),
                print,
                edited_s: 1_796_081_000,
                layout: layout.clone(),
            };
            let text = entry.text().unwrap();
            assert_eq!(Entry::read(&text).unwrap(), entry);
        }
    }
    // Without its first lines it is a layout still.
    let bare = file::to_text(&layout, file::Format::Ron).unwrap();
    let entry = Entry::read(&bare).unwrap();
    assert_eq!(
        (entry.file, entry.print, entry.layout),
        (None, None, layout)
    );
    assert!(Entry::read("// Unsaved work\n(fallwright: 1,").is_err());
}

#[test]
fn moments_read_as_the_calendar_has_them() {
    // Days reckoned from the calendar: 1970, 2000 and 2024 and not 2100 are as they are.
    for (seconds, wanted) in [
        (0, "1 January 1970, 00:00 UTC"),
        (951_782_399, "28 February 2000, 23:59 UTC"),
        (951_782_400, "29 February 2000, 00:00 UTC"),
        (951_868_800, "1 March 2000, 00:00 UTC"),
        (1_735_689_599, "31 December 2024, 23:59 UTC"),
        (1_735_689_600, "1 January 2025, 00:00 UTC"),
        (4_107_542_400, "1 March 2100, 00:00 UTC"),
        (4_107_456_000, "28 February 2100, 00:00 UTC"),
    ] {
        assert_eq!(utc(seconds), wanted);
    }
    assert!(utc(u64::MAX).ends_with(" UTC"));
}

#[test]
fn how_the_last_file_was_looked_at_is_kept_for_that_file_alone() {
    let (folder, path) = folder();
    let other = folder.path().join("other.ron");
    fs::copy(&path, &other).unwrap();
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    assert_eq!(session.kept_view(), None);
    session.keep_view("views both\nshelf shown");
    session.settle();
    dies(session);
    let mut next = window_in(folder.path());
    assert_eq!(next.last_file().as_deref(), Some(path.as_path()));
    next.open(&other).unwrap();
    assert_eq!(next.kept_view(), None);
    next.open(&path).unwrap();
    assert_eq!(next.kept_view().as_deref(), Some("views both\nshelf shown"));
}
