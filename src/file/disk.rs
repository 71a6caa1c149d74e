//! Reads layouts from disk or from any other source of bytes.

use super::notes::noted_lines;
use super::refused::{cannot, cannot_enter, is_folder};
use super::{FileError, Format, parse};
use crate::layout::Layout;
use std::fs::{self, File};
use std::io::Read;
use std::path::Path;

/// Largest layout file that is read, bytes: 32 MiB.
pub const MOST_BYTES: u64 = 32 * 1024 * 1024;

/// Reads a layout. The extension gives the format (`.ron`, `.json`), else the first character does.
///
/// # Errors
/// As [`parse`], and files that are missing, locked, folders, over [`MOST_BYTES`] long or not UTF-8.
pub fn read(path: &Path) -> Result<Layout, FileError> {
    open(path).map(|opened| opened.layout)
}

/// A layout as read, with the facts about its file that the layout does not hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The layout.
    pub layout: Layout,
    /// Number of lines with a comment (`// …`, `/* … */`): saving the layout over the file would drop these.
    pub noted_lines: usize,
    /// The [`fingerprint`] of the bytes of the file.
    pub print: u64,
}

/// Hash of these bytes (FNV-1a, 64 bits): the same for the same bytes, and hardly ever the same for others.
pub fn fingerprint(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |print, byte| {
        (print ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

/// Returns the [`fingerprint`] of a file as it is now.
///
/// # Errors
/// As [`read`], except that the bytes need not be a layout.
pub fn fingerprint_of(path: &Path) -> Result<u64, FileError> {
    let bytes = bytes_of(path).map_err(|error| error.file(path))?;
    Ok(fingerprint(&bytes))
}

/// Reads a layout as [`read`] does, and counts the lines of the file with comments.
///
/// # Errors
/// As [`read`].
pub fn open(path: &Path) -> Result<Opened, FileError> {
    let bytes = bytes_of(path).map_err(|error| error.file(path))?;
    opened(bytes, Format::of_path(path)).map_err(|error| error.file(path))
}

/// Reads a layout from any source of bytes; its first character gives the format. `name`: its name in errors.
///
/// # Errors
/// As [`read`].
pub fn open_from(from: impl Read, name: &Path) -> Result<Opened, FileError> {
    let bytes = bytes_from(from);
    let opened = bytes.and_then(|bytes| opened(bytes, None));
    opened.map_err(|error| error.file(name))
}

fn opened(bytes: Vec<u8>, format: Option<Format>) -> Result<Opened, FileError> {
    let print = fingerprint(&bytes);
    let text = text_of(bytes)?;
    let format = format.unwrap_or_else(|| Format::of_text(&text));
    Ok(Opened {
        layout: parse(&text, format)?,
        noted_lines: noted_lines(&text),
        print,
    })
}

fn bytes_of(path: &Path) -> Result<Vec<u8>, FileError> {
    let metadata = fs::metadata(path).map_err(|error| cannot_enter(&error))?;
    if metadata.is_dir() {
        return Err(is_folder("give a layout file"));
    }
    if metadata.len() > MOST_BYTES {
        return Err(too_large());
    }
    bytes_from(File::open(path).map_err(|error| cannot("read", &error))?)
}

fn bytes_from(from: impl Read) -> Result<Vec<u8>, FileError> {
    let mut bytes = Vec::new();
    // Devices and pipes do not give their length, and a file may grow meanwhile.
    from.take(MOST_BYTES + 1)
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

/// Reads a text that is not a layout, such as a table: UTF-8, with or without a byte-order mark.
///
/// # Errors
/// Files that are missing, locked, folders, over [`MOST_BYTES`] long or not UTF-8.
pub fn read_text(path: &Path) -> Result<String, FileError> {
    bytes_of(path)
        .and_then(text_of)
        .map_err(|error| error.file(path))
}

fn too_large() -> FileError {
    FileError::new(
        format!("the file is over {} MiB long", MOST_BYTES / (1024 * 1024)),
        "give a layout file; split a layout that is as large as this",
    )
}
