//! The file of the session: opening, saving and unsaved changes.

use super::file_on_disk::FileOnDisk;
use super::{Session, demo, partial_files, picture};
use crate::file::{self, FileError, PreviousVersion};
use crate::layout::Layout;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Result of saving.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Saved {
    /// The file is on disk.
    Done,
    /// The layout has no file yet: ask for a name, then [`Session::save_as`].
    NeedsName,
    /// Another program has changed the file, so nothing was written: ask, then [`Session::save_over`] or
    /// [`Session::open`] it again.
    ChangedOutside,
}

/// The file of the open layout.
#[derive(Default)]
pub(super) struct OpenFile {
    pub path: Option<PathBuf>,
    /// The layout as opened or last saved.
    pub saved: Arc<Layout>,
    pub unsaved: bool,
    pub noted_lines: usize,
    /// Why the previous version could not be kept at the last save, if so.
    pub not_kept: Option<FileError>,
    /// Changes of the file by other programs.
    pub outside: FileOnDisk,
}

impl Session {
    /// Opens the demo, which has no file.
    pub fn open_demo(&mut self) {
        self.start(demo().unwrap_or_default(), OpenFile::default());
    }

    /// Opens a new, empty layout, which has no file.
    pub fn open_new(&mut self) {
        let layout = Layout {
            title: "New layout".to_owned(),
            ..Layout::default()
        };
        self.start(layout, OpenFile::default());
    }

    /// Opens a file. The open layout is closed, saved or not: ask before, if [`Session::unsaved`].
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

    /// Writes the committed layout to its file, all or nothing, and keeps the previous version beside it as
    /// `NAME.ron~`. A preview is not saved; a file changed by another program is left alone.
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

    /// As [`Session::save`], even if another program has changed the file; its version is kept as the previous one.
    ///
    /// # Errors
    /// As [`file::write`]; then nothing changes.
    pub fn save_over(&mut self) -> Result<Saved, FileError> {
        match self.file.path.clone() {
            None => Ok(Saved::NeedsName),
            Some(path) => self.write(path).map(|()| Saved::Done),
        }
    }

    /// Writes the committed layout to this file, which becomes its own; without an extension it gets `.ron`.
    ///
    /// An existing file is overwritten: ask before.
    ///
    /// # Errors
    /// As [`file::write`]; then the layout keeps its old file.
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
        // The journal holds the same content until the file is written: if the program ends in between, it offers
        // nothing older than the file.
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
        // Only after the file is on disk: whenever the program ends, the work is in one of the two places.
        self.note();
        self.journal.wait();
        Ok(())
    }

    /// Closes the open file before another one is opened, which may be the same. Partly written files in the folder
    /// of the new one are removed.
    fn leave_file(&mut self, next: &Path) {
        self.file.outside = FileOnDisk::default();
        partial_files::clear_parts_of(next);
    }

    /// Why the previous version could not be kept beside the file, if so.
    pub fn version_not_kept(&self) -> Option<&FileError> {
        self.file.not_kept.as_ref()
    }

    /// The file of the layout, absolute; none for the demo and a new layout.
    pub fn path(&self) -> Option<&Path> {
        self.file.path.as_deref()
    }

    /// Whether the committed layout differs from the one opened or last saved.
    pub fn unsaved(&self) -> bool {
        self.file.unsaved
    }

    /// Lines of the opened file with comments (`// …`, `/* … */`), which saving would drop; 0 after that.
    pub fn notes_lost(&self) -> usize {
        self.file.noted_lines
    }

    /// The last files opened or saved, newest first, at most [`MOST_RECENT`](super::MOST_RECENT).
    pub fn recent(&self) -> &[PathBuf] {
        &self.recent.list
    }
}

/// The absolute path, valid from any folder.
fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf())
}

/// Whether the file exists, so that saving would overwrite it.
pub fn is_taken(path: &Path) -> bool {
    path.exists()
}

/// Saves a picture, all or nothing; an existing file is overwritten: ask before.
///
/// # Errors
/// As [`file::save_bytes`]; then nothing changes.
pub fn save_picture(bytes: &[u8], path: &Path) -> Result<(), FileError> {
    file::save_bytes(bytes, &absolute(path))
}
