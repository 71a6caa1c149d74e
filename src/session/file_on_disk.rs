//! Changes of the open file by other programs, and a second window on it.

use super::journal::claim;
use super::{Session, picture};
use crate::file::{self, fingerprint, fingerprint_of};
use crate::layout::Layout;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant, SystemTime};

/// Interval between checks of the file.
pub(super) const ASKED_EVERY: Duration = Duration::from_secs(1);

/// Time of the last write of a file, and its length.
pub(super) type Stamp = Option<(SystemTime, u64)>;

pub(super) fn stamp(path: &Path) -> Stamp {
    let metadata = fs::metadata(path).ok()?;
    Some((metadata.modified().ok()?, metadata.len()))
}

/// The file of the layout as this window knows it.
#[derive(Default)]
pub(super) struct FileOnDisk {
    stamp: Stamp,
    /// The fingerprint of what this window read or wrote; none: nothing yet.
    pub print: Option<u64>,
    asked: Option<Instant>,
    /// Another program has changed the file.
    pub changed: bool,
    /// The mark that a window has this file open, and its lock if it is ours.
    mark: Option<PathBuf>,
    held: Option<File>,
}

impl FileOnDisk {
    /// For a file just read or written. `folder`: where windows mark their open files.
    pub(super) fn of(path: &Path, print: u64, folder: Option<&Path>) -> FileOnDisk {
        let mut outside = FileOnDisk::default();
        outside.stamp = stamp(path);
        outside.print = Some(print);
        outside.asked = Some(Instant::now());
        outside.mark = folder.map(|folder| mark_of(path, folder));
        outside.take_mark();
        outside
    }

    fn take_mark(&mut self) {
        if let (Some(mark), None) = (&self.mark, &self.held) {
            if let Some(folder) = mark.parent() {
                let _ = fs::create_dir_all(folder);
            }
            // Without a mark nothing is reported; saving checks the file in any case.
            self.held = claim(mark).unwrap_or_else(|_| {
                self.mark = None;
                None
            });
        }
    }

    /// Whether another window has this file open.
    pub(super) fn elsewhere(&self) -> bool {
        self.mark.is_some() && self.held.is_none()
    }

    /// Whether another program has changed the file since this window read or wrote it. A deleted file does not
    /// count: writing it again loses nothing.
    pub(super) fn look(&mut self, path: &Path) -> bool {
        let now = stamp(path);
        let other = |print: u64| fingerprint_of(path).is_ok_and(|now| now != print);
        self.changed = now.is_some() && self.print.is_some_and(other);
        self.stamp = now;
        self.changed
    }

    /// Checks the file at intervals; true where the result changed.
    fn look_again(&mut self, path: &Path) -> bool {
        if self
            .asked
            .is_some_and(|asked| asked.elapsed() < ASKED_EVERY)
        {
            return false;
        }
        self.asked = Some(Instant::now());
        let before = (self.changed, self.elsewhere());
        if stamp(path) != self.stamp {
            self.look(path);
        }
        self.take_mark();
        before != (self.changed, self.elsewhere())
    }
}

/// Removes the mark when the file is closed.
impl Drop for FileOnDisk {
    fn drop(&mut self) {
        if let (Some(mark), Some(_)) = (&self.mark, &self.held) {
            let _ = fs::remove_file(mark);
        }
    }
}

/// The mark of a file: a name made from its path.
fn mark_of(path: &Path, folder: &Path) -> PathBuf {
    let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let print = fingerprint(real.as_os_str().as_encoded_bytes());
    folder.join("open").join(format!("{print:016x}.lock"))
}

impl Session {
    /// Whether another program or window has changed the file since it was opened or saved here.
    pub fn changed_outside(&self) -> bool {
        self.file.outside.changed
    }

    /// Whether another window has the file open too.
    pub fn open_elsewhere(&self) -> bool {
        self.file.outside.elsewhere()
    }

    /// Keeps the displayed layout, which counts as unsaved where the changed file differs; saving then overwrites
    /// that file and keeps it as the previous version.
    pub fn keep_mine(&mut self) {
        let Some(path) = self.file.path.clone() else {
            return;
        };
        let theirs = file::open(&path);
        self.file.outside.print = fingerprint_of(&path).ok();
        self.file.outside.look(&path);
        self.file.saved = Arc::new(match theirs {
            Ok(opened) => picture::rooted(opened.layout, &path),
            Err(_) => Layout::default(),
        });
        self.show();
    }

    pub(super) fn poll_outside(&mut self) -> bool {
        let file = &mut self.file;
        let path = file.path.as_deref();
        self.watcher.watch(path);
        path.is_some_and(|path| file.outside.look_again(path))
    }
}
