//! Tests of changes to the open file by other programs, and of the previous version kept at each save.

use super::commit;
use super::kept::{folder, window_in};
use fallwright::file::{self, version_before};
use fallwright::session::{Options, Saved, Session};
use std::fs;

#[test]
fn saving_keeps_the_version_before_beside_the_file() {
    let (folder, path) = folder();
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    let before = version_before(&path);
    assert_eq!(before, folder.path().join("demo.ron~"));
    let mut versions = vec![fs::read(&path).unwrap()];
    for to_m in [1.2, 1.21] {
        commit(&mut session, to_m);
        assert_eq!(session.save(), Ok(Saved::Done));
        assert!(session.version_not_kept().is_none());
        assert_eq!(fs::read(&before).unwrap(), *versions.last().unwrap());
        versions.push(fs::read(&path).unwrap());
    }
    // Saved once more without a change, the version before is still another one.
    assert_eq!(session.save(), Ok(Saved::Done));
    assert_eq!(fs::read(&before).unwrap(), versions[1]);
    let new = folder.path().join("new.ron");
    session.save_as(&new).unwrap();
    assert!(!version_before(&new).exists(), "there was none");
}

#[test]
fn a_version_that_cannot_be_kept_is_told_and_the_layout_is_saved() {
    let (folder, path) = folder();
    fs::create_dir(version_before(&path)).unwrap();
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    assert_eq!(session.save(), Ok(Saved::Done));
    assert_eq!(&file::read(&path).unwrap(), session.layout().as_ref());
    let why = session.version_not_kept().unwrap().to_string();
    assert!(why.contains("demo.ron~"), "{why}");
}

#[test]
fn a_file_that_another_program_changed_is_not_written_over_unasked() {
    let (folder, path) = folder();
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    let mut theirs = file::read(&path).unwrap();
    theirs.title = "Changed elsewhere".to_owned();
    file::write(&theirs, &path).unwrap();
    assert_eq!(session.save(), Ok(Saved::ChangedOutside));
    assert!(session.changed_outside() && session.unsaved());
    assert_eq!(file::read(&path).unwrap(), theirs);
    assert_eq!(session.save_over(), Ok(Saved::Done));
    assert!(!session.changed_outside());
    assert_eq!(&file::read(&path).unwrap(), session.layout().as_ref());
    let kept = fs::read_to_string(version_before(&path)).unwrap();
    assert_eq!(file::parse(&kept, file::Format::Ron).unwrap(), theirs);
    // From here on it is ours again.
    commit(&mut session, 1.21);
    assert_eq!(session.save(), Ok(Saved::Done));
}

#[test]
fn a_file_that_was_touched_or_is_gone_is_not_changed() {
    let (folder, path) = folder();
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    commit(&mut session, 1.2);
    let bytes = fs::read(&path).unwrap();
    fs::write(&path, &bytes).unwrap();
    assert_eq!(session.save(), Ok(Saved::Done));
    fs::remove_file(&path).unwrap();
    commit(&mut session, 1.21);
    assert_eq!(session.save(), Ok(Saved::Done));
    assert_eq!(&file::read(&path).unwrap(), session.layout().as_ref());
}

#[test]
fn a_change_is_noticed_while_the_file_is_open() {
    let (folder, path) = folder();
    let mut session = window_in(folder.path());
    session.open(&path).unwrap();
    let mut theirs = file::read(&path).unwrap();
    theirs.title = "Changed elsewhere".to_owned();
    file::write(&theirs, &path).unwrap();
    std::thread::sleep(std::time::Duration::from_millis(1100));
    assert!(session.poll());
    assert!(session.changed_outside());
    assert!(!session.unsaved());
    session.keep_mine();
    assert!(!session.changed_outside());
    assert!(session.unsaved(), "the file holds something else now");
    assert_eq!(session.save(), Ok(Saved::Done));
    assert_ne!(file::read(&path).unwrap(), theirs);
}

#[test]
fn a_second_window_on_one_file_is_told() {
    let (folder, path) = folder();
    let mut first = window_in(folder.path());
    first.open(&path).unwrap();
    first.open(&path).unwrap();
    assert!(!first.open_elsewhere());
    let mut second = window_in(folder.path());
    second.open(&path).unwrap();
    assert!(second.open_elsewhere() && !first.open_elsewhere());
    // Both save, and neither loses what the other did.
    commit(&mut first, 1.2);
    assert_eq!(first.save(), Ok(Saved::Done));
    commit(&mut second, 1.21);
    assert_eq!(second.save(), Ok(Saved::ChangedOutside));
    second.save_as(&folder.path().join("mine.ron")).unwrap();
    assert!(!second.open_elsewhere());
    drop(first);
    second.open(&path).unwrap();
    assert!(!second.open_elsewhere(), "the other window is gone");
    #[cfg(unix)]
    {
        let link = folder.path().join("link.ron");
        std::os::unix::fs::symlink(&path, &link).unwrap();
        let mut third = window_in(folder.path());
        third.open(&link).unwrap();
        assert!(third.open_elsewhere(), "another name of the same file");
    }
}

#[test]
fn work_that_was_left_says_when_its_file_was_changed_since() {
    let (folder, path) = folder();
    let mut first = window_in(folder.path());
    first.open(&path).unwrap();
    commit(&mut first, 1.2);
    drop(first);
    let mut theirs = file::read(&path).unwrap();
    theirs.title = "Changed elsewhere".to_owned();
    file::write(&theirs, &path).unwrap();
    let mut second = window_in(folder.path());
    second.find_left();
    second.take_up_left();
    assert!(second.changed_outside());
    assert_eq!(second.save(), Ok(Saved::ChangedOutside));
}

#[test]
fn a_layout_that_is_put_aside_can_be_opened_and_is_there_once() {
    let (folder, _) = folder();
    let session = window_in(folder.path());
    let path = session.set_aside().unwrap();
    assert!(path.starts_with(folder.path().join("keep/aside")));
    assert_eq!(&file::read(&path).unwrap(), session.layout().as_ref());
    assert_eq!(session.set_aside().unwrap(), path);
}

#[test]
fn a_change_by_another_program_wakes_the_window_that_does_nothing() {
    let (folder, path) = folder();
    let woken = std::sync::Arc::new(std::sync::atomic::AtomicUsize::new(0));
    let counts = woken.clone();
    let options = Options {
        wake: std::sync::Arc::new(move || {
            counts.fetch_add(1, std::sync::atomic::Ordering::SeqCst);
        }),
        keep: Some(folder.path().join("keep")),
        ..Options::default()
    };
    let mut session = Session::without_demo(options);
    session.open(&path).unwrap();
    session.settle();
    let before = woken.load(std::sync::atomic::Ordering::SeqCst);
    // The thread looks for the first time when it starts, which may be after this.
    let mut theirs = file::read(&path).unwrap();
    let end = std::time::Instant::now() + std::time::Duration::from_secs(60);
    while !session.changed_outside() && std::time::Instant::now() < end {
        theirs.title.push('!');
        file::write(&theirs, &path).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(1500));
        if woken.load(std::sync::atomic::Ordering::SeqCst) > before {
            session.poll();
        }
    }
    assert!(session.changed_outside());
}
