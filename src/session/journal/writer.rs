//! The thread that keeps: each time the newest, and only what is not kept yet.

use super::slot::JournalSlot;
use super::{Entry, JournalJob};
use crate::file::{Disk, FileError};
use crate::session::job_slot::JobSlot;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::Sender;
use std::time::Duration;

/// Between two times that something is kept: far within the two seconds in which all of it has to be.
const PAUSE: Duration = Duration::from_millis(200);

/// The thread's end.
pub(super) struct JournalThread {
    pub folder: PathBuf,
    pub disk: Disk,
    pub slot: Arc<JobSlot<JournalJob>>,
    /// What stood against keeping the last job; none: it is kept.
    pub sender: Sender<Option<FileError>>,
    pub wake: Arc<dyn Fn() + Send + Sync>,
    pub place: Option<JournalSlot>,
    /// What is on disk.
    pub kept: JournalJob,
}

impl JournalThread {
    pub(super) fn serve(mut self) {
        let mut failed = false;
        while let Some(job) = self.slot.next() {
            let trouble = self.keep(job).err();
            let tell = trouble.is_some() || failed;
            failed = trouble.is_some();
            if self.sender.send(trouble).is_ok() && tell {
                (self.wake)();
            }
            self.slot.done();
            // A page that is moved changes with every frame: that need not be on disk as often.
            self.slot.rest(PAUSE);
        }
    }

    /// Puts on disk what is not there yet.
    pub(super) fn keep(&mut self, job: JournalJob) -> Result<(), FileError> {
        let work = match (&job.work, &self.kept.work) {
            (Some(new), Some(old)) if Arc::ptr_eq(new, old) => Ok(()),
            (Some(new), _) => self.write(new),
            (None, _) => self.clear(),
        };
        if work.is_ok() {
            self.kept.work = job.work;
        }
        // How a file was looked at is no loss: it is not told where that cannot be kept.
        if self.kept.view != job.view
            && let Some(view) = &job.view
        {
            let _ = std::fs::create_dir_all(&self.folder);
            let _ = self.disk.save(view.as_bytes(), &view_in(&self.folder));
            self.kept.view = job.view;
        }
        work
    }

    fn write(&mut self, entry: &Entry) -> Result<(), FileError> {
        let folder = journal_in(&self.folder);
        let place = match self.place.take() {
            Some(place) => place,
            None => {
                JournalSlot::new(&folder).map_err(|error| FileError::writing(&error, &folder))?
            }
        };
        let written = place.write(&self.disk, entry);
        self.place = Some(place);
        written
    }

    fn clear(&mut self) -> Result<(), FileError> {
        let Some(place) = &self.place else {
            return Ok(());
        };
        place
            .clear()
            .map_err(|error| FileError::writing(&error, place.path()))
    }
}

/// Where work is kept that is not saved.
pub(super) fn journal_in(folder: &Path) -> PathBuf {
    folder.join("journal")
}

/// Where it is kept how the last file was looked at.
pub(super) fn view_in(folder: &Path) -> PathBuf {
    folder.join("last-view.txt")
}
