//! The journal: work that is not saved is on disk within two seconds, whatever becomes of the program.
//!
//! Each window keeps one file, written whole beside the old one, synced and renamed over it, by a thread of its
//! own. Saving, and going on without saving, take it away again; what is there at the next start and belongs to no
//! window that lives is work that was lost.

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

/// Everything that is to be on disk.
#[derive(Clone, Debug, Default)]
struct JournalJob {
    /// The work that is not saved; none: there is none.
    work: Option<Arc<Entry>>,
    /// How the last file is looked at.
    view: Option<Arc<str>>,
}

/// The session's end.
pub(super) struct Journal {
    folder: Option<PathBuf>,
    slot: Arc<JobSlot<JournalJob>>,
    results: Receiver<Option<FileError>>,
    latest: JournalJob,
    thread: Option<JoinHandle<()>>,
    trouble: Option<FileError>,
    /// Keeps here and now, where no thread could be had.
    instead: Option<JournalThread>,
}

impl Journal {
    /// A journal in this folder; none: nothing is kept.
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

    /// The folder that all is kept in.
    pub(super) fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// Work that is not saved.
    pub(super) fn keep(&mut self, entry: Entry) {
        self.latest.work = Some(Arc::new(entry));
        self.ask();
    }

    /// Nothing is unsaved.
    pub(super) fn clear(&mut self) {
        if self.latest.work.take().is_some() || self.trouble.is_some() {
            self.ask();
        }
    }

    /// How the last file is looked at.
    pub(super) fn keep_view(&mut self, view: &str) {
        if self.latest.view.as_deref() != Some(view) {
            self.latest.view = Some(view.into());
            self.ask();
        }
    }

    /// How the last file was looked at when that was kept last, by whatever window.
    pub(super) fn kept_view(&self) -> Option<String> {
        let folder = self.folder.as_deref()?;
        crate::file::read_text(&writer::view_in(folder)).ok()
    }

    /// Once more, where keeping failed.
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

    /// Takes in how keeping went; true where that is another story than before.
    pub(super) fn poll(&mut self) -> bool {
        let before = self.trouble.is_some();
        if let Some(trouble) = self.results.try_iter().last() {
            self.trouble = trouble;
        }
        before != self.trouble.is_some()
    }

    /// Why work is not kept, where it is not.
    pub(super) fn trouble(&self) -> Option<&FileError> {
        self.trouble.as_ref()
    }

    /// Waits until all is on disk.
    pub(super) fn wait(&mut self) {
        self.slot.wait();
        self.poll();
    }
}

/// What was asked for is kept before the program ends; it takes no longer than one file.
impl Drop for Journal {
    fn drop(&mut self) {
        self.slot.wait();
        self.slot.end();
        // It lets go of the work that it kept: from then on the next window may offer that.
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}
