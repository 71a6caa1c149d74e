//! What is easily lost or misread: comments, links, locked places, slips, long ids, marks of direction, digits.

use super::program::{call, refused, text};
use crate::support::air::{BRIDGE, HOSE};
use fallwright::cli::{Failure, report_json};
use serde_json::Value;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use tempfile::tempdir;

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("examples/{name}.ron"))
}

fn word(path: &Path) -> &str {
    path.to_str().unwrap()
}

#[test]
fn comments_are_not_dropped_from_the_input_unless_that_is_asked_for() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("noted.ron");
    fs::copy(example("glasshouse"), &path).unwrap();
    let before = fs::read(&path).unwrap();
    let other_name = folder.path().join(".").join("noted.ron");
    for out in [&path, &other_name] {
        let words = ["convert", word(&path), "--to", "ron", "--out", word(out)];
        let line = refused(&words);
        assert!(line.contains("would drop the comments in it, on"), "{line}");
        assert!(line.contains("--force"), "{line}");
        assert_eq!(fs::read(&path).unwrap(), before);
    }
    let elsewhere = folder.path().join("other.ron");
    let words = [
        "convert",
        word(&path),
        "--to",
        "ron",
        "--out",
        word(&elsewhere),
    ];
    assert_eq!(call(&words).status.code(), Some(0));
    assert_eq!(fs::read(&path).unwrap(), before);
    let words = [
        "convert",
        word(&path),
        "--to",
        "ron",
        "--out",
        word(&path),
        "--force",
    ];
    assert_eq!(call(&words).status.code(), Some(0));
    assert_eq!(fs::read(&path).unwrap(), fs::read(&elsewhere).unwrap());
    // Nothing is left to drop.
    assert_eq!(call(&words[..6]).status.code(), Some(0));
}

#[cfg(unix)]
#[test]
fn a_link_to_nothing_yet_is_written_where_it_points() {
    use std::os::unix::fs::symlink;
    let folder = tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    fs::create_dir(at("real")).unwrap();
    // By steps, one of them from the folder of the link.
    symlink("real/layout.ron", at("inner.ron")).unwrap();
    symlink(at("inner.ron"), at("outer.ron")).unwrap();
    let demo = example("two-beds");
    let out = at("outer.ron");
    let words = ["convert", word(&demo), "--to", "ron", "--out", word(&out)];
    assert_eq!(call(&words).status.code(), Some(0));
    assert!(fs::symlink_metadata(&out).unwrap().is_symlink());
    assert!(fs::symlink_metadata(at("inner.ron")).unwrap().is_symlink());
    let written = fallwright::file::read(&at("real/layout.ron")).unwrap();
    assert_eq!(written, fallwright::file::read(&demo).unwrap());
    symlink("b.ron", at("a.ron")).unwrap();
    symlink("a.ron", at("b.ron")).unwrap();
    let out = at("a.ron");
    refused(&["convert", word(&demo), "--to", "ron", "--out", word(&out)]);
}

/// The program as somebody to whom a locked place is locked: whoever may do everything gives that up first.
#[cfg(unix)]
fn call_as_nobody(folder: &Path, words: &[&str]) -> Output {
    use std::os::unix::fs::{MetadataExt, PermissionsExt};
    use std::os::unix::process::CommandExt;
    const NOBODY: u32 = 65_534;
    let program = PathBuf::from(env!("CARGO_BIN_EXE_fallwright"));
    if fs::metadata(folder).unwrap().uid() != 0 {
        return Command::new(program).args(words).output().unwrap();
    }
    // Where it was built may be locked to others too.
    let copy = folder.join("fallwright");
    if !copy.exists() {
        fs::copy(program, &copy).unwrap();
    }
    fs::set_permissions(folder, fs::Permissions::from_mode(0o755)).unwrap();
    let mut command = Command::new(copy);
    command
        .args(words)
        .uid(NOBODY)
        .gid(NOBODY)
        .output()
        .unwrap()
}

#[cfg(unix)]
#[test]
fn a_locked_folder_and_a_locked_file_are_told_apart() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let lock = |name: &str, mode: u32| {
        fs::set_permissions(at(name), fs::Permissions::from_mode(mode)).unwrap();
    };
    for name in ["shut", "closed"] {
        fs::create_dir(at(name)).unwrap();
        fs::copy(example("two-beds"), at(name).join("a.ron")).unwrap();
    }
    fs::copy(example("two-beds"), at("locked.ron")).unwrap();
    lock("shut", 0o000);
    lock("closed", 0o555);
    lock("locked.ron", 0o000);
    let demo = at("open.ron");
    fs::copy(example("two-beds"), &demo).unwrap();
    let told = |words: &[&str]| {
        let output = call_as_nobody(folder.path(), words);
        assert_eq!(output.status.code(), Some(2), "{words:?}");
        text(&output.stderr)
    };
    let in_shut = told(&["check", word(&at("shut/a.ron"))]);
    assert!(in_shut.contains("The folder is locked"), "{in_shut}");
    let locked = told(&["check", word(&at("locked.ron"))]);
    assert!(locked.contains("The file is locked: reading"), "{locked}");
    let into = |out: &Path| told(&["convert", word(&demo), "--to", "ron", "--out", word(out)]);
    let new = into(&at("closed/new.ron"));
    assert!(
        new.contains("The folder is locked: nothing may be written"),
        "{new}"
    );
    lock("locked.ron", 0o444);
    let over = into(&at("locked.ron"));
    assert!(
        over.contains("The file is locked: it may only be read"),
        "{over}"
    );
    // So that it can be cleared away.
    lock("shut", 0o755);
    lock("closed", 0o755);
}

#[test]
fn a_slip_names_the_command_that_was_meant() {
    for (words, meant) in [
        (&["chekc", "x.ron"][..], "check"),
        (&["chekc"], "check"),
        (&["trase", "x.ron", "--state", "starting"], "trace"),
        (&["Fault", "x.ron"], "faults"),
        (&["convrt", "x.ron", "--to", "json"], "convert"),
    ] {
        let line = refused(words);
        let wanted = format!("There is no command {}. Did you mean {meant}?", words[0]);
        let alone = format!("no file called {}. Did you mean {meant}?", words[0]);
        assert!(line.contains(&wanted) || line.contains(&alone), "{line}");
    }
    // Two files are no slip of a command.
    let line = refused(&["one-layout.ron", "another-layout.ron"]);
    assert!(!line.contains("Did you mean"), "{line}");
}

#[test]
fn long_ids_are_cut_in_messages() {
    let long = "x".repeat(81);
    let fits = "y".repeat(80);
    let demo = example("two-beds");
    let blocked = |id: &str| refused(&["trace", word(&demo), "--state", "blocked", "--block", id]);
    let line = blocked(&long);
    assert!(line.contains(&format!(" {}…", &long[..79])), "{line}");
    assert!(!line.contains(&long[..80]), "{line}");
    let line = blocked(&fits);
    assert!(line.contains(&fits), "{line}");
    let failure = Failure {
        part: Some(long.clone()),
        ..Failure::new("what", "do")
    };
    assert!(!failure.line_text().contains(&long));
    // Scripts get the whole of it.
    assert_eq!(failure.json()["error"]["part"], long);
    let folder = tempdir().unwrap();
    let path = folder.path().join("a.ron");
    let layout = format!(
        r#"(fallwright: 1, title: "Long", vessels: [(id: "{long}", shape: prism(area_m2: 4), floor_m: 1, rim_m: 1)])"#
    );
    fs::write(&path, layout).unwrap();
    let line = refused(&["check", word(&path)]);
    assert!(!line.contains(&long), "{line}");
}

/// Letters in another order than they are read in, and what would turn them.
const TURNED: &str = "Pond \u{202e}dnoP\u{202c} \u{2067}\u{200f}\u{61c}";

#[test]
fn marks_of_direction_do_not_reach_the_terminal() {
    let folder = tempdir().unwrap();
    let path = folder.path().join("turned.ron");
    let layout = format!(
        r#"(fallwright: 1, title: "{TURNED}", vessels: [(id: "a", name: "{TURNED}", shape: prism(area_m2: 4), floor_m: 0, rim_m: 1, fill_m: 0.5)])"#
    );
    fs::write(&path, &layout).unwrap();
    let missing = format!("{TURNED}.ron");
    let raw = |text: &str| {
        let marks = ['\u{202e}', '\u{202c}', '\u{2067}', '\u{200f}', '\u{61c}'];
        text.contains(marks)
    };
    assert!(raw(&layout));
    let file = word(&path);
    for words in [
        &["check", file][..],
        &["check", file, "--json"],
        &["faults", file],
        &["trace", file, "--state", "starting", "--json"],
        &["convert", file, "--to", "json"],
        &["convert", file, "--to", "ron"],
        &["check", &missing],
        &["check", &missing, "--json"],
        &[&missing],
        &["check", file, "--state", TURNED],
    ] {
        let output = call(words);
        for told in [text(&output.stdout), text(&output.stderr)] {
            assert!(!raw(&told), "{words:?}: {told:?}");
        }
    }
    // Escaped, and not lost.
    let json: Value = serde_json::from_slice(&call(&["check", file, "--json"]).stdout).unwrap();
    assert_eq!(json["title"], TURNED);
    let wanted = fallwright::file::read(&path).unwrap();
    for (form, name) in [("json", "b.json"), ("ron", "b.ron")] {
        let out = folder.path().join(name);
        fs::write(&out, call(&["convert", file, "--to", form]).stdout).unwrap();
        assert_eq!(fallwright::file::read(&out).unwrap(), wanted, "{form}");
    }
}

/// The program with this on its standard input.
fn fed(words: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_fallwright"))
        .args(words)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // It may be refused before all of it is read.
    let _ = child.stdin.take().unwrap().write_all(input);
    child.wait_with_output().unwrap()
}

#[test]
fn a_dash_is_standard_input() {
    let path = example("two-beds");
    let ron = fs::read(&path).unwrap();
    let json = call(&["convert", word(&path), "--to", "json"]).stdout;
    let told = call(&["check", word(&path)]).stdout;
    for input in [&ron, &json] {
        let output = fed(&["check", "-"], input);
        assert_eq!(output.stdout, told, "{}", text(&output.stderr));
    }
    assert_eq!(fed(&["convert", "-", "--to", "json"], &ron).stdout, json);
    let broken = fed(&["check", "-"], b"(fallwright: 1, title: \"Half a");
    assert_eq!(broken.status.code(), Some(2));
    let line = text(&broken.stderr);
    assert!(line.contains("(standard input, line 1"), "{line}");
    let broken = fed(&["check", "-", "--json"], b"\xff\xfe");
    let error: Value = serde_json::from_slice(&broken.stdout).unwrap();
    assert_eq!(error["error"]["where"], "standard input");
    let window = fed(&["-"], &ron);
    assert_eq!(window.status.code(), Some(2));
    assert!(text(&window.stderr).contains("check -"));
}

fn cases_of(value: &Value) -> Vec<&Value> {
    value["cases"].as_array().unwrap().iter().collect()
}

#[test]
fn severities_of_failures_agree_with_the_text_and_the_exit_code() {
    let folder = tempdir().unwrap();
    let examples = ["glasshouse", "drain-too-high", "two-beds", "rain-cistern"];
    let mut paths = examples.map(example).to_vec();
    // Two that have a second outcome.
    for (name, layout) in [("hose.ron", HOSE), ("bridge.ron", BRIDGE)] {
        let path = folder.path().join(name);
        fs::write(&path, layout).unwrap();
        paths.push(path);
    }
    for path in paths {
        let name = path.display();
        let output = call(&["faults", word(&path), "--json"]);
        let value: Value = serde_json::from_slice(&output.stdout).unwrap();
        let cases = cases_of(&value);
        let count = |wanted: &str| {
            let of = cases.iter().filter(|case| case["severity"] == wanted);
            of.count()
        };
        for case in &cases {
            let rank = |severity: &Value| {
                let words = ["problem", "warning", "note"];
                words.iter().position(|word| severity == word)
            };
            // None stands before all.
            let second = rank(&case["primed"]["severity"]);
            assert!(
                second.is_none() || rank(&case["severity"]) <= second,
                "{case}"
            );
        }
        let told = text(&call(&["faults", word(&path)]).stdout);
        let marks = |mark: &str| told.matches(&format!("\n  {mark}  ")).count();
        assert_eq!(marks("▲"), count("problem"), "{name}");
        assert_eq!(marks("△"), count("warning"), "{name}");
        let code = i32::from(count("problem") > 0);
        assert_eq!(output.status.code(), Some(code), "{name}");
    }
}

/// Every number in a value.
fn numbers(value: &Value, found: &mut Vec<f64>) {
    match value {
        Value::Number(number) => found.extend(number.as_f64()),
        Value::Array(values) => values.iter().for_each(|value| numbers(value, found)),
        Value::Object(values) => values.values().for_each(|value| numbers(value, found)),
        _ => {}
    }
}

#[test]
fn results_have_nine_significant_digits() {
    let path = example("two-beds");
    for words in [
        &["check", word(&path), "--json"][..],
        &["faults", word(&path), "--json"],
        &["trace", word(&path), "--state", "stopped", "--json"],
    ] {
        let value: Value = serde_json::from_slice(&call(words).stdout).unwrap();
        let mut found = Vec::new();
        numbers(&value, &mut found);
        assert!(found.len() > 20, "{words:?}");
        for number in found {
            let rounded: f64 = format!("{number:.8e}").parse().unwrap();
            assert_eq!(rounded.to_bits(), number.to_bits(), "{number}");
        }
    }
}

#[test]
fn a_number_without_end_is_null() {
    let (layout, mut evaluation) = (crate::support::layout(), crate::support::sample());
    let sets = [
        (1e21, Value::Null),
        (-3e25, Value::Null),
        (f64::INFINITY, Value::Null),
        (9.876_543_214_9e20, 9.876_543_21e20.into()),
        (1.0 / 3.0, 0.333_333_333.into()),
        (-0.0, 0.0.into()),
    ];
    for (number, wanted) in sets {
        evaluation.states[0].vessels[0].level_m = Some(number);
        let state = evaluation.states[0].state.word();
        let json = report_json(&layout, &evaluation);
        let found = &json["states"][state]["vessels"][0]["level_m"];
        assert_eq!(found, &wanted, "{number}");
    }
}
