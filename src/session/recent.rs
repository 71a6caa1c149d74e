//! The files that were open before.

use crate::file;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// The most files that are remembered.
pub const MOST_RECENT: usize = 8;

/// Where recent files are kept by default: in the user's own folder for such things; none where there is none.
pub fn default_settings() -> Option<PathBuf> {
    let folders = directories::ProjectDirs::from("", "", "Fallwright")?;
    Some(folders.data_local_dir().join("recent-files.txt"))
}

/// The files that were open before, newest first, and where they are kept.
pub(super) struct Recent {
    settings: Option<PathBuf>,
    pub list: Vec<PathBuf>,
}

impl Recent {
    /// Those that are kept in this file.
    pub(super) fn of(settings: Option<PathBuf>) -> Recent {
        let kept = settings.as_deref().and_then(read);
        Recent {
            settings,
            list: newest(kept.unwrap_or_default()),
        }
    }

    /// The file that they are kept in.
    pub(super) fn file(&self) -> Option<&Path> {
        self.settings.as_deref()
    }

    /// Puts a file first. What cannot be kept is only remembered until the end.
    pub(super) fn add(&mut self, path: &Path) {
        // Read again: another window may have added to it meanwhile.
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

/// The files of the list that are still there; none where there is a list that cannot be read, which is then
/// not written over.
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

/// One path a line; one that cannot be written so is left out. Failing is no harm: the old list stays.
fn write(settings: &Path, list: &[PathBuf]) {
    let lines = list.iter().filter_map(|path| path.to_str());
    let lines = lines.filter(|line| !line.contains(['\n', '\r']));
    let text: String = lines.map(|line| format!("{line}\n")).collect();
    if let Some(folder) = settings.parent() {
        let _ = fs::create_dir_all(folder);
    }
    let _ = file::save(&text, settings);
}
