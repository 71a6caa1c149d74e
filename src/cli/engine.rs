//! The one place where the command line calls the rest of the house.
//!
//! Each function stands in for its room until that room is joined; the signatures stay.

use super::Failure;
use super::words::Form;
use crate::evaluate::Evaluation;
use crate::finding::State;
use crate::layout::Layout;
use std::path::Path;

/// Our own layout, shown where none is named.
const DEMO: &str = include_str!("../../examples/glasshouse.ron");

/// Reads a layout.
pub(super) fn read(path: &Path) -> Result<Layout, Failure> {
    // To become: file::read(path).map_err(failure)
    let text = std::fs::read_to_string(path).map_err(|error| {
        let cure = "Check the name, the folder and the right to read it";
        Failure::new(format!("the layout could not be read: {error}"), cure).in_file(path)
    })?;
    parse(&text).map_err(|failure| failure.in_file(path))
}

/// The demo.
pub(super) fn demo() -> Result<Layout, Failure> {
    // To become: file::parse(DEMO, Format::Ron).map_err(failure)
    parse(DEMO)
}

fn parse(text: &str) -> Result<Layout, Failure> {
    let cure = "Compare it with a layout that works";
    if text.trim_start().starts_with('{') {
        return serde_json::from_str(text).map_err(|error| Failure {
            line: u32::try_from(error.line()).ok(),
            column: u32::try_from(error.column()).ok(),
            ..Failure::new(error.to_string(), cure)
        });
    }
    ron::from_str(text).map_err(|error| Failure {
        line: u32::try_from(error.span.start.line).ok(),
        column: u32::try_from(error.span.start.col).ok(),
        ..Failure::new(error.code.to_string(), cure)
    })
}

/// The layout as text.
pub(super) fn to_text(layout: &Layout, form: Form) -> Result<String, Failure> {
    // To become: file::to_text(layout, format).map_err(failure)
    let text = match form {
        Form::Json => serde_json::to_string_pretty(layout).map_err(|error| error.to_string()),
        Form::Ron => ron::ser::to_string_pretty(layout, ron::ser::PrettyConfig::default())
            .map_err(|error| error.to_string()),
    };
    text.map(|text| format!("{text}\n"))
        .map_err(|error| Failure::new(error, "Please report it with the layout"))
}

/// Saves `text` as a file.
pub(super) fn save(text: &str, path: &Path) -> Result<(), Failure> {
    std::fs::write(path, text).map_err(|error| {
        let cure = "Check the folder, the room on it and the right to write there";
        Failure::new(format!("the file could not be written: {error}"), cure).in_file(path)
    })
}

/// Solves and checks, with cures.
pub(super) fn evaluate(_layout: &Layout, states: &[State]) -> Evaluation {
    // To become: let catalogue = Catalogue::builtin();
    //            advise::with_cures(layout, catalogue, evaluate(layout, catalogue, states))
    let asked = |state: &State| states.contains(state);
    Evaluation {
        unsolved: states.iter().map(|state| (*state, Vec::new())).collect(),
        not_checked: State::ALL
            .into_iter()
            .filter(|state| !asked(state))
            .collect(),
        ..Evaluation::default()
    }
}
