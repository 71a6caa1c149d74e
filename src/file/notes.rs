//! Counts the comments in a file.

use super::scan::{note_length, tokens};

/// Returns the number of lines of a layout's text that contain a comment (`// …`, `/* … */`) or part of one.
///
/// Accepts any text; comment marks in quotes do not count.
pub fn noted_lines(text: &str) -> usize {
    let mut count = Count::default();
    let mut at = 0;
    for token in tokens(text) {
        count.between(text.get(at..token.offset).unwrap_or_default());
        count.line += newlines(token.text);
        at = token.offset + token.text.len();
    }
    count.between(text.get(at..).unwrap_or_default());
    count.noted
}

#[derive(Default)]
struct Count {
    /// The current line, from 0.
    line: usize,
    noted: usize,
    /// The first line without a comment so far.
    fresh: usize,
}

impl Count {
    /// Counts the comments in the text between two tokens: blanks and comments.
    fn between(&mut self, gap: &str) {
        let mut rest = gap;
        while let Some(first) = rest.chars().next() {
            let note = note_length(rest);
            let (here, after) = rest
                .split_at_checked(note.unwrap_or(first.len_utf8()))
                .unwrap_or((rest, ""));
            let end = self.line + newlines(here);
            if note.is_some() {
                self.noted += (end + 1).saturating_sub(self.line.max(self.fresh));
                self.fresh = end + 1;
            }
            self.line = end;
            rest = after;
        }
    }
}

fn newlines(text: &str) -> usize {
    text.bytes().filter(|byte| *byte == b'\n').count()
}
