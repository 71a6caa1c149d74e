//! Writes files atomically: a failure or a crash leaves either the old file or the new one.

use super::refused::{cannot, is_folder, read_only};
use super::{FileError, Format, fingerprint, to_text};
use crate::layout::Layout;
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Prefix and suffix of the name of a partial file, which is written beside its target and then renamed over it.
const PART: (&str, &str) = (".fallwright-", ".part");

/// Largest number of symbolic links followed in a row.
const MOST_LINKS: usize = 40;

/// Writes these bytes into a new file, and syncs them so that they survive a power cut.
type WriteBytes = Arc<dyn Fn(&mut File, &[u8]) -> io::Result<()> + Send + Sync>;

/// Write access to the disk. Tests replace it to simulate a full or failing disk.
#[derive(Clone)]
pub struct Disk {
    /// Writes bytes into a new file.
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

/// What happens to the previous content of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PreviousVersion {
    /// It is kept beside the file, under the name of [`version_before`].
    Kept,
    /// It is discarded.
    Dropped,
}

/// The result of writing a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// The [`fingerprint`] of its new content.
    pub print: u64,
    /// Why the previous version could not be kept; none where it was kept, did not exist or was not to be kept.
    pub not_kept: Option<FileError>,
}

/// The path of the previous version of a file: `NAME.ron~`, beside it.
pub fn version_before(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push("~");
    path.with_file_name(name)
}

/// Returns whether this is a partial file, by its name.
pub fn is_part(path: &Path) -> bool {
    let name = path.file_name().map(|name| name.to_string_lossy());
    name.is_some_and(|name| name.starts_with(PART.0) && name.ends_with(PART.1))
}

/// Writes a layout to a file atomically: after any failure the old file is still there.
///
/// The extension gives the format (`.ron`, `.json`); any other is written as RON. A symbolic link stays a link, and the
/// permissions stay.
///
/// # Errors
/// As [`to_text`], and paths that cannot be written.
pub fn write(layout: &Layout, path: &Path) -> Result<(), FileError> {
    let disk = Disk::default();
    disk.write(layout, path, PreviousVersion::Dropped).map(drop)
}

/// Saves finished text as safely as [`write`].
///
/// # Errors
/// Paths that cannot be written.
pub fn save(text: &str, path: &Path) -> Result<(), FileError> {
    save_bytes(text.as_bytes(), path)
}

/// Saves finished bytes, such as a drawing, as safely as [`write`].
///
/// # Errors
/// Paths that cannot be written.
pub fn save_bytes(bytes: &[u8], path: &Path) -> Result<(), FileError> {
    Disk::default().save(bytes, path)
}

impl Disk {
    /// As [`write`](fn@write); keeps the previous version where `before` says so.
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

    /// Returns why the previous version could not be kept, if so.
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
            // A device or a pipe is written to, not replaced.
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
            // The folder is writable, since the file itself was written.
            let beside = version_before(path);
            match error.kind() {
                ErrorKind::IsADirectory => is_folder("take it away, so that a file may lie there"),
                _ => cannot("write", &error),
            }
            .file(&beside)
        }))
    }

    /// Keeps the present content as the previous version, unless the same content is about to be written again.
    fn keep(&self, target: &Path, bytes: &[u8], old: &Metadata) -> io::Result<()> {
        let now = fs::read(target)?;
        if now == bytes {
            return Ok(());
        }
        self.replace(&version_before(target), &now, Some(old))
    }

    /// Writes a partial file beside `target`, then renames it over `target`.
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
            // The first error is the one to report; a leftover partial file does no harm.
            Err(_) => drop(fs::remove_file(&part)),
        }
        written
    }
}

/// The target of a dangling symbolic link; any other path unchanged.
fn pointed_to(path: &Path) -> io::Result<PathBuf> {
    let mut path = path.to_path_buf();
    for _ in 0..MOST_LINKS {
        match fs::read_link(&path) {
            // A relative link starts from the folder of the link.
            Ok(next) => path = path.parent().unwrap_or(Path::new("")).join(next),
            Err(_) => return Ok(path),
        }
    }
    Err(io::Error::other("links lead round in a ring"))
}

fn create_part(target: &Path) -> io::Result<(File, PathBuf)> {
    let mut attempt = 0;
    loop {
        // Short, whatever the length of the name of the target.
        let name = format!("{}{}-{attempt}{}", PART.0, std::process::id(), PART.1);
        let part = target.with_file_name(name);
        match OpenOptions::new().write(true).create_new(true).open(&part) {
            Ok(file) => {
                // Locked until the file is closed or the program is killed, so that leftovers can be told from files
                // being written. Where the disk has no locks, only the age of the file is left.
                let _ = file.try_lock();
                return Ok((file, part));
            }
            Err(error) if error.kind() == ErrorKind::AlreadyExists && attempt < 100 => attempt += 1,
            Err(error) => return Err(error),
        }
    }
}

/// Syncs the folder: a new name survives a power cut only once its folder is on disk too. Where folders cannot be
/// opened, the system does this itself.
fn sync_folder(target: &Path) {
    let folder = target.parent().filter(|folder| *folder != Path::new(""));
    if let Ok(folder) = File::open(folder.unwrap_or(Path::new("."))) {
        let _ = folder.sync_all();
    }
}
