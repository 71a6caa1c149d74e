//! The journal: unsaved work is on disk within two seconds, even if the program crashes.
//!
//! Each window has one file, written by its own thread beside the old one, synced and renamed over it. Saving or
//! discarding the work removes it; an entry found at the next start without a running window is lost work.

mod entry;
mod left;
mod slot;
mod utc;
mod writer;

pub use entry::Entry;
pub use left::LeftWork;
pub use utc::utc;

pub(super) use left::all_left;
pub(super) use slot::claim;

use super::job_slot::JobSlot;
use crate::file::{Disk, FileError};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, channel};
use std::thread::{self, JoinHandle};
use writer::JournalThread;

/// Everything that has to be on disk.
#[derive(Clone, Debug, Default)]
struct JournalJob {
    /// The unsaved work, if any.
    work: Option<Arc<Entry>>,
    /// The view of the last file.
    view: Option<Arc<str>>,
}

/// The session's side of the journal thread.
pub(super) struct Journal {
    folder: Option<PathBuf>,
    slot: Arc<JobSlot<JournalJob>>,
    results: Receiver<Option<FileError>>,
    latest: JournalJob,
    thread: Option<JoinHandle<()>>,
    trouble: Option<FileError>,
    /// Writes directly, where no thread could be started.
    instead: Option<JournalThread>,
}

impl Journal {
    /// A journal in this folder; none: nothing is written.
    pub(super) fn of(
        folder: Option<PathBuf>,
        disk: Disk,
        wake: Arc<dyn Fn() + Send + Sync>,
    ) -> Journal {
        let slot = Arc::new(JobSlot::default());
        let (sender, results) = channel();
        let mut journal = Journal {
            folder,
            slot,
            results,
            latest: JournalJob::default(),
            thread: None,
            trouble: None,
            instead: None,
        };
        if let Some(folder) = journal.folder.clone() {
            let keeper = || JournalThread {
                folder: folder.clone(),
                disk: disk.clone(),
                slot: journal.slot.clone(),
                sender: sender.clone(),
                wake: wake.clone(),
                place: None,
                kept: JournalJob::default(),
            };
            let theirs = keeper();
            let thread = thread::Builder::new().name("journal".to_owned());
            match thread.spawn(move || theirs.serve()) {
                Ok(thread) => journal.thread = Some(thread),
                Err(_) => journal.instead = Some(keeper()),
            }
        }
        journal
    }

    /// The folder of the journal.
    pub(super) fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// Sets the unsaved work.
    pub(super) fn keep(&mut self, entry: Entry) {
        self.latest.work = Some(Arc::new(entry));
        self.ask();
    }

    /// Records that there is no unsaved work.
    pub(super) fn clear(&mut self) {
        if self.latest.work.take().is_some() || self.trouble.is_some() {
            self.ask();
        }
    }

    /// Sets the view of the last file.
    pub(super) fn keep_view(&mut self, view: &str) {
        if self.latest.view.as_deref() != Some(view) {
            self.latest.view = Some(view.into());
            self.ask();
        }
    }

    /// The last stored view, from any window.
    pub(super) fn kept_view(&self) -> Option<String> {
        let folder = self.folder.as_deref()?;
        crate::file::read_text(&writer::view_in(folder)).ok()
    }

    /// Tries again after a failure.
    pub(super) fn again(&mut self) {
        self.ask();
    }

    fn ask(&mut self) {
        let job = self.latest.clone();
        match &mut self.instead {
            Some(keeper) => self.trouble = keeper.keep(job).err(),
            None if self.folder.is_some() => self.slot.put(job),
            None => {}
        }
    }

    /// Takes in the result of writing; true where it has changed.
    pub(super) fn poll(&mut self) -> bool {
        let before = self.trouble.is_some();
        if let Some(trouble) = self.results.try_iter().last() {
            self.trouble = trouble;
        }
        before != self.trouble.is_some()
    }

    /// Why unsaved work is not protected, if so.
    pub(super) fn trouble(&self) -> Option<&FileError> {
        self.trouble.as_ref()
    }

    /// Waits until everything is on disk.
    pub(super) fn wait(&mut self) {
        self.slot.wait();
        self.poll();
    }
}

/// Pending writes finish before the program ends; that takes no longer than one file.
impl Drop for Journal {
    fn drop(&mut self) {
        self.slot.wait();
        self.slot.end();
        // Releases the lock on the work: from now on the next window may offer it.
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}
