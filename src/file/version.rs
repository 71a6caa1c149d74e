//! What a text has to be before anything in it is read: short, shallow, of a version that is understood.

use super::outline::Outline;
use super::scan::Token;
use super::{FORMAT_VERSION, FileError, error};

/// Brackets inside brackets; a layout needs 8.
const MOST_DEPTH: usize = 32;

/// Nothing when the rest of `text` may be read.
pub(super) fn check(text: &str) -> Result<(), FileError> {
    if text.trim().is_empty() {
        return Err(FileError::new(
            "the file is empty",
            "start it with `fallwright: 1` and a title; docs/format.md has a sample",
        ));
    }
    if let Some(offset) = text.find('\0') {
        return Err(FileError::new(
            "this is not text: it has a zero byte in it",
            "give a layout file, saved as UTF-8 text",
        )
        .at(text, offset));
    }
    check_depth(text)?;
    check_version(text)
}

fn check_depth(text: &str) -> Result<(), FileError> {
    let mut outline = Outline::new(text);
    while let Some(token) = outline.next() {
        if outline.depth() > MOST_DEPTH {
            return Err(too_deep().at(text, token.offset));
        }
    }
    Ok(())
}

pub(super) fn too_deep() -> FileError {
    FileError::new(
        "brackets are nested too deeply for a layout",
        "look for a bracket that is not closed here or before",
    )
}

fn check_version(text: &str) -> Result<(), FileError> {
    let Some(value) = find(text) else {
        return Err(FileError::new(
            "this is not a layout file: the key `fallwright` is missing",
            format!("start the file with `fallwright: {FORMAT_VERSION}`"),
        )
        .at(text, 0));
    };
    match value.text.parse::<u32>() {
        Ok(FORMAT_VERSION) => Ok(()),
        Ok(other) => Err(FileError::new(
            format!("the file is of version {other}, and this program understands version {FORMAT_VERSION}"),
            "open it with the program that wrote it, or a newer one",
        )
        .at(text, value.offset)),
        Err(_) => Err(FileError::new(
            format!("`{}` is not a version", error::shorten(value.text)),
            format!("write `fallwright: {FORMAT_VERSION}`; this program understands version {FORMAT_VERSION}"),
        )
        .at(text, value.offset)),
    }
}

fn find(text: &str) -> Option<Token<'_>> {
    let mut outline = Outline::new(text);
    while let Some(token) = outline.next() {
        if outline.depth() == 1 && outline.field(token) == Some("fallwright") {
            return outline.next();
        }
    }
    None
}
