//! Translates the errors of the RON parser.

use super::{
    ANYTHING_ELSE, FileError, LIST, NUMBER, ParseTrouble, QUOTED, WHOLE_NUMBER, YES_OR_NO, around,
    not_a, say,
};
use crate::file::scan::{line_start, tokens};
use ron::error::{Error, Position, SpannedError};

/// Converts an error of the RON parser.
pub(in crate::file) fn explain(text: &str, error: SpannedError) -> FileError {
    let end = byte_of(text, error.span.end);
    let start = skip_blank(text, byte_of(text, error.span.start), end);
    let unclosed = matches!(
        error.code,
        Error::ExpectedStringEnd | Error::UnclosedBlockComment
    );
    if !unclosed && is_cut_short(text, start, end) {
        return say(text, start, ParseTrouble::EndsEarly);
    }
    say(text, start, trouble(error.code))
}

/// Whether the text ends at the error with brackets still open: for a word cut in two, the cut is the error to report.
fn is_cut_short(text: &str, start: usize, end: usize) -> bool {
    let last = tokens(text.get(start..).unwrap_or_default()).next();
    let last_end = last.map_or(start, |token| start + token.offset + token.text.len());
    last_end.max(end) >= text.trim_end().len() && !around(text, text.len()).0.is_empty()
}

fn trouble(error: Error) -> ParseTrouble {
    match error {
        Error::NoSuchStructField {
            found, expected, ..
        } => ParseTrouble::UnknownField {
            found,
            known: owned(expected),
        },
        Error::NoSuchEnumVariant {
            found, expected, ..
        } => ParseTrouble::UnknownWord {
            found,
            known: owned(expected),
        },
        Error::MissingStructField { field, .. } => ParseTrouble::Missing {
            field: field.to_owned(),
        },
        Error::DuplicateStructField { field, .. } => ParseTrouble::Twice {
            field: field.to_owned(),
        },
        Error::ExceededRecursionLimit => ParseTrouble::TooDeep,
        Error::Eof => ParseTrouble::EndsEarly,
        Error::ExpectedFloat | Error::FloatUnderscore | Error::UnderscoreAtBeginning => {
            not_a(NUMBER)
        }
        Error::ExpectedInteger | Error::IntegerOutOfBounds | Error::InvalidIntegerDigit { .. } => {
            not_a(WHOLE_NUMBER)
        }
        Error::ExpectedBoolean => not_a(YES_OR_NO),
        Error::ExpectedString => not_a(QUOTED),
        Error::ExpectedArray => not_a(LIST),
        other => notation(&other),
    }
}

fn owned(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

/// Errors of brackets, commas and quotes.
fn notation(error: &Error) -> ParseTrouble {
    let (what, cure) = match error {
        Error::ExpectedComma => (
            "a comma is missing before this",
            "put a comma between one field and the next; no unit behind a number, quotes at both ends of a text",
        ),
        Error::ExpectedMapColon => ("a colon is missing here", "write `field: value`"),
        Error::ExpectedStructLike | Error::ExpectedNamedStructLike(_) => (
            "`(` is missing here",
            "put the fields in round brackets: `( … )`",
        ),
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => {
            ("`)` is missing here", "close the bracket")
        }
        Error::ExpectedArrayEnd => ("`]` is missing here", "close the list"),
        Error::ExpectedStringEnd => ("the text that starts here has no end", "close its quotes"),
        Error::UnclosedBlockComment => (
            "the comment that starts here has no end",
            "close it with `*/`",
        ),
        Error::InvalidEscape(_) => (
            "this may not follow `\\` in a text",
            "write `\\\\` for one backslash",
        ),
        Error::ExpectedIdentifier
        | Error::SuggestRawIdentifier(_)
        | Error::InvalidIdentifier(_) => (
            "a field, a word or a closing bracket is expected here",
            "look at the commas and brackets before this; decimals have a point, as in 1.5",
        ),
        Error::TrailingCharacters => (
            "something follows the end of the layout",
            "take it out, or look for a bracket that is closed too early",
        ),
        Error::NoSuchExtension(_) | Error::ExpectedAttribute | Error::ExpectedAttributeEnd => (
            "a layout has no such head",
            "take out the line that starts with `#!`",
        ),
        _ => return ANYTHING_ELSE,
    };
    ParseTrouble::Notation { what, cure }
}

fn byte_of(text: &str, position: Position) -> usize {
    let start = line_start(text, position.line);
    let rest = text.get(start..).unwrap_or_default();
    let before = rest.chars().take(position.col.saturating_sub(1));
    start + before.map(char::len_utf8).sum::<usize>()
}

/// The parser's span may start with the blanks before the error.
fn skip_blank(text: &str, start: usize, end: usize) -> usize {
    let blank = text.get(start..end).unwrap_or_default();
    end - blank.trim_start().len()
}
