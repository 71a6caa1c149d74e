//! Writing files: all of a file or nothing of it, whatever goes wrong and whenever the program ends.

use super::refused::{cannot, is_folder, read_only};
use super::{FileError, Format, fingerprint, to_text};
use crate::layout::Layout;
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// How the name of a file begins and ends that is being written beside the one that it will replace.
const PART: (&str, &str) = (".fallwright-", ".part");

/// Links that lead to links are followed so far.
const MOST_LINKS: usize = 40;

/// Puts these bytes into a new file, so that they outlast a power cut.
type WriteBytes = Arc<dyn Fn(&mut File, &[u8]) -> io::Result<()> + Send + Sync>;

/// The door to the disk for writing. Tests put in another to see what a full or a failing one does.
#[derive(Clone)]
pub struct Disk {
    /// Puts bytes into a new file.
    pub fill: WriteBytes,
}

impl Default for Disk {
    fn default() -> Self {
        Disk {
            fill: Arc::new(|file, bytes| {
                file.write_all(bytes)?;
                file.sync_all()
            }),
        }
    }
}

/// What is done with what was in the file before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PreviousVersion {
    /// It stays beside the file, under the name of [`version_before`].
    Kept,
    /// It is gone.
    Dropped,
}

/// What became of a file that was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// The [`fingerprint`] of what is in it now.
    pub print: u64,
    /// Why the version before it could not be kept; none where it is, where there was none or none was to be.
    pub not_kept: Option<FileError>,
}

/// Where the version before a file is kept: `NAME.ron~`, beside it.
pub fn version_before(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push("~");
    path.with_file_name(name)
}

/// This is a file that was being written: the name says so.
pub fn is_part(path: &Path) -> bool {
    let name = path.file_name().map(|name| name.to_string_lossy());
    name.is_some_and(|name| name.starts_with(PART.0) && name.ends_with(PART.1))
}

/// Writes a layout over what was there, all of it or nothing: whatever goes wrong, the old file stays.
///
/// The extension says the format (`.ron`, `.json`); any other is written as RON. A file that is a
/// link stays one, and its permissions stay.
///
/// # Errors
/// As [`to_text`], and places that cannot be written.
pub fn write(layout: &Layout, path: &Path) -> Result<(), FileError> {
    let disk = Disk::default();
    disk.write(layout, path, PreviousVersion::Dropped).map(drop)
}

/// Saves text that is ready, with the same care as [`write`].
///
/// # Errors
/// Places that cannot be written.
pub fn save(text: &str, path: &Path) -> Result<(), FileError> {
    save_bytes(text.as_bytes(), path)
}

/// Saves bytes that are ready, a drawing perhaps, with the same care as [`write`].
///
/// # Errors
/// Places that cannot be written.
pub fn save_bytes(bytes: &[u8], path: &Path) -> Result<(), FileError> {
    Disk::default().save(bytes, path)
}

impl Disk {
    /// As [`write`](fn@write), and with the version before it kept where that is asked for.
    ///
    /// # Errors
    /// As [`write`](fn@write).
    pub fn write(
        &self,
        layout: &Layout,
        path: &Path,
        before: PreviousVersion,
    ) -> Result<Written, FileError> {
        let format = Format::of_path(path).unwrap_or(Format::Ron);
        let text = to_text(layout, format).map_err(|error| error.file(path))?;
        self.put(path, text.as_bytes(), before)
    }

    /// As [`save_bytes`].
    ///
    /// # Errors
    /// As [`save_bytes`].
    pub fn save(&self, bytes: &[u8], path: &Path) -> Result<(), FileError> {
        self.put(path, bytes, PreviousVersion::Dropped).map(drop)
    }

    fn put(
        &self,
        path: &Path,
        bytes: &[u8],
        before: PreviousVersion,
    ) -> Result<Written, FileError> {
        let not_kept = self.put_all(path, bytes, before);
        not_kept
            .map(|not_kept| Written {
                print: fingerprint(bytes),
                not_kept,
            })
            .map_err(|error| error.file(path))
    }

    /// What stood against keeping the version before, where something did.
    fn put_all(
        &self,
        path: &Path,
        bytes: &[u8],
        before: PreviousVersion,
    ) -> Result<Option<FileError>, FileError> {
        let failed = |error: io::Error| cannot("write", &error);
        let old = match fs::metadata(path) {
            Ok(old) => old,
            Err(error) if error.kind() == ErrorKind::NotFound => {
                let target = pointed_to(path).map_err(failed)?;
                self.replace(&target, bytes, None).map_err(failed)?;
                return Ok(None);
            }
            Err(error) => return Err(failed(error)),
        };
        if old.is_dir() {
            return Err(is_folder("give the name of a file in it"));
        }
        if !old.is_file() {
            // A device or a pipe is written to, never replaced.
            fs::write(path, bytes).map_err(failed)?;
            return Ok(None);
        }
        if old.permissions().readonly() {
            return Err(read_only());
        }
        let target = fs::canonicalize(path).map_err(failed)?;
        let kept = match before {
            PreviousVersion::Kept => self.keep(&target, bytes, &old),
            PreviousVersion::Dropped => Ok(()),
        };
        self.replace(&target, bytes, Some(&old)).map_err(failed)?;
        Ok(kept.err().map(|error| {
            // The folder can be written in, since the file itself was.
            let beside = version_before(path);
            match error.kind() {
                ErrorKind::IsADirectory => is_folder("take it away, so that a file may lie there"),
                _ => cannot("write", &error),
            }
            .file(&beside)
        }))
    }

    /// Keeps what is in a file now as the version before it, unless the same is about to be written again.
    fn keep(&self, target: &Path, bytes: &[u8], old: &Metadata) -> io::Result<()> {
        let now = fs::read(target)?;
        if now == bytes {
            return Ok(());
        }
        self.replace(&version_before(target), &now, Some(old))
    }

    /// Writes beside `target`, then renames over it.
    fn replace(&self, target: &Path, bytes: &[u8], old: Option<&Metadata>) -> io::Result<()> {
        let (mut file, part) = create_part(target)?;
        let written = (|| {
            if let Some(old) = old {
                file.set_permissions(old.permissions())?;
            }
            (self.fill)(&mut file, bytes)?;
            fs::rename(&part, target)
        })();
        match written {
            Ok(()) => sync_folder(target),
            // The error that matters is the first one; a leftover is only untidy.
            Err(_) => drop(fs::remove_file(&part)),
        }
        written
    }
}

/// Where a link leads that leads to nothing yet; any other path itself.
fn pointed_to(path: &Path) -> io::Result<PathBuf> {
    let mut path = path.to_path_buf();
    for _ in 0..MOST_LINKS {
        match fs::read_link(&path) {
            // What a link says begins in the folder where it lies, unless it begins at the root.
            Ok(next) => path = path.parent().unwrap_or(Path::new("")).join(next),
            Err(_) => return Ok(path),
        }
    }
    Err(io::Error::other("links lead round in a ring"))
}

fn create_part(target: &Path) -> io::Result<(File, PathBuf)> {
    let mut attempt = 0;
    loop {
        // Short, whatever the length of the target's own name.
        let name = format!("{}{}-{attempt}{}", PART.0, std::process::id(), PART.1);
        let part = target.with_file_name(name);
        match OpenOptions::new().write(true).create_new(true).open(&part) {
            Ok(file) => {
                // Held until the file is shut, or the program is killed: so leftovers can be told from work.
                // Where a disk knows no locks there is only the age to go by.
                let _ = file.try_lock();
                return Ok((file, part));
            }
            Err(error) if error.kind() == ErrorKind::AlreadyExists && attempt < 100 => attempt += 1,
            Err(error) => return Err(error),
        }
    }
}

/// A new name outlasts a power cut only once its folder is on disk too. Where folders cannot be opened, the
/// system sees to that by itself.
fn sync_folder(target: &Path) {
    let folder = target.parent().filter(|folder| *folder != Path::new(""));
    if let Ok(folder) = File::open(folder.unwrap_or(Path::new("."))) {
        let _ = folder.sync_all();
    }
}
