//! The command line: takes arguments, returns text or JSON and an exit code.
//!
//! Invariant: knows no window; the output is a pure function of a layout and its evaluation, and only `services` and
//! [`print`] do input and output.

pub mod args;
mod check;
mod convert;
mod digits;
mod draw;
mod failure;
mod faults;
pub mod json;
mod list_words;
mod names;
mod services;
pub mod text;
mod trace;
mod usage;
pub mod vocabulary;
pub mod words;

pub use check::exit_code;
pub use failure::Failure;
pub use json::report_json;
pub use text::report_text;

use args::{Arguments, Command};
use std::ffi::OsString;
use std::io::{ErrorKind, Write};
use std::path::Path;

/// Exit code: nothing is wrong.
pub const NOTHING_WRONG: i32 = 0;
/// Exit code: a problem was found.
pub const EXIT_PROBLEM: i32 = 1;
/// Exit code: there is no result.
pub const NO_ANSWER: i32 = 2;

/// The output of one call, and its exit code.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outcome {
    /// Text for standard output.
    pub out: String,
    /// Text for standard error.
    pub err: String,
    /// The exit code.
    pub code: i32,
}

impl Outcome {
    /// An outcome with `failure` alone, as text.
    pub fn failed(failure: &Failure) -> Outcome {
        Outcome {
            out: String::new(),
            err: format!("{}\n", failure.line_text()),
            code: NO_ANSWER,
        }
    }

    /// An outcome with `failure` alone, as JSON.
    pub fn failed_json(failure: &Failure) -> Outcome {
        Outcome {
            out: json::print(&failure.json()),
            err: String::new(),
            code: NO_ANSWER,
        }
    }
}

/// Runs one command. `open_window` opens the window on a file (none: the last one or the demo); its error says why it
/// cannot.
pub fn run(
    words: impl IntoIterator<Item = OsString>,
    open_window: &dyn Fn(Option<&Path>) -> Result<(), String>,
) -> Outcome {
    let words: Vec<OsString> = words.into_iter().collect();
    match usage::parse(&words) {
        Err(outcome) => outcome,
        Ok(Arguments {
            command: Some(command),
            ..
        }) => answer(&command),
        Ok(Arguments { file, .. }) => match usage::unknown_command(file.as_deref()) {
            Some(failure) => Outcome::failed(&failure),
            None => window(file.as_deref(), open_window),
        },
    }
}

/// Opens the window; where there is none, says so and checks the layout or the demo instead.
fn window(
    file: Option<&Path>,
    open_window: &dyn Fn(Option<&Path>) -> Result<(), String>,
) -> Outcome {
    if file.is_some_and(failure::is_standard_input) {
        let what = "the window cannot show standard input";
        return Outcome::failed(&Failure::new(what, "Give it to a command, such as check -"));
    }
    match open_window(file) {
        Ok(()) => Outcome::default(),
        Err(why) => match check::without_window(file) {
            unread if unread.out.is_empty() => unread,
            checked => {
                let what = if file.is_some() { "layout" } else { "demo" };
                let note = text::one_line(&format!("{why} Here is the check of the {what}."));
                Outcome {
                    err: format!("{note}\n{}", checked.err),
                    ..checked
                }
            }
        },
    }
}

fn answer(command: &Command) -> Outcome {
    match command {
        Command::Check(asked) => check::check(asked),
        Command::Convert(asked) => convert::convert(asked),
        Command::Trace(asked) => trace::trace(asked),
        Command::Faults(asked) => faults::faults(asked),
        Command::Size(asked) => not_built("size", asked.json),
        Command::Tune(asked) => not_built("tune", asked.json),
        Command::Sheets(_) => not_built_text("sheets"),
        Command::Draw(asked) => draw::draw(asked),
        Command::Words(asked) => list_words::words(asked),
    }
}

fn not_built(command: &str, json: bool) -> Outcome {
    if json {
        Outcome::failed_json(&not_built_failure(command))
    } else {
        not_built_text(command)
    }
}

fn not_built_text(command: &str) -> Outcome {
    Outcome::failed(&not_built_failure(command))
}

fn not_built_failure(command: &str) -> Failure {
    let what = format!("the command {command} is not built yet");
    Failure::new(
        what,
        "Use check, trace, faults, draw, convert or words, which are",
    )
}

/// Prints an outcome and returns its exit code: [`NO_ANSWER`] where it cannot be written, except to a closed pipe.
pub fn print(outcome: &Outcome) -> i32 {
    let written = write_all(&mut std::io::stdout().lock(), &outcome.out)
        .and_then(|()| write_all(&mut std::io::stderr().lock(), &outcome.err));
    match written {
        Ok(()) => outcome.code,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => outcome.code,
        Err(error) => {
            let failure = Failure::new(
                format!("the answer could not be written: {error}"),
                "See whether there is room where it goes",
            );
            // If this fails too, there is nowhere left to report it.
            let _ = write_all(
                &mut std::io::stderr().lock(),
                &format!("{}\n", failure.line_text()),
            );
            NO_ANSWER
        }
    }
}

fn write_all(to: &mut dyn Write, text: &str) -> std::io::Result<()> {
    to.write_all(text.as_bytes())?;
    to.flush()
}
