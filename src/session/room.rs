//! How large the areas of the window are, kept from one start to the next. What they are is the window's business.

use super::Session;
use crate::file;
use std::fs;
use std::path::{Path, PathBuf};

/// The file beside that of the recent files: a name and a number a line.
const FILE: &str = "window-sizes.txt";
/// Most lines that are read.
const MOST: usize = 40;

impl Session {
    /// The sizes that were kept last, each by its name; none where nothing was, or nothing can be.
    pub fn kept_sizes(&self) -> Vec<(String, f32)> {
        let text = self.sizes_file().and_then(|path| read(&path));
        let lines = text.as_deref().unwrap_or_default().lines();
        lines.take(MOST).filter_map(size).collect()
    }

    /// Keeps these in place of those that were. Failing is no harm: the old ones stay.
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
    // A few lines: what is larger is not ours.
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
