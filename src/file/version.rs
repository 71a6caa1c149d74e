//! Checks a text before it is parsed: that it is text at all, its nesting depth, its format and its version.

use super::outline::Outline;
use super::scan::{Token, tokens};
use super::{FORMAT_VERSION, FileError, Format, error};

/// Largest nesting depth of brackets; a layout needs 8.
const MOST_DEPTH: usize = 32;

/// Returns an error where `text` must not be parsed.
pub(super) fn check(text: &str, format: Format) -> Result<(), FileError> {
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
    check_format(text, format)?;
    check_version(text)
}

/// Rejects a text that starts with the bracket of the other format; anything else is left to the parser.
fn check_format(text: &str, format: Format) -> Result<(), FileError> {
    let first = tokens(text).next().map(|token| token.text);
    let (is, extension) = match (first, format) {
        (Some("{"), Format::Ron) => ("JSON", ".json"),
        (Some("("), Format::Json) => ("RON", ".ron"),
        _ => return Ok(()),
    };
    Err(FileError::new(
        format!("this is {is} under another name"),
        format!("give the file a name that ends in `{extension}`"),
    )
    .at(text, 0))
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
