//! Translates the errors of the JSON parser, which gives them only as English sentences.

use super::{
    ANYTHING_ELSE, FileError, LIST, NUMBER, ParseTrouble, QUOTED, WHOLE_NUMBER, YES_OR_NO, not_a,
    say,
};
use crate::file::scan::line_start;
use serde_json::error::{Category, Error};

/// Converts an error of the JSON parser.
pub(in crate::file) fn explain(text: &str, error: &Error) -> FileError {
    // The column is that of the last byte that was read.
    let start = line_start(text, error.line());
    let offset = (start + error.column().saturating_sub(1)).min(text.len());
    say(text, floor_to_character(text, offset), trouble(error))
}

fn floor_to_character(text: &str, mut offset: usize) -> usize {
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

fn trouble(error: &Error) -> ParseTrouble {
    let whole = error.to_string();
    let place = format!(" at line {} column {}", error.line(), error.column());
    let words = whole.strip_suffix(&place).unwrap_or(&whole);
    if error.classify() == Category::Eof {
        return ParseTrouble::EndsEarly;
    }
    if words.starts_with("recursion limit") {
        return ParseTrouble::TooDeep;
    }
    if let Some(rest) = words.strip_prefix("unknown field `") {
        let (found, known) = found_and_known(rest);
        return ParseTrouble::UnknownField { found, known };
    }
    if let Some(rest) = words.strip_prefix("unknown variant `") {
        let (found, known) = found_and_known(rest);
        return ParseTrouble::UnknownWord { found, known };
    }
    if let Some(rest) = words.strip_prefix("missing field `") {
        let field = rest.trim_end_matches('`').to_owned();
        return ParseTrouble::Missing { field };
    }
    if let Some(rest) = words.strip_prefix("duplicate field `") {
        let field = rest.trim_end_matches('`').to_owned();
        return ParseTrouble::Twice { field };
    }
    match words.rsplit_once(", expected ") {
        Some((_, wanted)) => not_a(kind(wanted)),
        None => notation(words),
    }
}

/// Splits ``zzz`, expected one of `a`, `b` ``. The text found may itself contain backticks.
fn found_and_known(rest: &str) -> (String, Vec<String>) {
    match rest.rsplit_once("`, expected ") {
        Some((found, known)) => {
            let ticked = known.split('`').skip(1).step_by(2);
            (found.to_owned(), ticked.map(str::to_owned).collect())
        }
        None => {
            let found = rest.split('`').next().unwrap_or_default();
            (found.to_owned(), Vec::new())
        }
    }
}

fn kind(wanted: &str) -> &str {
    match wanted {
        "f64" => NUMBER,
        "u32" => WHOLE_NUMBER,
        "a boolean" => YES_OR_NO,
        "a string" => QUOTED,
        "a sequence" => LIST,
        other if other.starts_with("struct") => "an object with its fields",
        _ => "of the kind that belongs here",
    }
}

/// The beginning of the parser's message, what is wrong, what to do.
const NOTATION: [(&str, &str, &str); 8] = [
    (
        "expected `,`",
        "a comma or a closing bracket is missing before this",
        "put a comma between one field and the next; no unit behind a number, quotes at both ends of a text",
    ),
    (
        "expected `:`",
        "a colon is missing here",
        "write `\"field\": value`",
    ),
    (
        "trailing comma",
        "a comma stands before a closing bracket",
        "take the comma out: JSON has none there",
    ),
    (
        "trailing characters",
        "something follows the end of the layout",
        "take it out, or look for a bracket that is closed too early",
    ),
    (
        "key must be a string",
        "the name of a field has no quotes",
        "write `\"field\": value`; JSON has no comments",
    ),
    (
        "expected value",
        "there is no value here that JSON knows",
        "write a finite number, text in quotes, `true`, `false`, `null`, `[ … ]` or `{ … }`",
    ),
    (
        "invalid escape",
        "this may not follow `\\` in a text",
        "write `\\\\` for one backslash",
    ),
    (
        "control character",
        "a text goes on behind the end of its line",
        "close its quotes, or write `\\n` for a new line in it",
    ),
];

/// Errors of brackets, commas and quotes.
fn notation(words: &str) -> ParseTrouble {
    if words.starts_with("number out of range") {
        return not_a("a number that a computer can hold");
    }
    let row = NOTATION
        .into_iter()
        .find(|(start, _, _)| words.starts_with(start));
    match row {
        Some((_, what, cure)) => ParseTrouble::Notation { what, cure },
        None => ANYTHING_ELSE,
    }
}
