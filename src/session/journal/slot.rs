//! The journal file of one window, and the lock that shows that the window is running.

use super::Entry;
use crate::file::{Disk, FileError};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// Largest number of windows with a journal entry at a time.
const MAX_SLOTS: usize = 1000;

/// A file for the work, and a lock file beside it that is locked while the window runs: the system releases the lock
/// with the program, however it ends.
#[derive(Debug)]
pub(super) struct JournalSlot {
    entry: PathBuf,
    lock: PathBuf,
    /// Held only for its lock.
    _held: File,
}

impl JournalSlot {
    /// Creates a slot in this folder, and the folder where it is missing.
    pub(super) fn new(folder: &Path) -> io::Result<JournalSlot> {
        fs::create_dir_all(folder)?;
        for number in 0..MAX_SLOTS {
            let place = folder.join(format!("unsaved-{number}"));
            let (entry, lock) = (place.with_extension("ron"), place.with_extension("lock"));
            // It holds the work of another window, running or not.
            if entry.exists() {
                continue;
            }
            if let Some(held) = claim(&lock)? {
                return Ok(JournalSlot {
                    entry,
                    lock,
                    _held: held,
                });
            }
        }
        Err(io::Error::other("there is no place left"))
    }

    /// The slot of an entry whose window no longer runs; none where it is locked or gone.
    pub(super) fn left(entry: &Path) -> Option<JournalSlot> {
        let lock = entry.with_extension("lock");
        let held = claim(&lock).ok()??;
        // Another window may have removed it before the lock was taken.
        entry.is_file().then(|| JournalSlot {
            entry: entry.to_path_buf(),
            lock,
            _held: held,
        })
    }

    pub(super) fn write(&self, disk: &Disk, entry: &Entry) -> Result<(), FileError> {
        disk.save(entry.text()?.as_bytes(), &self.entry)
    }

    pub(super) fn read(&self) -> Option<Entry> {
        let text = crate::file::read_text(&self.entry).ok()?;
        Entry::read(&text).ok()
    }

    pub(super) fn path(&self) -> &Path {
        &self.entry
    }

    /// Deletes the entry file.
    pub(super) fn clear(&self) -> io::Result<()> {
        match fs::remove_file(&self.entry) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }
}

/// Removes the lock file with the slot, unless there is work that the user must be asked about.
impl Drop for JournalSlot {
    fn drop(&mut self) {
        if !self.entry.exists() {
            // A leftover file is removed at the next start.
            let _ = fs::remove_file(&self.lock);
        }
    }
}

/// Locks this file, created where it is missing; none where another process holds the lock.
pub(in crate::session) fn claim(lock: &Path) -> io::Result<Option<File>> {
    loop {
        let mut options = OpenOptions::new();
        let file = options
            .write(true)
            .create(true)
            .truncate(false)
            .open(lock)?;
        match file.try_lock() {
            // The previous holder may have just removed it: a lock on a deleted file protects nothing.
            Ok(()) if !lock.exists() => {}
            Ok(()) => return Ok(Some(file)),
            Err(TryLockError::WouldBlock) => return Ok(None),
            Err(TryLockError::Error(error)) => return Err(error),
        }
    }
}
