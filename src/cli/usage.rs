//! Parses the arguments; an error is one clear line.

use super::args::Arguments;
use super::failure::is_standard_input;
use super::{Failure, NO_ANSWER, Outcome, services};
use clap::Parser;
use clap::error::ErrorKind;
use std::ffi::OsString;
use std::path::Path;

/// Parses the arguments; the outcome prints the help, or the error in them.
pub(super) fn parse(words: &[OsString]) -> Result<Arguments, Outcome> {
    Arguments::try_parse_from(words).map_err(|error| match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => Outcome {
            out: error.render().to_string(),
            ..Outcome::default()
        },
        _ => {
            let failure = slip(words).unwrap_or_else(|| failure(&error, words));
            if asks_for_json(words) {
                Outcome::failed_json(&failure)
            } else {
                Outcome {
                    code: NO_ANSWER,
                    ..Outcome::failed(&failure)
                }
            }
        }
    })
}

fn asks_for_json(words: &[OsString]) -> bool {
    let options = words.iter().skip(1).take_while(|word| *word != "--");
    options.into_iter().any(|word| word == "--json")
}

fn failure(error: &clap::Error, words: &[OsString]) -> Failure {
    let text = error.render().to_string();
    // After the error come the usage and hints, which `--help` explains better.
    let told = text.lines().map(str::trim);
    let told: Vec<&str> = told
        .take_while(|line| !line.starts_with("Usage:") && !line.starts_with("For more information"))
        .filter(|line| !line.is_empty() && !line.starts_with("tip:"))
        .collect();
    let told = told.join(" ");
    let what = told.trim_start_matches("error: ");
    Failure::new(what, format!("See {}", help_of(words)))
}

/// The help to refer to: that of the command where the first argument is one.
fn help_of(words: &[OsString]) -> String {
    let command = <Arguments as clap::CommandFactory>::command();
    let word = words.get(1).and_then(|word| word.to_str());
    let known = word.filter(|word| command.find_subcommand(word).is_some());
    match known {
        Some(word) => format!("fallwright {word} --help"),
        None => "fallwright --help".to_owned(),
    }
}

/// The failure for a single argument that is no command and does not look like a file.
pub(super) fn unknown_command(file: Option<&Path>) -> Option<Failure> {
    let file = file?;
    let looks_like_file = file.extension().is_some() || file.components().count() > 1;
    if looks_like_file || is_standard_input(file) || file.exists() {
        return None;
    }
    let word = file.display().to_string();
    let what = format!("there is no command and no file called {word}");
    Some(Failure::new(
        what,
        match meant(&word) {
            Some(command) => format!("Did you mean {command}?"),
            None => "fallwright --help lists the commands".to_owned(),
        },
    ))
}

/// The command that a word is a typing error of; none where it is a command.
fn meant(word: &str) -> Option<String> {
    let commands = <Arguments as clap::CommandFactory>::command();
    let names = commands
        .get_subcommands()
        .map(|one| one.get_name().to_owned());
    let names: Vec<String> = names.collect();
    let known = names.iter().any(|name| name == word) || word == "help";
    let near = services::nearest(word, &names).filter(|_| !known);
    near.map(str::to_owned)
}

/// The failure for a mistyped command: a first argument that is no command or file, with more arguments after it.
fn slip(words: &[OsString]) -> Option<Failure> {
    let word = words.get(1).filter(|_| words.len() > 2)?.to_str()?;
    let is_other = word.starts_with('-') || Path::new(word).exists();
    let command = meant(word).filter(|_| !is_other)?;
    let what = format!("there is no command {word}");
    Some(Failure::new(what, format!("Did you mean {command}?")))
}
