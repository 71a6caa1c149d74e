//! The thread that writes the journal: always the newest state, and only what has changed.

use super::slot::JournalSlot;
use super::{Entry, JournalJob};
use crate::file::{Disk, FileError};
use crate::session::job_slot::JobSlot;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::Sender;
use std::time::Duration;

/// Interval between writes: well within the two seconds promised.
const PAUSE: Duration = Duration::from_millis(200);

/// The thread's side of the journal.
pub(super) struct JournalThread {
    pub folder: PathBuf,
    pub disk: Disk,
    pub slot: Arc<JobSlot<JournalJob>>,
    /// Sends the result of each job: why it could not be written; none: it was.
    pub sender: Sender<Option<FileError>>,
    pub wake: Arc<dyn Fn() + Send + Sync>,
    pub place: Option<JournalSlot>,
    /// What is on disk already.
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
            // Panning changes the view in every frame; it need not be written as often.
            self.slot.rest(PAUSE);
        }
    }

    /// Writes what has changed.
    pub(super) fn keep(&mut self, job: JournalJob) -> Result<(), FileError> {
        let work = match (&job.work, &self.kept.work) {
            (Some(new), Some(old)) if Arc::ptr_eq(new, old) => Ok(()),
            (Some(new), _) => self.write(new),
            (None, _) => self.clear(),
        };
        if work.is_ok() {
            self.kept.work = job.work;
        }
        // A lost view is no loss, so a failure is not reported.
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

/// The folder of unsaved work.
pub(super) fn journal_in(folder: &Path) -> PathBuf {
    folder.join("journal")
}

/// The file with the view of the last file.
pub(super) fn view_in(folder: &Path) -> PathBuf {
    folder.join("last-view.txt")
}
