//! `convert`: the layout itself, loss-free both ways.

use super::args::Convert;
use super::words::Form;
use super::{Failure, Outcome, engine};
use std::path::Path;

/// Reads a layout and writes it in the other form.
pub(super) fn convert(asked: &Convert) -> Outcome {
    match converted(asked) {
        Ok(out) => Outcome {
            out,
            ..Outcome::default()
        },
        Err(failure) => Outcome::failed(&failure),
    }
}

/// What goes to standard output: the text, or nothing where it was saved.
fn converted(asked: &Convert) -> Result<String, Failure> {
    if let Some(out) = &asked.out {
        agrees(out, asked.to)?;
    }
    let layout = engine::read(&asked.file)?;
    let text = engine::to_text(&layout, asked.to)?;
    match &asked.out {
        None => Ok(text),
        Some(out) => engine::save(&text, out).map(|()| String::new()),
    }
}

/// A file named for one form and written in the other could not be read again.
fn agrees(out: &Path, form: Form) -> Result<(), Failure> {
    let other = match form {
        Form::Json => "ron",
        Form::Ron => "json",
    };
    let ending = out.extension().and_then(|ending| ending.to_str());
    if ending.is_some_and(|ending| ending.eq_ignore_ascii_case(other)) {
        let failure = Failure::new(
            format!("the name ends in .{other}, which --to does not ask for"),
            "Give --to and --out the same form",
        );
        return Err(failure.in_file(out));
    }
    Ok(())
}
