//! Unsaved work of windows that no longer run.

use super::slot::{JournalSlot, claim};
use super::writer::journal_in;
use super::{Entry, utc};
use crate::file;
use crate::session::resume::now_s;
use std::fs;
use std::path::{Path, PathBuf};

/// Unsaved work of a window that ended without warning. While this value exists, no other window offers it.
#[derive(Debug)]
pub struct LeftWork {
    /// The unsaved work.
    pub entry: Entry,
    place: JournalSlot,
}

impl LeftWork {
    /// Time of the last edit, for the user.
    pub fn edited(&self) -> String {
        utc(self.entry.edited_s)
    }

    /// Time since the last edit, s; none where the clock was set back meanwhile.
    pub fn edited_ago_s(&self) -> Option<f64> {
        let ago_s = now_s().checked_sub(self.entry.edited_s)?;
        Some(ago_s as f64)
    }

    /// Its file in the journal.
    pub fn path(&self) -> &Path {
        self.place.path()
    }

    /// Discards the work, because it is unwanted or saved elsewhere.
    pub(in crate::session) fn drop_for_good(self) {
        // An entry that cannot be removed is offered once more, which does no harm.
        let _ = self.place.clear();
    }
}

/// All entries in this folder, newest first. Entries already saved to their own file are removed, and so are locks
/// that nobody holds.
pub(in crate::session) fn all_left(folder: &Path) -> Vec<LeftWork> {
    let journal = journal_in(folder);
    let mut left: Vec<LeftWork> = with_ending(&journal, "ron")
        .iter()
        .filter_map(|entry| JournalSlot::left(entry))
        .filter_map(|place| Some((place.read()?, place)))
        .map(|(entry, place)| LeftWork { entry, place })
        .collect();
    let (saved, mut wanted): (Vec<_>, Vec<_>) = left.drain(..).partition(is_saved);
    saved.into_iter().for_each(LeftWork::drop_for_good);
    let marks = with_ending(&folder.join("open"), "lock");
    for lock in with_ending(&journal, "lock").into_iter().chain(marks) {
        if !lock.with_extension("ron").exists()
            && let Ok(Some(_held)) = claim(&lock)
        {
            let _ = fs::remove_file(&lock);
        }
    }
    wanted.sort_by_key(|one| std::cmp::Reverse(one.entry.edited_s));
    wanted
}

/// Whether its file holds the same layout: the program ended after saving, before it updated the journal.
fn is_saved(left: &LeftWork) -> bool {
    let Some(path) = &left.entry.file else {
        return false;
    };
    let saved = file::read(path).map(|layout| crate::session::picture::rooted(layout, path));
    saved.is_ok_and(|saved| saved == *left.entry.layout)
}

fn with_ending(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let files = fs::read_dir(folder).into_iter().flatten().flatten();
    let files = files.map(|file| file.path());
    files
        .filter(|path| path.extension().is_some_and(|own| own == ending))
        .collect()
}
