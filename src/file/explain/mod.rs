//! Translates parser errors into the terms of a layout.

mod json;
mod ron;

pub(super) use self::json::explain as json;
pub(super) use self::ron::explain as ron;

use super::error::shorten;
use super::nearest::nearest;
use super::outline::{PathSegment, around, part_at};
use super::{FileError, version};

/// What is wrong with a text, for both parsers.
enum ParseTrouble {
    /// A field that is not in the format.
    UnknownField { found: String, known: Vec<String> },
    /// A word that is not one of those allowed here.
    UnknownWord { found: String, known: Vec<String> },
    /// A field without a default is missing.
    Missing { field: String },
    /// A field is given twice.
    Twice { field: String },
    /// A value that is not of the field's type.
    NotA { wanted: String },
    /// An error of brackets, commas or quotes.
    Notation {
        what: &'static str,
        cure: &'static str,
    },
    /// The text ends inside a bracket.
    EndsEarly,
    /// Brackets are nested more deeply than in any layout.
    TooDeep,
}

const NUMBER: &str = "a number";
const WHOLE_NUMBER: &str = "a whole number";
const YES_OR_NO: &str = "`true` or `false`";
const QUOTED: &str = "text in quotes";
const LIST: &str = "a list in `[ ]`";

fn not_a(wanted: &str) -> ParseTrouble {
    ParseTrouble::NotA {
        wanted: wanted.to_owned(),
    }
}

const ANYTHING_ELSE: ParseTrouble = ParseTrouble::Notation {
    what: "this is not how a layout is written",
    cure: "compare with the sample in docs/format.md",
};

fn say(text: &str, offset: usize, trouble: ParseTrouble) -> FileError {
    let (brackets, path) = around(text, offset);
    let open = brackets.last().copied();
    // What is missing has no position; the object that lacks it has one.
    let (place, inside) = match trouble {
        ParseTrouble::Missing { .. } => (open.unwrap_or(offset), open.map_or(offset, |at| at + 1)),
        ParseTrouble::EndsEarly => (text.trim_end().len(), text.len()),
        _ => (offset, offset),
    };
    // After an unclosed quote an id may run over several lines, so it is no name for a part.
    let part = part_at(text, inside).filter(|id| !id.contains(char::is_control));
    let error = match trouble {
        ParseTrouble::UnknownField { found, known } => {
            let what = format!("there is no field `{}` here", shorten(&found));
            FileError::new(what, instead(&found, &known))
        }
        ParseTrouble::UnknownWord { found, known } => {
            let what = format!("`{}` is not a word for this", shorten(&found));
            FileError::new(what, instead(&found, &known))
        }
        ParseTrouble::Missing { field } => missing(&field, part.is_none().then_some(&path)),
        ParseTrouble::Twice { field } => FileError::new(
            format!("the field `{field}` is given twice"),
            "keep one of the two",
        ),
        ParseTrouble::NotA { wanted } => wrong_value(&path, &wanted),
        ParseTrouble::Notation { what, cure } => FileError::new(what, cure),
        ParseTrouble::EndsEarly => FileError::new(
            "the file ends before its brackets are closed",
            "take the whole file, or close what is open",
        ),
        ParseTrouble::TooDeep => version::too_deep(),
    };
    error.at(text, place).part(part)
}

fn wrong_value(path: &[PathSegment], wanted: &str) -> FileError {
    let field = path.iter().rev().find_map(|step| match step {
        PathSegment::Name(name) => Some(*name),
        PathSegment::Row(_) => None,
    });
    let field = shorten(field.unwrap_or("the layout"));
    let unit = if wanted == NUMBER || wanted == WHOLE_NUMBER {
        ", without a unit"
    } else {
        ""
    };
    FileError::new(
        format!("`{field}` is not {wanted}"),
        format!("write {wanted}{unit}"),
    )
}

/// `path` leads to the object, given where the object has no id to name it by.
fn missing(field: &str, path: Option<&Vec<PathSegment>>) -> FileError {
    let whose = match path.map(Vec::as_slice) {
        Some([PathSegment::Name(list), PathSegment::Row(row), ..]) => {
            format!(" in number {} of `{}`", row + 1, shorten(list))
        }
        _ => String::new(),
    };
    FileError::new(
        format!("the field `{field}` is missing{whose}"),
        format!("add `{field}`; docs/format.md says what it means"),
    )
}

fn instead(found: &str, known: &[String]) -> String {
    match (nearest(found, known), known) {
        (_, []) => "take it out".to_owned(),
        (Some(near), _) => format!("did you mean `{near}`?"),
        (None, known) => format!("choose from `{}`", known.join("`, `")),
    }
}
