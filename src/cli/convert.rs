//! `convert`: writes the layout in either format, without loss.

use super::args::Convert;
use super::text::steers;
use super::words::Form;
use super::{Failure, Outcome, json, services};
use std::path::Path;

/// Reads a layout and writes it in the format asked for.
pub(super) fn convert(asked: &Convert) -> Outcome {
    match converted(asked) {
        Ok(out) => Outcome {
            out,
            ..Outcome::default()
        },
        Err(failure) => Outcome::failed(&failure),
    }
}

/// The text for standard output; empty where it was saved to a file.
fn converted(asked: &Convert) -> Result<String, Failure> {
    if let Some(out) = &asked.out {
        agrees(out, asked.to)?;
    }
    let opened = services::open(&asked.file)?;
    if let Some(out) = &asked.out {
        spares_comments(asked, out, opened.noted_lines)?;
    }
    let text = services::to_text(&opened.layout, asked.to)?;
    match &asked.out {
        None => Ok(for_terminal(text, asked.to)),
        Some(out) => services::save(&text, out).map(|()| String::new()),
    }
}

/// Refuses to overwrite the input where that would drop its comments, unless that is asked for.
fn spares_comments(asked: &Convert, out: &Path, lines: usize) -> Result<(), Failure> {
    if lines == 0 || asked.force || !services::is_same(&asked.file, out) {
        return Ok(());
    }
    let comments = match lines {
        1 => "the comment in it, on 1 line".to_owned(),
        many => format!("the comments in it, on {many} lines"),
    };
    let failure = Failure::new(
        format!("writing this file over itself would drop {comments}"),
        "Give --out another name, or --force to drop them",
    );
    Err(failure.in_file(out))
}

/// Escapes characters that could control a terminal, by the rules of the format, so that the text reads back the same.
fn for_terminal(text: String, form: Form) -> String {
    match form {
        Form::Json => json::escaped(&text),
        Form::Ron => {
            let raw = |letter: char| letter != '\n' && steers(letter);
            if !text.contains(raw) {
                return text;
            }
            let escaped = |letter: char| match raw(letter) {
                true => format!("\\u{{{:x}}}", u32::from(letter)),
                false => letter.to_string(),
            };
            text.chars().map(escaped).collect()
        }
    }
}

/// Refuses a file name of the other format: such a file could not be read again.
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
