//! Every key that a command prints for scripts is on `docs/output.md`, in its place, and none that is not printed.
//!
//! The keys are gathered from what the commands print for the examples, the layouts of the tests and the samples
//! of the pages.

use crate::file::docs::samples;
use crate::file::everything::everything;
use fallwright::cli::run;
use fallwright::file::{Format, to_text};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::ffi::OsString;
use std::path::{Path, PathBuf};

const PAGE: &str = include_str!("../../../docs/output.md");

/// Objects whose keys are ids of the layout.
const BY_ID: [&str; 4] = ["levels_m", "flows_m3_s", "spilled_m3", "lowest"];

/// One table of the page: where its object stands, and the keys that it names.
struct Table {
    places: Vec<Vec<String>>,
    keys: BTreeSet<String>,
}

fn spans(line: &str) -> Vec<String> {
    let spans = line.split('`').skip(1).step_by(2);
    spans.map(str::to_owned).collect()
}

fn tables() -> Vec<Table> {
    let mut tables: Vec<Table> = Vec::new();
    for line in PAGE.lines() {
        if line.starts_with("At `") {
            let places = spans(line);
            let places = places.iter();
            tables.push(Table {
                places: places
                    .map(|place| place.split('.').map(str::to_owned).collect())
                    .collect(),
                keys: BTreeSet::new(),
            });
        } else if line.starts_with("## Words") {
            break;
        } else if let (Some(row), Some(table)) = (line.strip_prefix("| `"), tables.last_mut()) {
            let cell = row.split('|').next().unwrap();
            table.keys.extend(spans(&format!("`{cell}")));
        }
    }
    tables
}

fn is_at(pattern: &[String], place: &[String]) -> bool {
    let same = |(pattern, key): (&String, &String)| match pattern.strip_prefix('*') {
        Some(rest) => key.ends_with("[]") == (rest == "[]"),
        None => pattern == key,
    };
    pattern.len() == place.len() && pattern.iter().zip(place).all(same)
}

/// Where an object stands. A second outcome and the running of a variant are states like any other.
fn within(place: &[String], key: &str) -> Vec<String> {
    let names: Vec<&str> = place.iter().map(String::as_str).collect();
    let place = match (names.as_slice(), key) {
        (["check", "states", _], "primed") => return place.to_vec(),
        (["check", "variants[]"], "running") => ["check", "states", key].map(str::to_owned),
        _ => return place.iter().cloned().chain([key.to_owned()]).collect(),
    };
    place.to_vec()
}

/// What was seen: for each table the keys in it.
#[derive(Default)]
struct Seen(BTreeMap<usize, BTreeSet<String>>);

impl Seen {
    fn look(&mut self, tables: &[Table], place: &[String], value: &Value) {
        match value {
            Value::Array(rows) => rows.iter().for_each(|row| self.look(tables, place, row)),
            Value::Object(fields) => {
                let found = tables
                    .iter()
                    .position(|table| table.places.iter().any(|one| is_at(one, place)));
                if let Some(table) = found {
                    let seen = self.0.entry(table).or_default();
                    for key in fields.keys() {
                        let told = tables[table].keys.contains(key);
                        assert!(told, "`{key}` at {} is not on the page", place.join("."));
                        seen.insert(key.clone());
                    }
                } else if place
                    .last()
                    .is_some_and(|key| BY_ID.contains(&key.as_str()))
                {
                    return;
                } else {
                    let holds_words = |one: &Vec<String>| {
                        one.len() > place.len()
                            && one[place.len()].starts_with('*')
                            && is_at(&one[..place.len()], place)
                    };
                    let known = tables.iter().any(|one| one.places.iter().any(holds_words));
                    assert!(
                        known,
                        "the object at {} is not on the page",
                        place.join(".")
                    );
                }
                for (key, inner) in fields {
                    let mut inside = within(place, key);
                    if inner.is_array() {
                        inside.last_mut().unwrap().push_str("[]");
                    }
                    self.look(tables, &inside, inner);
                }
            }
            _ => {}
        }
    }
}

/// What a command prints for a file.
fn printed(words: &[&str], file: &Path) -> Value {
    let words = ["fallwright"].iter().chain(words).map(OsString::from);
    let words = words.chain([file.into(), "--json".into()]);
    let outcome = run(words, &|_| Err("no window here".to_owned()));
    serde_json::from_str(&outcome.out).unwrap()
}

/// A pump behind a valve that is shut, and one that its float switches on and off for ever.
const RARE: [&str; 2] = [
    r#"(fallwright: 1, title: "A shut suction",
        vessels: [
            (id: "sump", shape: prism(area_m2: 1), floor_m: 0, rim_m: 1, fill_m: 0.6),
            (id: "tank", shape: prism(area_m2: 1), floor_m: 1, rim_m: 2, fill_m: 1.2),
        ],
        joints: [(id: "tee", elevation_m: 0.2)],
        runs: [
            (id: "suction", from: (at: "sump", opening: submerged()), to: (at: "tee"), pipe: own(bore_m: 0.05),
             length_m: 1, valves: [(kind: "ball", opening: 0)]),
            (id: "lift", from: (at: "tee"), to: (at: "tank", opening: mouth(lip_m: 2.1)), pipe: own(bore_m: 0.04),
             length_m: 3, pump: (id: "pump", curve: power(h0_m: 5, c: 1.0e6, n: 2))),
            (id: "back", from: (at: "tank", opening: upstand(crest_m: 1.4)), to: (at: "sump", opening: submerged()),
             pipe: own(bore_m: 0.05), length_m: 2),
        ])"#,
    r#"(fallwright: 1, title: "A float that cycles",
        vessels: [
            (id: "sump", shape: prism(area_m2: 0.5), floor_m: 0, rim_m: 1, fill_m: 0.6, make_up_m3_s: 1.0e-4),
        ],
        fixed: [(id: "ditch", role: waste, level_m: 1)],
        runs: [
            (id: "lift", from: (at: "sump", opening: submerged()), to: (at: "ditch"), pipe: own(bore_m: 0.04),
             length_m: 3, pump: (id: "pump", curve: power(h0_m: 5, c: 1.0e6, n: 2), float: (on_m: 0.7, off_m: 0.3))),
        ])"#,
];

fn layouts(folder: &Path) -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files: Vec<PathBuf> = ["examples", "tests/good"]
        .iter()
        .flat_map(|name| std::fs::read_dir(root.join(name)).unwrap())
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .collect();
    let everything = to_text(&everything(), Format::Ron).unwrap();
    let texts = samples("ron").into_iter().chain(RARE);
    let texts = texts.chain([everything.as_str()]);
    for (index, text) in texts.enumerate() {
        let path = folder.join(format!("{index}.ron"));
        std::fs::write(&path, text).unwrap();
        files.push(path);
    }
    files
}

#[test]
fn every_key_that_is_printed_is_on_the_page_and_the_reverse() {
    let tables = tables();
    assert!(tables.len() > 30, "{}", tables.len());
    let mut seen = Seen::default();
    let mut look = |root: &str, value: &Value| {
        // An error alone is an object of its own.
        let root = match value.get("error") {
            Some(error) if value.as_object().is_some_and(|all| all.len() == 2) => {
                seen.look(&tables, &["error".to_owned()], error);
                return;
            }
            _ => root,
        };
        seen.look(&tables, &[root.to_owned()], value);
    };
    let folder = tempfile::tempdir().unwrap();
    let layouts = layouts(folder.path());
    assert!(layouts.len() > 20, "{}", layouts.len());
    for file in &layouts {
        look("check", &printed(&["check"], file));
        look("faults", &printed(&["faults"], file));
        look("trace", &printed(&["trace", "--state", "starting"], file));
    }
    look("check", &printed(&["check"], Path::new("none.ron")));
    let words: Vec<OsString> = ["fallwright", "words", "--json"].map(OsString::from).into();
    let words = run(words, &|_| Err(String::new()));
    look("words", &serde_json::from_str(&words.out).unwrap());
    // Only a state that fails has an error beside it, and no layout of ours has one.
    let rare = ["error"];
    for (index, table) in tables.iter().enumerate() {
        let found = seen.0.get(&index).cloned().unwrap_or_default();
        let unseen: Vec<&String> = table.keys.difference(&found).collect();
        let unseen: Vec<&&String> = unseen
            .iter()
            .filter(|key| !rare.contains(&key.as_str()))
            .collect();
        assert!(unseen.is_empty(), "{:?}: {unseen:?}", table.places);
    }
}

#[test]
fn a_key_that_is_not_on_the_page_is_seen() {
    let tables = tables();
    let value = serde_json::json!({ "format": 1, "new": 2 });
    let look = || Seen::default().look(&tables, &["check".to_owned()], &value);
    assert!(std::panic::catch_unwind(look).is_err());
}
