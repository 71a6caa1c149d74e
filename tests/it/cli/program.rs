//! The program itself, as a script meets it.

use serde_json::Value;
use std::path::Path;
use std::process::{Command, Output};

pub(super) fn call(words: &[&str]) -> Output {
    let mut program = Command::new(env!("CARGO_BIN_EXE_fallwright"));
    program.args(words).output().expect("the program runs")
}

pub(super) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("UTF-8")
}

/// No answer: exit code 2, nothing on standard output, one line on standard error.
pub(super) fn refused(words: &[&str]) -> String {
    let output = call(words);
    assert_eq!(output.status.code(), Some(2), "{words:?}");
    assert!(output.stdout.is_empty(), "{words:?}");
    let line = text(&output.stderr);
    assert_eq!(line.lines().count(), 1, "{line}");
    assert!(line.starts_with("fallwright: "), "{line}");
    line
}

/// No answer under `--json`: exit code 2, an error object alone on standard output.
fn refused_json(words: &[&str]) -> Value {
    let output = call(words);
    assert_eq!(output.status.code(), Some(2), "{words:?}");
    assert!(output.stderr.is_empty(), "{words:?}");
    let value: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let keys = |value: &Value| {
        let object = value.as_object().expect("an object");
        object.keys().cloned().collect::<Vec<_>>().join(" ")
    };
    assert_eq!(keys(&value), "format error");
    assert_eq!(keys(&value["error"]), "what where line part do");
    assert!(value["error"]["what"].is_string() && value["error"]["do"].is_string());
    value
}

#[test]
fn a_word_that_is_no_command_is_refused_in_one_line() {
    let line = refused(&["frobnicate"]);
    assert!(
        line.contains("no command and no file called frobnicate"),
        "{line}"
    );
    assert!(line.contains("--help"), "{line}");
}

#[test]
fn wrong_options_are_refused_in_one_line() {
    for words in [
        &["check"][..],
        &["check", "a.ron", "--units", "cubits"],
        &["check", "a.ron", "--state", "boiling"],
        &["check", "a.ron", "--frob"],
        &["trace", "a.ron"],
        &["trace", "a.ron", "--state", "starting", "--until", "NaN"],
        &["draw", "a.ron", "--view", "moon", "--out", "a.svg"],
        &["convert", "a.ron"],
    ] {
        let line = refused(words);
        assert!(
            line.contains(&format!("See fallwright {} --help", words[0])),
            "{line}"
        );
    }
}

#[test]
fn a_missing_file_is_named() {
    for words in [
        &["check", "gone/away.ron"][..],
        &["gone/away.ron"],
        &["convert", "gone/away.ron", "--to", "json"],
    ] {
        assert!(refused(words).contains("(gone/away.ron"), "{words:?}");
    }
    let value = refused_json(&["check", "gone/away.ron", "--json"]);
    assert_eq!(value["error"]["where"], "gone/away.ron");
}

#[test]
fn commands_that_are_not_built_say_so() {
    for words in [
        &["size", "a.ron", "--what", "pipes", "--write", "b.ron"][..],
        &["tune", "a.ron", "--readings", "tape.csv"],
        &["sheets", "a.ron", "--out", "folder"],
    ] {
        assert!(refused(words).contains("not built yet"), "{words:?}");
    }
}

#[test]
fn under_json_errors_go_to_standard_output_alone() {
    for words in [
        &["check", "a.ron", "--state", "stopped", "--json"][..],
        &["trace", "a.ron", "--state", "starting", "--json"],
        &["faults", "a.ron", "--json"],
        &["size", "a.ron", "--json"],
        &["tune", "a.ron", "--readings", "tape.csv", "--json"],
        &["check", "--json"],
        &["trace", "a.ron", "--state", "starting", "--csv", "--json"],
        &["check", "a.ron", "--units", "cubits", "--json"],
        &["frobnicate", "--json"],
    ] {
        refused_json(words);
    }
}

#[test]
fn help_and_version_are_answers() {
    let help = call(&["--help"]);
    assert_eq!(help.status.code(), Some(0));
    let help = text(&help.stdout);
    for command in [
        "check", "trace", "faults", "size", "tune", "sheets", "draw", "convert",
    ] {
        assert!(
            help.contains(&format!("\n  {command} ")),
            "{command}: {help}"
        );
    }
    let version = text(&call(&["--version"]).stdout);
    assert_eq!(
        version.trim(),
        concat!("fallwright ", env!("CARGO_PKG_VERSION"))
    );
}

#[test]
fn without_words_it_says_that_there_is_no_window_and_checks_the_demo() {
    let output = call(&[]);
    let note = text(&output.stderr);
    let first = note.lines().next().expect("a line");
    assert!(
        first.contains("window") && first.contains("check of the demo"),
        "{note}"
    );
    assert!(text(&output.stdout).starts_with("Perch and watercress glasshouse\n"));
}

#[test]
fn a_layout_goes_to_json_and_back_unchanged() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name).display().to_string();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/glasshouse.ron");
    let steps = [
        (demo.display().to_string(), "json", at("one.json")),
        (at("one.json"), "ron", at("two.ron")),
        (at("two.ron"), "json", at("three.json")),
    ];
    for (from, to, out) in &steps {
        let output = call(&["convert", from, "--to", to, "--out", out]);
        assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
        assert!(output.stdout.is_empty());
    }
    let read = |name: &str| std::fs::read_to_string(at(name)).expect("a file");
    assert_eq!(read("one.json"), read("three.json"));
    let printed = call(&["convert", &at("two.ron"), "--to", "json"]);
    assert_eq!(text(&printed.stdout), read("one.json"));
}

#[test]
fn convert_does_not_write_a_file_whose_name_says_otherwise() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("a.ron");
    let line = refused(&[
        "convert",
        "a.ron",
        "--to",
        "json",
        "--out",
        &out.display().to_string(),
    ]);
    assert!(line.contains("--to"), "{line}");
    assert!(!out.exists());
}
