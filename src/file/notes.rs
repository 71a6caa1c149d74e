//! Notes that a person left in a file.

use super::scan::{note_length, tokens};

/// How many lines of a layout's text have a note (`// …`, `/* … */`) on them, or a part of one.
///
/// Any text is allowed; signs of a note in quotes are none.
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
    /// The line that is looked at, from 0.
    line: usize,
    noted: usize,
    /// The first line that no note was found on yet.
    fresh: usize,
}

impl Count {
    /// Looks at what stands between two tokens: blanks and notes.
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
