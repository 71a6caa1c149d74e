//! Recent files.

use crate::file;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Largest number of files in the list.
pub const MOST_RECENT: usize = 8;

/// The default path of the list, in the user's data folder; none where there is none.
pub fn default_settings() -> Option<PathBuf> {
    let folders = directories::ProjectDirs::from("", "", "Fallwright")?;
    Some(folders.data_local_dir().join("recent-files.txt"))
}

/// Recent files, newest first, and where they are stored.
pub(super) struct Recent {
    settings: Option<PathBuf>,
    pub list: Vec<PathBuf>,
}

impl Recent {
    /// The list stored in this file.
    pub(super) fn of(settings: Option<PathBuf>) -> Recent {
        let kept = settings.as_deref().and_then(read);
        Recent {
            settings,
            list: newest(kept.unwrap_or_default()),
        }
    }

    /// The file of the list.
    pub(super) fn file(&self) -> Option<&Path> {
        self.settings.as_deref()
    }

    /// Puts a file first. Where the list cannot be stored, it lasts until the program ends.
    pub(super) fn add(&mut self, path: &Path) {
        // Read again: another window may have added a file meanwhile.
        let kept = self.settings.as_deref().and_then(read);
        let may_write = kept.is_some();
        let mut all = vec![path.to_path_buf()];
        all.extend(kept.unwrap_or_default());
        all.append(&mut self.list);
        self.list = newest(all);
        if let Some(settings) = self.settings.as_deref().filter(|_| may_write) {
            write(settings, &self.list);
        }
    }
}

fn newest(all: Vec<PathBuf>) -> Vec<PathBuf> {
    let mut newest: Vec<PathBuf> = Vec::new();
    for path in all {
        if newest.len() < MOST_RECENT && !newest.contains(&path) {
            newest.push(path);
        }
    }
    newest
}

/// The files of the list that still exist; none where the list cannot be read, and then it is not overwritten.
fn read(settings: &Path) -> Option<Vec<PathBuf>> {
    let text = match fs::read_to_string(settings) {
        Ok(text) => text,
        Err(error) if error.kind() == ErrorKind::NotFound => String::new(),
        Err(_) => return None,
    };
    let paths = text.lines().filter(|line| !line.is_empty());
    Some(
        paths
            .map(PathBuf::from)
            .filter(|path| path.is_file())
            .collect(),
    )
}

/// One path per line; a path that cannot be written this way is left out. A failure does no harm: the old list stays.
fn write(settings: &Path, list: &[PathBuf]) {
    let lines = list.iter().filter_map(|path| path.to_str());
    let lines = lines.filter(|line| !line.contains(['\n', '\r']));
    let text: String = lines.map(|line| format!("{line}\n")).collect();
    if let Some(folder) = settings.parent() {
        let _ = fs::create_dir_all(folder);
    }
    let _ = file::save(&text, settings);
}
