//! Unsaved work: stored, offered again after a crash, and copied when the program fails.

use super::disk::OpenFile;
use super::file_on_disk::FileOnDisk;
use super::journal::{Entry, LeftWork, all_left};
use super::{FileError, Session, partial_files, picture};
use crate::file::{self, Format, fingerprint};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

/// Number of copies kept.
const MOST_ASIDE: usize = 20;

/// The default folder: the user's data folder; none where there is none.
pub fn default_keep() -> Option<PathBuf> {
    let folders = directories::ProjectDirs::from("", "", "Fallwright")?;
    Some(folders.data_local_dir().to_path_buf())
}

pub(super) fn now_s() -> u64 {
    let since = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
    since.map_or(0, |since| since.as_secs())
}

impl Session {
    /// Updates the journal with the committed layout: unsaved work, or that there is none.
    pub(super) fn note(&mut self) {
        if !self.file.unsaved {
            return self.journal.clear();
        }
        self.journal.keep(Entry {
            file: self.file.path.clone(),
            print: self.file.outside.print,
            edited_s: now_s(),
            layout: self.layout.clone(),
        });
    }

    /// Why unsaved work is not protected, if so.
    pub fn keep_trouble(&self) -> Option<&FileError> {
        self.journal.trouble()
    }

    /// Tries again to protect unsaved work.
    pub fn keep_again(&mut self) {
        self.journal.again();
    }

    /// Discards unsaved work on purpose: it will not be offered again.
    pub fn give_up(&mut self) {
        self.journal.clear();
        self.journal.wait();
    }

    /// Finds unsaved work of windows that ended without warning, and removes their partly written files.
    pub fn find_left(&mut self) {
        if let Some(folder) = self.journal.folder().map(Path::to_path_buf) {
            partial_files::clear(&folder);
            partial_files::clear(&folder.join("journal"));
            self.left = all_left(&folder);
        }
    }

    /// The unsaved work that was found, newest first. Other windows leave it alone while it is listed here.
    pub fn left(&self) -> &[LeftWork] {
        &self.left
    }

    /// Opens the newest entry as unsaved work, with its file.
    pub fn take_up_left(&mut self) {
        if self.left.is_empty() {
            return;
        }
        let left = self.left.remove(0);
        let entry = left.entry.clone();
        let mut file = OpenFile::default();
        let mut saved = None;
        if let Some(path) = &entry.file {
            let print = entry.print.unwrap_or_default();
            self.file.outside = FileOnDisk::default();
            file.outside = FileOnDisk::of(path, print, self.journal.folder());
            file.outside.print = entry.print;
            file.outside.look(path);
            if let Ok(opened) = file::open(path) {
                file.noted_lines = opened.noted_lines;
                saved = Some(Arc::new(picture::rooted(opened.layout, path)));
            }
            file.path = Some(path.clone());
            self.recent.add(path);
        }
        self.start(entry.layout.as_ref().clone(), file);
        // Without a file, or with a deleted file, it is unsaved whatever it contains.
        self.file.saved = saved.unwrap_or_default();
        self.show();
        self.journal.wait();
        if self.journal.trouble().is_none() {
            left.drop_for_good();
        }
    }

    /// Discards the newest entry for good.
    pub fn throw_left_away(&mut self) {
        if !self.left.is_empty() {
            self.left.remove(0).drop_for_good();
        }
    }

    /// Leaves all entries for the next start.
    pub fn leave_left(&mut self) {
        self.left.clear();
    }

    /// Stores the view of the open file, in the window's own format.
    pub fn keep_view(&mut self, view: &str) {
        let path = self.file.path.as_deref().and_then(Path::to_str);
        if let Some(path) = path.filter(|path| !path.contains('\n')) {
            self.journal.keep_view(&format!("{path}\n{view}"));
        }
    }

    /// The stored view of the open file, if it was the last one.
    pub fn kept_view(&self) -> Option<String> {
        let kept = self.journal.kept_view()?;
        let (path, view) = kept.split_once('\n')?;
        (self.file.path.as_deref()? == Path::new(path)).then(|| view.to_owned())
    }

    /// The last open file, if it still exists.
    pub fn last_file(&self) -> Option<PathBuf> {
        self.recent().first().cloned()
    }

    /// Writes a copy of the committed layout after an internal error, and returns its path.
    ///
    /// # Errors
    /// As [`file::write`].
    pub fn set_aside(&self) -> Result<PathBuf, FileError> {
        let text = file::to_text(&self.layout, Format::Ron)?;
        let folder = match self.journal.folder() {
            Some(folder) => folder.join("aside"),
            None => std::env::temp_dir(),
        };
        fs::create_dir_all(&folder).map_err(|error| FileError::writing(&error, &folder))?;
        // A layout is copied once, however often the program fails on it.
        let print = fingerprint(text.as_bytes());
        let path = folder.join(format!("fallwright-aside-{print:016x}.ron"));
        self.disk.save(text.as_bytes(), &path)?;
        keep_newest(&folder);
        Ok(path)
    }

    /// Whether solving failed with an internal error since the last call.
    pub fn solving_failed(&mut self) -> bool {
        self.services.failures()
            > std::mem::replace(&mut self.failures_reported, self.services.failures())
    }
}

/// Deletes the oldest copies, so that a repeated error does not fill the disk.
fn keep_newest(folder: &Path) {
    let files = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut aside: Vec<(SystemTime, PathBuf)> = files
        .map(|file| file.path())
        .filter(|path| {
            let name = path.file_name().map(|name| name.to_string_lossy());
            name.is_some_and(|name| name.starts_with("fallwright-aside-"))
        })
        .filter_map(|path| Some((fs::metadata(&path).ok()?.modified().ok()?, path)))
        .collect();
    aside.sort();
    let too_many = aside.len().saturating_sub(MOST_ASIDE);
    for (_, path) in aside.into_iter().take(too_many) {
        let _ = fs::remove_file(path);
    }
}
