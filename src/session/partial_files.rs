//! Removes partly written files that an ended program left behind.

use crate::file::is_part;
use std::fs::{self, File, TryLockError};
use std::path::Path;
use std::time::Duration;

/// A younger partial file may not be locked yet by its writer.
const SURELY_LOCKED: Duration = Duration::from_secs(2);
/// Where locking is not possible, no write takes longer than this.
const SURELY_LEFT: Duration = Duration::from_secs(24 * 3600);

/// Removes abandoned partial files beside this file.
pub fn clear_parts_of(path: &Path) {
    let folder = path.parent().filter(|folder| *folder != Path::new(""));
    clear(folder.unwrap_or(Path::new(".")));
}

/// Removes abandoned partial files in this folder. A failure does no harm: the next start tries again.
pub(super) fn clear(folder: &Path) {
    for file in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = file.path();
        if is_part(&path) && is_left(&path) {
            let _ = fs::remove_file(&path);
        }
    }
}

fn is_left(part: &Path) -> bool {
    let age = || fs::metadata(part).ok()?.modified().ok()?.elapsed().ok();
    let Some(age) = age().filter(|age| *age > SURELY_LOCKED) else {
        return false;
    };
    let Ok(file) = File::open(part) else {
        return age > SURELY_LEFT;
    };
    match file.try_lock() {
        Ok(()) => true,
        Err(TryLockError::WouldBlock) => false,
        Err(TryLockError::Error(_)) => age > SURELY_LEFT,
    }
}
