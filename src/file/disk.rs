//! Layouts on disk.

use super::notes::noted_lines;
use super::{FileError, Format, parse, to_text};
use crate::layout::Layout;
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

/// The most bytes of a layout file: 32 MiB.
pub const MOST_BYTES: u64 = 32 * 1024 * 1024;

/// Reads a layout; the extension says the format (`.ron`, `.json`), else the first character does.
///
/// # Errors
/// As [`parse`], and files that are missing, locked, folders, over [`MOST_BYTES`] long or not UTF-8.
pub fn read(path: &Path) -> Result<Layout, FileError> {
    open(path).map(|opened| opened.layout)
}

/// A layout as it was read, and what of its file is not in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The layout.
    pub layout: Layout,
    /// Lines with a note (`// …`, `/* … */`) on them: writing the layout over the file would drop these.
    pub noted_lines: usize,
}

/// Reads a layout as [`read`] does, and counts the notes that a person left in the file.
///
/// # Errors
/// As [`read`].
pub fn open(path: &Path) -> Result<Opened, FileError> {
    let bytes = bytes_of(path).map_err(|error| error.file(path))?;
    let text = text_of(bytes).map_err(|error| error.file(path))?;
    let format = Format::of_path(path).unwrap_or_else(|| Format::of_text(&text));
    let layout = parse(&text, format).map_err(|error| error.file(path))?;
    Ok(Opened {
        layout,
        noted_lines: noted_lines(&text),
    })
}

fn bytes_of(path: &Path) -> Result<Vec<u8>, FileError> {
    let metadata = fs::metadata(path).map_err(|error| cannot("read", &error))?;
    if metadata.is_dir() {
        return Err(is_folder("give a layout file"));
    }
    if metadata.len() > MOST_BYTES {
        return Err(too_large());
    }
    let file = File::open(path).map_err(|error| cannot("read", &error))?;
    let mut bytes = Vec::new();
    // Devices and pipes say nothing of their length, and a file may grow meanwhile.
    file.take(MOST_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| cannot("read", &error))?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(too_large());
    }
    Ok(bytes)
}

fn text_of(bytes: Vec<u8>) -> Result<String, FileError> {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(FileError::new(
            "the file is saved as UTF-16",
            "save it as UTF-8",
        ));
    }
    String::from_utf8(bytes).map_err(|error| {
        let valid = error.utf8_error().valid_up_to();
        let bytes = error.into_bytes();
        let before = bytes.get(..valid).unwrap_or_default();
        let before = String::from_utf8_lossy(before);
        FileError::new(
            "the file is not UTF-8 text",
            "save it as UTF-8; if it is no text at all, give a layout file",
        )
        .at(&before, valid)
    })
}

/// Reads a text that is no layout, a table perhaps: UTF-8, with or without its mark.
///
/// # Errors
/// Files that are missing, locked, folders, over [`MOST_BYTES`] long or not UTF-8.
pub fn read_text(path: &Path) -> Result<String, FileError> {
    bytes_of(path)
        .and_then(text_of)
        .map_err(|error| error.file(path))
}

/// Writes a layout over what was there, all of it or nothing: whatever goes wrong, the old file stays.
///
/// The extension says the format (`.ron`, `.json`); any other is written as RON. A file that is a
/// link stays one, and its permissions stay.
///
/// # Errors
/// As [`to_text`], and places that cannot be written.
pub fn write(layout: &Layout, path: &Path) -> Result<(), FileError> {
    let format = Format::of_path(path).unwrap_or(Format::Ron);
    let text = to_text(layout, format).map_err(|error| error.file(path))?;
    put(path, text.as_bytes()).map_err(|error| error.file(path))
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
    put(path, bytes).map_err(|error| error.file(path))
}

fn put(path: &Path, bytes: &[u8]) -> Result<(), FileError> {
    let failed = |error: io::Error| cannot("write", &error);
    match fs::metadata(path) {
        Ok(old) if old.is_dir() => Err(FileError::new(
            "this is a folder",
            "give the name of a file in it",
        )),
        // A device or a pipe is written to, never replaced.
        Ok(old) if !old.is_file() => fs::write(path, bytes).map_err(failed),
        Ok(old) if old.permissions().readonly() => Err(FileError::new(
            "the file may only be read",
            "allow writing to it, or save under another name",
        )),
        Ok(old) => {
            let target = fs::canonicalize(path).map_err(failed)?;
            replace(&target, bytes, Some(&old)).map_err(failed)
        }
        Err(error) if error.kind() == ErrorKind::NotFound => {
            replace(path, bytes, None).map_err(failed)
        }
        Err(error) => Err(failed(error)),
    }
}

/// Writes beside `target`, then renames over it.
fn replace(target: &Path, bytes: &[u8], old: Option<&Metadata>) -> io::Result<()> {
    let (mut file, beside) = create_beside(target)?;
    let written = (|| {
        file.write_all(bytes)?;
        if let Some(old) = old {
            file.set_permissions(old.permissions())?;
        }
        file.sync_all()?;
        fs::rename(&beside, target)
    })();
    if written.is_err() {
        // The error that matters is the first one; a leftover is only untidy.
        let _ = fs::remove_file(&beside);
    }
    written
}

fn create_beside(target: &Path) -> io::Result<(File, PathBuf)> {
    let mut attempt = 0;
    loop {
        // Short, whatever the length of the target's own name.
        let name = format!(".fallwright-{}-{attempt}.part", std::process::id());
        let beside = target.with_file_name(name);
        match OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&beside)
        {
            Ok(file) => return Ok((file, beside)),
            Err(error) if error.kind() == ErrorKind::AlreadyExists && attempt < 100 => attempt += 1,
            Err(error) => return Err(error),
        }
    }
}

pub(super) fn is_folder(cure: &str) -> FileError {
    FileError::new("this is a folder", cure)
}

fn too_large() -> FileError {
    FileError::new(
        format!("the file is over {} MiB long", MOST_BYTES / (1024 * 1024)),
        "give a layout file; split a layout that is as large as this",
    )
}

pub(super) fn cannot(verb: &str, error: &io::Error) -> FileError {
    match error.kind() {
        ErrorKind::NotFound if verb == "read" => {
            FileError::new("there is no such file", "check the name and the folder")
        }
        ErrorKind::NotFound => FileError::new(
            "there is no such folder",
            "make the folder, or save in another",
        ),
        ErrorKind::PermissionDenied => FileError::new(
            format!("permission to {verb} it is refused"),
            "allow it, or use a file of your own",
        ),
        _ => FileError::new(
            format!(
                "it cannot be {}: {error}",
                if verb == "read" { "read" } else { "written" }
            ),
            "check the disk and the name",
        ),
    }
}
