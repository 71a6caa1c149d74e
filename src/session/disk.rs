//! The session's file: opening, saving, and what is not saved yet.

use super::file_on_disk::FileOnDisk;
use super::{Session, demo, partial_files, picture};
use crate::file::{self, FileError, PreviousVersion};
use crate::layout::Layout;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What became of saving.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Saved {
    /// It is on disk.
    Done,
    /// The layout has no file yet: ask for a name, then [`Session::save_as`].
    NeedsName,
    /// Others have changed the file since it was opened or saved here, so nothing was written: ask, then
    /// [`Session::save_over`] or [`Session::open`] it again.
    ChangedOutside,
}

/// The file of the open layout.
#[derive(Default)]
pub(super) struct OpenFile {
    pub path: Option<PathBuf>,
    /// The layout as it was opened or last saved.
    pub saved: Arc<Layout>,
    pub unsaved: bool,
    pub noted_lines: usize,
    /// Why the version before the last saving could not be kept, where it could not.
    pub not_kept: Option<FileError>,
    /// What others do to it.
    pub outside: FileOnDisk,
}

impl Session {
    /// Opens the demo, which has no file.
    pub fn open_demo(&mut self) {
        self.start(demo().unwrap_or_default(), OpenFile::default());
    }

    /// Opens a new layout without parts, which has no file.
    pub fn open_new(&mut self) {
        let layout = Layout {
            title: "New layout".to_owned(),
            ..Layout::default()
        };
        self.start(layout, OpenFile::default());
    }

    /// Opens a file. What was open is given up, saved or not: ask before, where [`Session::unsaved`].
    ///
    /// # Errors
    /// As [`file::read`]; then nothing changes.
    pub fn open(&mut self, path: &Path) -> Result<(), FileError> {
        let opened = file::open(path)?;
        let path = absolute(path);
        self.recent.add(&path);
        self.leave_file(&path);
        let file = OpenFile {
            outside: FileOnDisk::of(&path, opened.print, self.journal.folder()),
            path: Some(path),
            noted_lines: opened.noted_lines,
            ..OpenFile::default()
        };
        let layout = match &file.path {
            Some(path) => picture::rooted(opened.layout, path),
            None => opened.layout,
        };
        self.start(layout, file);
        Ok(())
    }

    /// Writes the committed layout over its file, all of it or nothing, and keeps the version before it beside it
    /// as `NAME.ron~`. A preview is not saved; a file that others have changed meanwhile is left alone.
    ///
    /// # Errors
    /// As [`file::write`]; then nothing changes.
    pub fn save(&mut self) -> Result<Saved, FileError> {
        match self.file.path.clone() {
            None => Ok(Saved::NeedsName),
            Some(path) if self.file.outside.look(&path) => Ok(Saved::ChangedOutside),
            Some(path) => self.write(path).map(|()| Saved::Done),
        }
    }

    /// As [`Session::save`], whatever others have put into the file; that is kept as the version before.
    ///
    /// # Errors
    /// As [`file::write`]; then nothing changes.
    pub fn save_over(&mut self) -> Result<Saved, FileError> {
        match self.file.path.clone() {
            None => Ok(Saved::NeedsName),
            Some(path) => self.write(path).map(|()| Saved::Done),
        }
    }

    /// Writes the committed layout to this file, which is its own from then on; without an extension it gets
    /// `.ron`.
    ///
    /// A file that is already there is written over: ask before.
    ///
    /// # Errors
    /// As [`file::write`]; then the layout keeps the file that it had.
    pub fn save_as(&mut self, path: &Path) -> Result<(), FileError> {
        let mut path = absolute(path);
        if path
            .extension()
            .is_none_or(|extension| extension.is_empty())
        {
            path.set_extension("ron");
        }
        self.write(path)
    }

    fn write(&mut self, path: PathBuf) -> Result<(), FileError> {
        let layout = picture::relative_to(&self.layout, &path);
        // Until the file is written the journal holds the same as it will: ended in between, nothing is offered
        // that is older than the file.
        self.journal.wait();
        let written = self.disk.write(&layout, &path, PreviousVersion::Kept)?;
        self.recent.add(&path);
        self.leave_file(&path);
        self.file = OpenFile {
            outside: FileOnDisk::of(&path, written.print, self.journal.folder()),
            path: Some(path),
            saved: self.layout.clone(),
            unsaved: false,
            noted_lines: 0,
            not_kept: written.not_kept,
        };
        // Only now, when it is on disk: whenever the program ends, the work is in one place or the other.
        self.note();
        self.journal.wait();
        Ok(())
    }

    /// Gives up the file that was open, before another is: it may be the same one. What was left half written in
    /// the folder of the next one goes.
    fn leave_file(&mut self, next: &Path) {
        self.file.outside = FileOnDisk::default();
        partial_files::clear_parts_of(next);
    }

    /// Why the version before the last saving could not be kept beside the file, where it could not.
    pub fn version_not_kept(&self) -> Option<&FileError> {
        self.file.not_kept.as_ref()
    }

    /// The file of the layout, absolute; none for the demo and a new layout.
    pub fn path(&self) -> Option<&Path> {
        self.file.path.as_deref()
    }

    /// The committed layout differs from what was opened or last saved.
    pub fn unsaved(&self) -> bool {
        self.file.unsaved
    }

    /// Lines of the opened file with notes (`// …`, `/* … */`) on them, which saving over it would drop; 0
    /// after that.
    pub fn notes_lost(&self) -> usize {
        self.file.noted_lines
    }

    /// The files that were opened or saved last, newest first, at most [`MOST_RECENT`](super::MOST_RECENT).
    pub fn recent(&self) -> &[PathBuf] {
        &self.recent.list
    }
}

/// The same path from the root, so that it holds from any folder.
fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf())
}

/// Something is at this place already: saving writes over it.
pub fn is_taken(path: &Path) -> bool {
    path.exists()
}

/// Saves a picture, all of it or nothing; a file that is already there is written over: ask before.
///
/// # Errors
/// As [`file::save_bytes`]; then nothing changes.
pub fn save_picture(bytes: &[u8], path: &Path) -> Result<(), FileError> {
    file::save_bytes(bytes, &absolute(path))
}
