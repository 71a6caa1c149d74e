//! Why a command failed: one line for people, one object for scripts.

use super::text::with_short_words;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// What went wrong, where, and what to do about it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Failure {
    /// What went wrong, as a sentence without a full stop.
    pub what: String,
    /// The file that it occurred in.
    pub file: Option<PathBuf>,
    /// The line in the file, from 1.
    pub line: Option<u32>,
    /// The column in the line, from 1.
    pub column: Option<u32>,
    /// The id of the part concerned.
    pub part: Option<String>,
    /// What to do, as a sentence without a full stop.
    pub cure: String,
}

impl Failure {
    /// A failure without a position in a file.
    pub fn new(what: impl Into<String>, cure: impl Into<String>) -> Self {
        Failure {
            what: begun(&what.into()),
            cure: begun(&cure.into()),
            ..Failure::default()
        }
    }

    /// A state that could not be solved.
    pub fn not_converged(state: &str) -> Self {
        Failure::new(
            format!("the state {state} could not be solved"),
            "This is a fault of the program: please report it with the layout",
        )
    }

    /// A state that did not settle, so that its numbers are unreliable.
    pub fn unsettled(state: &str) -> Self {
        Failure::new(
            format!("the state {state} did not settle, and its numbers are not to be relied on"),
            "This is a fault of the program: please report it with the layout",
        )
    }

    /// The same failure, in `file`.
    #[must_use]
    pub fn in_file(self, file: impl Into<PathBuf>) -> Self {
        Failure {
            file: Some(file.into()),
            ..self
        }
    }

    /// One line: what went wrong, where in brackets, what to do.
    pub fn line_text(&self) -> String {
        let mut places = Vec::new();
        if let Some(file) = &self.file {
            places.push(called(file));
        }
        if let Some(line) = self.line {
            places.push(format!("line {line}"));
        }
        if let Some(column) = self.column {
            places.push(format!("column {column}"));
        }
        if let Some(part) = &self.part {
            places.push(format!("part {}", with_short_words(part)));
        }
        let place = if places.is_empty() {
            String::new()
        } else {
            format!(" ({})", places.join(", "))
        };
        let words = |text: &str| with_short_words(without_stop(text));
        let (what, cure) = (words(&self.what), words(&self.cure));
        let stop = if cure.ends_with('?') { "" } else { "." };
        let text = format!("fallwright: {what}{place}. {cure}{stop}");
        super::text::printable(&text)
    }

    /// The only object on standard output under `--json`.
    pub fn json(&self) -> Value {
        json!({ "format": super::json::FORMAT, "error": self.error() })
    }

    /// The error object, which is also added to an incomplete report.
    pub fn error(&self) -> Value {
        let place = self.file.as_ref().map(|file| called(file));
        json!({
            "what": with_short_words(&self.what),
            "where": place,
            "line": self.line,
            "part": self.part,
            "do": with_short_words(&self.cure),
        })
    }
}

/// The name of a file in messages; standard input is named as such.
fn called(file: &Path) -> String {
    if is_standard_input(file) {
        "standard input".to_owned()
    } else {
        file.display().to_string()
    }
}

/// Whether this path stands for standard input. A file of that name is given as `./-`.
pub(super) fn is_standard_input(file: &Path) -> bool {
    file.as_os_str() == "-"
}

/// `text` with an initial capital.
fn begun(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(char::to_uppercase);
    first.into_iter().flatten().chain(letters).collect()
}

fn without_stop(text: &str) -> &str {
    text.trim().trim_end_matches('.')
}
