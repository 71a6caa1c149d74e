//! The rooms keep to themselves: who may import whom, and the habits that a machine can see.
//!
//! The table is in `table.rs`; `bites.rs` proves on small snippets that a breach is seen.

mod bites;
mod names;
mod order;
mod paths;
mod rules;
mod table;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use table::{EXCUSES, MANY_LINES, MOST_LINES, ROOMS};

/// Breaches of order that still stand; the numbers only fall.
const MOST_CYCLES: usize = 21;
const MOST_PASSED_ON: usize = 10;
const MOST_TUPLES: usize = 209;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust file under a folder of the package, and its text.
fn sources(folder: &str) -> Vec<(PathBuf, String)> {
    let files: Vec<_> = walkdir::WalkDir::new(root().join(folder))
        .sort_by_file_name()
        .into_iter()
        .map(|entry| entry.expect("a readable folder").into_path())
        .filter(|path| path.extension().is_some_and(|kind| kind == "rs"))
        .map(|path| {
            let text = std::fs::read_to_string(&path).expect("a readable file");
            let inside = path.strip_prefix(root()).expect("under the root");
            (inside.to_path_buf(), text)
        })
        .collect();
    assert!(files.len() > 5, "{folder} holds next to nothing");
    files
}

/// The module that a file under `src` is: none for `lib.rs`.
fn module(file: &Path) -> Vec<String> {
    let inside = file
        .strip_prefix("src")
        .expect("under src")
        .with_extension("");
    let mut parts: Vec<String> = inside
        .iter()
        .map(|part| part.to_string_lossy().into_owned())
        .collect();
    if parts
        .last()
        .is_some_and(|last| last == "mod" || last == "lib")
    {
        parts.pop();
    }
    parts
}

#[test]
fn rooms_import_what_the_table_allows() {
    let mut found = BTreeSet::new();
    for (file, text) in sources("src") {
        let module = module(&file);
        let module: Vec<&str> = module.iter().map(String::as_str).collect();
        for breach in rules::breaches(&text, &module) {
            found.insert(format!("{}: {breach}", file.display()));
        }
    }
    for (file, breach, why) in EXCUSES {
        let stood = found.remove(&format!("{file}: {breach}"));
        assert!(stood, "{file}: {breach} ({why}) needs no excuse any longer");
    }
    let list: Vec<String> = found.into_iter().collect();
    assert!(list.is_empty(), "\n{}", list.join("\n"));
}

/// The sources of the program as [`order`] looks at them.
fn in_order() -> Vec<(PathBuf, order::Source)> {
    let sources = sources("src").into_iter().map(|(file, code)| {
        let source = order::Source {
            module: module(&file),
            code,
        };
        (file, source)
    });
    sources.collect()
}

#[test]
fn sibling_files_have_no_cycle() {
    let all: Vec<order::Source> = in_order().into_iter().map(|(_, source)| source).collect();
    let found = order::cycles(&all);
    assert!(
        found.len() <= MOST_CYCLES,
        "{}:\n{}",
        found.len(),
        found.join("\n")
    );
}

#[test]
fn no_room_passes_on_the_types_of_another() {
    let mut found = Vec::new();
    for (file, source) in in_order() {
        for name in order::passed_on(&source) {
            found.push(format!("{}: {name}", file.display()));
        }
    }
    assert!(
        found.len() <= MOST_PASSED_ON,
        "{}:\n{}",
        found.len(),
        found.join("\n")
    );
}

#[test]
fn no_tuple_stands_for_an_argument_list() {
    let mut found = Vec::new();
    for (file, source) in in_order() {
        for name in order::tuples(&source.code) {
            found.push(format!("{}: {name}", file.display()));
        }
    }
    assert!(
        found.len() <= MOST_TUPLES,
        "{}:\n{}",
        found.len(),
        found.join("\n")
    );
}

#[test]
fn every_room_is_in_the_table() {
    let known: BTreeSet<&str> = ROOMS.iter().map(|room| room.name).collect();
    for (file, _) in sources("src") {
        if let Some(room) = module(&file).first() {
            assert!(
                known.contains(room.as_str()),
                "{room} has no line in the table"
            );
        }
    }
}

#[test]
fn the_table_has_no_ring() {
    for (place, room) in ROOMS.iter().enumerate() {
        for path in room.may_import {
            let name = path.split("::").next().expect("a first part");
            let above = ROOMS.iter().take(place).any(|other| other.name == name);
            assert!(
                above,
                "{} may import {path}, which does not stand above it",
                room.name
            );
        }
    }
}

/// The words in backticks of one cell of a table.
fn quoted(cell: &str) -> Vec<&str> {
    cell.split('`').skip(1).step_by(2).collect()
}

#[test]
fn the_page_for_developers_shows_this_table() {
    let page = std::fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    for room in ROOMS {
        let start = format!("| `{}` | ", room.name);
        let row = page.lines().find_map(|line| line.strip_prefix(&start));
        let row = row.unwrap_or_else(|| panic!("DEVELOPERS.md has no row for {}", room.name));
        let cell = row.split('|').next().expect("a cell");
        assert_eq!(
            quoted(cell),
            room.may_import,
            "{} in DEVELOPERS.md",
            room.name
        );
    }
}

#[test]
fn every_room_states_its_invariant() {
    for (file, text) in sources("src") {
        let module = module(&file);
        let is_room = module.len() == 1 && module.first().is_some_and(|room| room != "main");
        let says_so = text
            .lines()
            .take_while(|line| line.starts_with("//!"))
            .any(|line| line.contains("Invariant: "));
        assert!(
            !is_room || says_so,
            "{} has no Invariant: line",
            file.display()
        );
    }
}

#[test]
fn files_stay_short() {
    for (file, text) in sources("src").into_iter().chain(sources("tests")) {
        let lines = text.lines().count();
        assert!(lines <= MOST_LINES, "{} has {lines} lines", file.display());
        if lines > MANY_LINES {
            println!("{lines:4} lines: {}", file.display());
        }
    }
}
