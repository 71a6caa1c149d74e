//! Sizes of the areas of the window, stored between starts. Their meaning is up to the window.

use super::Session;
use crate::file;
use std::fs;
use std::path::{Path, PathBuf};

/// The file beside that of recent files: a name and a number per line.
const FILE: &str = "window-sizes.txt";
/// Most lines read.
const MOST: usize = 40;

impl Session {
    /// The stored sizes by name; none where nothing is stored, or nothing can be.
    pub fn kept_sizes(&self) -> Vec<(String, f32)> {
        let text = self.sizes_file().and_then(|path| read(&path));
        let lines = text.as_deref().unwrap_or_default().lines();
        lines.take(MOST).filter_map(size).collect()
    }

    /// Stores these sizes in place of the old ones. A failure does no harm: the old ones stay.
    pub fn keep_sizes(&self, sizes: &[(&str, f32)]) {
        let Some(path) = self.sizes_file() else {
            return;
        };
        let lines = sizes.iter().map(|(name, size)| format!("{name} {size}\n"));
        if let Some(folder) = path.parent() {
            let _ = fs::create_dir_all(folder);
        }
        let _ = file::save(&lines.collect::<String>(), &path);
    }

    fn sizes_file(&self) -> Option<PathBuf> {
        self.recent.file().map(|path| path.with_file_name(FILE))
    }
}

fn read(path: &Path) -> Option<String> {
    let known = fs::metadata(path).ok()?;
    // The file has a few lines; a larger one is not ours.
    if known.len() > 4096 {
        return None;
    }
    fs::read_to_string(path).ok()
}

fn size(line: &str) -> Option<(String, f32)> {
    let (name, size) = line.split_once(' ')?;
    let size: f32 = size.trim().parse().ok()?;
    size.is_finite().then(|| (name.to_owned(), size))
}
