//! Where the work of one window is kept while it is not saved, and how others see that the window still lives.

use super::Entry;
use crate::file::{Disk, FileError};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// The most windows that one program has open at a time.
const MAX_SLOTS: usize = 1000;

/// A file for the work, and one beside it that is locked as long as the window lives: the system takes that lock
/// away with the program, however it ends.
#[derive(Debug)]
pub(super) struct JournalSlot {
    entry: PathBuf,
    lock: PathBuf,
    /// Only held.
    _held: File,
}

impl JournalSlot {
    /// A place of our own in this folder, which is made where it is missing.
    pub(super) fn new(folder: &Path) -> io::Result<JournalSlot> {
        fs::create_dir_all(folder)?;
        for number in 0..MAX_SLOTS {
            let place = folder.join(format!("unsaved-{number}"));
            let (entry, lock) = (place.with_extension("ron"), place.with_extension("lock"));
            // The work of another window, which lives or has left it.
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

    /// The place of this entry, where whoever kept it lives no longer.
    pub(super) fn left(entry: &Path) -> Option<JournalSlot> {
        let lock = entry.with_extension("lock");
        let held = claim(&lock).ok()??;
        // It may have been dealt with between looking and locking.
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

    /// Nothing is to be kept any longer.
    pub(super) fn clear(&self) -> io::Result<()> {
        match fs::remove_file(&self.entry) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => Ok(()),
        }
    }
}

/// The lock goes with the place, unless there is work that somebody has to be asked about.
impl Drop for JournalSlot {
    fn drop(&mut self) {
        if !self.entry.exists() {
            // A leftover is cleared away at the next start.
            let _ = fs::remove_file(&self.lock);
        }
    }
}

/// Locks this file, made where it is missing; none where somebody else holds it.
pub(in crate::session) fn claim(lock: &Path) -> io::Result<Option<File>> {
    loop {
        let mut options = OpenOptions::new();
        let file = options
            .write(true)
            .create(true)
            .truncate(false)
            .open(lock)?;
        match file.try_lock() {
            // Whoever held it before may have removed it just now: a lock without a name keeps nobody out.
            Ok(()) if !lock.exists() => {}
            Ok(()) => return Ok(Some(file)),
            Err(TryLockError::WouldBlock) => return Ok(None),
            Err(TryLockError::Error(error)) => return Err(error),
        }
    }
}
