//! The error of this module: what is wrong, where, and what to do.

use super::scan::position;
use std::fmt;
use std::path::Path;

/// Longest quotation of a file in an error, characters.
const MOST_REPEATED: usize = 60;

/// Why a file could not be read or written. Displayed as one line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileError {
    /// What is wrong.
    pub what: String,
    /// Where in which file it is wrong.
    pub place: TextPosition,
    /// The id of the part concerned, if any.
    pub part: Option<String>,
    /// What to do about it.
    pub cure: String,
}

/// A position in a file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TextPosition {
    /// The file, if the text came from one.
    pub file: Option<Box<Path>>,
    /// Line, counted from 1.
    pub line: Option<usize>,
    /// Column in characters, counted from 1.
    pub column: Option<usize>,
}

impl FileError {
    /// An error about a whole text or file.
    pub(super) fn new(what: impl Into<String>, cure: impl Into<String>) -> Self {
        FileError {
            what: begun(what.into()),
            place: TextPosition::default(),
            part: None,
            cure: begun(cure.into()),
        }
    }

    /// An error for a path that cannot be written, for any caller that writes.
    pub fn writing(error: &std::io::Error, path: &Path) -> Self {
        super::refused::cannot("write", error).file(path)
    }

    /// Sets the position to that of a byte of `text`.
    pub(super) fn at(mut self, text: &str, offset: usize) -> Self {
        let (line, column) = position(text, offset);
        self.place.line = Some(line);
        self.place.column = Some(column);
        self
    }

    /// Sets the part that the error is about.
    pub(super) fn part(mut self, id: Option<String>) -> Self {
        self.part = id;
        self
    }

    /// Sets the file.
    pub(super) fn file(mut self, path: &Path) -> Self {
        self.place.file = Some(path.into());
        self
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut line = one_line(&self.what);
        let mut place = Vec::new();
        if let Some(file) = &self.place.file {
            place.push(file.display().to_string());
        }
        if let Some(number) = self.place.line {
            place.push(format!("line {number}"));
        }
        if let Some(part) = &self.part {
            place.push(format!("part {}", shorten(part)));
        }
        if !place.is_empty() {
            line = format!("{line} ({})", one_line(&place.join(", ")));
        }
        write!(out, "{line}. {}", one_line(&self.cure))
    }
}

impl std::error::Error for FileError {}

/// `text` with an initial capital; one that starts with a field in backticks stays as it is.
fn begun(text: String) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(letters).collect()
}

/// `text` with everything replaced that would break the line or control a terminal.
fn one_line(text: &str) -> String {
    // Bidirectional formatting characters would change the order in which the line is read.
    let turns = |c: char| matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let safe = |c: char| match c.is_control() || turns(c) {
        true => '\u{fffd}',
        false => c,
    };
    text.chars().map(safe).collect()
}

/// The beginning of a quotation from a file, at most [`MOST_REPEATED`] characters.
pub(super) fn shorten(text: &str) -> String {
    let mut short: String = text.chars().take(MOST_REPEATED).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}
