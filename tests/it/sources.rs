//! Every source key that code or a method page cites exists, and every source is cited.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

#[derive(Deserialize)]
struct Source {
    citation: String,
    /// The figures were written down without the source at hand.
    #[serde(default)]
    from_memory: bool,
}

fn sources() -> BTreeMap<String, Source> {
    ron::from_str(include_str!("../../docs/sources.ron")).expect("docs/sources.ron reads")
}

/// Keys in `[@a, @b]` of one text.
fn keys(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for part in text.split("[@").skip(1) {
        let Some((inside, _)) = part.split_once(']') else {
            continue;
        };
        // The first item lost its @ above; later ones are keys only if they have one, else a place.
        for (i, item) in inside.split(',').enumerate() {
            let key = match item.trim().strip_prefix('@') {
                Some(key) => key,
                None if i == 0 => item,
                None => continue,
            };
            if key != "…" {
                found.insert(key.to_string());
            }
        }
    }
    found
}

fn cited() -> BTreeMap<String, String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut cited = BTreeMap::new();
    for folder in ["src", "docs/method", "docs/findings"] {
        for entry in walkdir::WalkDir::new(root.join(folder)) {
            let entry = entry.expect("a readable folder");
            let kind = entry.path().extension().and_then(|e| e.to_str());
            if matches!(kind, Some("rs" | "md")) {
                let text = std::fs::read_to_string(entry.path()).expect("a readable file");
                for key in keys(&text) {
                    cited.insert(key, entry.path().display().to_string());
                }
            }
        }
    }
    cited
}

#[test]
fn every_cited_key_exists() {
    let (cited, known) = (cited(), sources());
    let missing: Vec<_> = cited
        .iter()
        .filter(|(key, _)| !known.contains_key(*key))
        .collect();
    assert!(
        missing.is_empty(),
        "cited but not in docs/sources.ron: {missing:?}"
    );
    let idle: Vec<_> = known
        .keys()
        .filter(|key| !cited.contains_key(*key))
        .collect();
    assert!(
        idle.is_empty(),
        "in docs/sources.ron but not cited: {idle:?}"
    );
}

#[test]
fn every_source_can_be_found_again() {
    for (key, source) in sources() {
        assert!(source.citation.len() > 20, "{key} says too little");
        let says_so = source.citation.contains("from memory");
        assert_eq!(says_so, source.from_memory, "{key}: text and flag differ");
    }
}

/// Text of every file of this kind under a folder of the package.
fn texts(folder: &str, kind: &str) -> Vec<String> {
    walkdir::WalkDir::new(Path::new(env!("CARGO_MANIFEST_DIR")).join(folder))
        .into_iter()
        .map(|entry| entry.expect("a readable folder").into_path())
        .filter(|path| path.extension().is_some_and(|e| e == kind))
        .map(|path| std::fs::read_to_string(path).expect("a readable file"))
        .collect()
}

/// A method page may name a test with one `*` for any text.
#[test]
fn every_test_that_a_page_names_exists() {
    let code = texts("tests/it", "rs").concat();
    let word = |c: char| c.is_ascii_alphanumeric() || c == '_';
    let names: BTreeSet<&str> = code.split(|c| !word(c)).filter(|w| is_proof(w)).collect();
    for page in texts("docs/method", "md") {
        for named in page.split('`').filter(|text| is_proof(text)) {
            let found = match named.split_once('*') {
                Some((head, tail)) => names.iter().any(|name| {
                    let rest = name.strip_prefix(head);
                    rest.is_some_and(|rest| rest.contains(tail.trim_end_matches('*')))
                }),
                None => names.contains(named),
            };
            assert!(found, "no test is called {named}");
        }
    }
}

fn is_proof(text: &str) -> bool {
    ["val_", "prop_"]
        .iter()
        .any(|kind| text.len() > kind.len() && text.starts_with(kind))
        && text
            .chars()
            .all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '*')
}

#[test]
fn keys_are_read_from_brackets() {
    let found = keys("a [@one] b [@two, @three] c [@four, section 2] [no] [@…] [@five");
    let found: Vec<_> = found.iter().map(String::as_str).collect();
    assert_eq!(found, ["four", "one", "three", "two"]);
}
