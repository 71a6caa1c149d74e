//! The command `words` and the tables of words on the pages are whole, and say the same.

use super::program::{call, text};
use fallwright::catalogue::{Catalogue, Choice};
use fallwright::cli::text::WIDTH;
use fallwright::cli::vocabulary::{List, codes, file, results};
use fallwright::finding::Code;
use fallwright::layout::{
    CrestKind, CurveForm, Direction, Edge, EquipmentLoss, FixedRole, Friction, NotchShape, Opening,
    Pipe, Role, RunEnd, Shape, Turned, Vent,
};
use fallwright::units::UnitSystem;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The words that a kind of thing has in a file, as the parser lists them.
fn parsed<T: DeserializeOwned>() -> Vec<String> {
    let Err(error) = serde_json::from_str::<T>("\"no such word\"") else {
        panic!("any word is taken");
    };
    let error = error.to_string();
    let (_, known) = error.split_once(", expected ").unwrap();
    let words = known.split('`').skip(1).step_by(2);
    words.map(str::to_owned).collect()
}

/// Every enumeration of the file by the key of its list: its name in the code, and what the parser takes.
fn enumerations() -> BTreeMap<&'static str, (&'static str, Vec<String>)> {
    BTreeMap::from([
        ("units", ("UnitSystem", parsed::<UnitSystem>())),
        ("friction", ("Friction", parsed::<Friction>())),
        ("role", ("Role", parsed::<Role>())),
        ("fixed_role", ("FixedRole", parsed::<FixedRole>())),
        ("shape", ("Shape", parsed::<Shape>())),
        ("opening", ("Opening", parsed::<Opening>())),
        ("turned", ("Turned", parsed::<Turned>())),
        ("crest", ("CrestKind", parsed::<CrestKind>())),
        ("vent", ("Vent", parsed::<Vent>())),
        ("notch_shape", ("NotchShape", parsed::<NotchShape>())),
        ("edge", ("Edge", parsed::<Edge>())),
        ("pipe", ("Pipe", parsed::<Pipe>())),
        ("direction", ("Direction", parsed::<Direction>())),
        ("near", ("RunEnd", parsed::<RunEnd>())),
        (
            "equipment_loss",
            ("EquipmentLoss", parsed::<EquipmentLoss>()),
        ),
        ("curve", ("CurveForm", parsed::<CurveForm>())),
    ])
}

#[test]
fn every_word_that_the_parser_takes_is_listed() {
    let lists = file();
    let known = enumerations();
    assert_eq!(lists.len(), known.len());
    for list in lists {
        let listed: BTreeSet<&str> = list.words.iter().map(|one| one.word).collect();
        let parsed: BTreeSet<&str> = known[list.key].1.iter().map(String::as_str).collect();
        assert_eq!(listed, parsed, "{}", list.key);
        assert_eq!(listed.len(), list.words.len(), "{}", list.key);
    }
}

fn sources(folder: &Path) -> Vec<PathBuf> {
    let inside = std::fs::read_dir(folder).unwrap();
    let inside = inside.map(|one| one.unwrap().path());
    inside
        .flat_map(|path| {
            if path.is_dir() {
                sources(&path)
            } else {
                vec![path]
            }
        })
        .collect()
}

/// A new enumeration of the file needs a list: they are gathered from the code of the layout.
#[test]
fn no_enumeration_of_the_layout_is_left_out() {
    let mut found = BTreeSet::from(["UnitSystem".to_owned()]);
    for path in sources(&root().join("src/layout")) {
        let code = std::fs::read_to_string(path).unwrap();
        let parsed = syn::parse_file(&code).unwrap();
        for item in parsed.items {
            if let syn::Item::Enum(item) = item {
                let derives = item.attrs.iter().any(|attribute| {
                    let tokens = attribute.meta.require_list();
                    tokens.is_ok_and(|list| list.tokens.to_string().contains("Deserialize"))
                });
                if derives {
                    found.insert(item.ident.to_string());
                }
            }
        }
    }
    let known: BTreeSet<String> = enumerations()
        .values()
        .map(|(name, _)| (*name).to_owned())
        .collect();
    assert_eq!(found, known);
}

#[test]
fn meanings_are_sentences_without_a_stop() {
    let mut all = file();
    all.extend(results());
    all.push(codes());
    for list in &all {
        for one in &list.words {
            let starts = one.meaning.starts_with(char::is_uppercase);
            let formula = one.meaning.contains('=');
            assert!(starts || formula, "{}: {}", one.word, one.meaning);
            assert!(!one.meaning.ends_with('.'), "{}", one.word);
        }
    }
    assert_eq!(codes().words.len(), Code::ALL.len());
}

/// A table of one list.
fn table(of: &str, words: &[(String, String)]) -> String {
    let mut text = format!("| {of} | meaning |\n|---|---|\n");
    for (word, meaning) in words {
        let _ = writeln!(text, "| `{word}` | {meaning}. |");
    }
    text.push('\n');
    text
}

fn of(list: &List) -> String {
    let words = list.words.iter();
    let words: Vec<(String, String)> = words
        .map(|one| (one.word.to_owned(), one.meaning.to_owned()))
        .collect();
    table(list.of, &words)
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|letter| letter.to_uppercase());
    first.into_iter().flatten().chain(letters).collect()
}

fn choices(all: &[Choice]) -> String {
    let keys: Vec<String> = all.iter().map(|one| format!("`{}`", one.source)).collect();
    keys.join(", ")
}

/// What `docs/format.md` says of words.
fn of_the_file() -> String {
    let mut text: String = file().iter().map(of).collect();
    let catalogue = Catalogue::builtin();
    text.push_str("| `family` of a bought pipe | meaning | `size` |\n|---|---|---|\n");
    for family in &catalogue.families {
        let sizes: Vec<&str> = family.sizes.iter().map(|size| size.size.as_str()).collect();
        let _ = writeln!(
            text,
            "| `{}` | {} ({}). | {} |",
            family.key,
            family.words,
            family.standard,
            sizes.join(", ")
        );
    }
    text.push_str("\n| `kind` of a fitting | meaning | `choice` |\n|---|---|---|\n");
    for one in &catalogue.fittings {
        let (words, keys) = (capital(&one.words), choices(&one.choices));
        let _ = writeln!(text, "| `{}` | {words}. | {keys} |", one.key);
    }
    text.push_str("\n| `kind` of a valve | meaning |\n|---|---|\n");
    for one in &catalogue.valves {
        let _ = writeln!(text, "| `{}` | {}. |", one.key, capital(&one.words));
    }
    text.push('\n');
    text
}

/// What `docs/output.md` says of words.
fn of_results() -> String {
    let text: String = results().iter().map(of).collect();
    let codes = codes();
    let words = codes.words.iter().map(|one| {
        let page = format!("[`{0}`](findings/{0}.md)", one.word);
        format!("| {page} | {}. |\n", one.meaning)
    });
    let codes: String = words.collect();
    format!("{text}| code of a finding | meaning |\n|---|---|\n{codes}\n")
}

const BEGIN: &str = "<!-- words: begin -->\n";
const END: &str = "<!-- words: end -->\n";

fn compare(page: &str, wanted: &str) {
    let path = root().join("docs").join(page);
    let text = std::fs::read_to_string(&path).unwrap();
    let (before, rest) = text.split_once(BEGIN).unwrap();
    let (found, after) = rest.split_once(END).unwrap();
    let wanted = format!("\n{wanted}");
    if std::env::var_os("FALLWRIGHT_BLESS").is_some() {
        std::fs::write(&path, format!("{before}{BEGIN}{wanted}{END}{after}")).unwrap();
        return;
    }
    let lines = found.lines().zip(wanted.lines());
    let other = lines.into_iter().find(|(found, wanted)| found != wanted);
    assert!(
        found == wanted,
        "docs/{page} is out of date at {other:?}: run FALLWRIGHT_BLESS=1 cargo test words_on_the_pages"
    );
}

#[test]
fn the_words_on_the_pages_are_those_of_the_program() {
    compare("format.md", &of_the_file());
    compare("output.md", &of_results());
}

#[test]
fn the_command_prints_every_word_and_key() {
    let output = call(&["words"]);
    assert_eq!(output.status.code(), Some(0));
    let printed = text(&output.stdout);
    let catalogue = Catalogue::builtin();
    let mut all = file();
    all.extend(results());
    all.push(codes());
    let words = all.iter().flat_map(|list| &list.words);
    let mut words: Vec<&str> = words.map(|one| one.word).collect();
    words.extend(catalogue.families.iter().map(|one| one.key.as_str()));
    words.extend(catalogue.fittings.iter().map(|one| one.key.as_str()));
    words.extend(catalogue.valves.iter().map(|one| one.key.as_str()));
    for word in words {
        let start = format!("  {word}  ");
        assert!(
            printed.lines().any(|line| line.starts_with(&start)),
            "{word}"
        );
    }
    for line in printed.lines() {
        assert!(line.chars().count() <= WIDTH, "{line}");
    }
}

#[test]
fn scripts_get_the_same_words() {
    let output = call(&["words", "--json"]);
    assert_eq!(output.status.code(), Some(0));
    let value: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(value["format"], 1);
    let count = |value: &Value| value.as_array().unwrap().len();
    let lists = file().into_iter().map(|list| (list, "file"));
    let lists = lists.chain(results().into_iter().map(|list| (list, "results")));
    for (list, place) in lists {
        let found = &value[place][list.key];
        assert_eq!(count(found), list.words.len(), "{}", list.key);
        assert_eq!(found[0]["word"], list.words[0].word);
        assert_eq!(found[0]["meaning"], list.words[0].meaning);
    }
    let catalogue = Catalogue::builtin();
    assert_eq!(count(&value["codes"]), Code::ALL.len());
    assert_eq!(count(&value["families"]), catalogue.families.len());
    assert_eq!(count(&value["fittings"]), catalogue.fittings.len());
    assert_eq!(count(&value["valves"]), catalogue.valves.len());
    let family = &catalogue.families[0];
    let first = &value["families"][0];
    assert_eq!(count(&first["sizes"]), family.sizes.len());
    let bore_m = first["sizes"][0]["bore_m"].as_f64().unwrap();
    assert!((bore_m - family.sizes[0].bore_m).abs() < 1e-9);
    let check = |kind: &str| {
        let valves = value["valves"].as_array().unwrap();
        let found = valves.iter().find(|one| one["kind"] == kind).unwrap();
        found["check_valve"].as_bool().unwrap()
    };
    assert!(check("swing-check") && !check("ball"));
}
