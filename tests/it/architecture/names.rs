//! Names of the program are standard words: those retired in `docs/glossary.md` are not used for types, functions,
//! constants, modules or files again.

use super::sources;
use std::collections::BTreeSet;
use syn::visit::{self, Visit};

/// A name that keeps a retired word, and why.
type Kept = (&'static str, &'static str);

#[rustfmt::skip]
const ALLOWED: &[Kept] = &[
    ("Place", "the type of the field `place` of the layout file"),
    ("Way", "the type of an entry of `ways` in the layout file"),
    ("Point", "a place on a page: nothing else is called so, and graphics have no other word"),
    ("film_m", "the growth on the wall of a pipe, called so by the trade and in the layout file"),
    ("is_leap", "of a year"),
];

/// What the glossary retires: a word in lower case wherever it stands in a name, one that begins with a capital as
/// the whole name of a type.
fn retired() -> BTreeSet<String> {
    let page = std::fs::read_to_string(super::root().join("docs/glossary.md"));
    let page = page.expect("the glossary");
    let (_, list) = page
        .split_once("### Words that no name has")
        .expect("its last part");
    let words: BTreeSet<String> = list
        .split('`')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect();
    assert!(words.len() > 40, "the list is not read: {words:?}");
    words
}

/// The words that a name is made of, in lower case.
fn words_of(name: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    for letter in name.chars() {
        if letter == '_' || letter.is_uppercase() {
            words.push(String::new());
        }
        if letter != '_'
            && let Some(word) = words.last_mut()
        {
            word.extend(letter.to_lowercase());
        }
    }
    // Constants are written in capitals.
    if name.chars().all(|letter| !letter.is_lowercase()) {
        let name = name.to_lowercase();
        return name.split('_').map(str::to_owned).collect();
    }
    words.retain(|word| !word.is_empty());
    words
}

/// The names that a file gives to types, functions, constants and modules.
#[derive(Default)]
struct Declared(Vec<String>);

impl<'ast> Visit<'ast> for Declared {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        let name = match item {
            syn::Item::Struct(item) => Some(&item.ident),
            syn::Item::Enum(item) => Some(&item.ident),
            syn::Item::Trait(item) => Some(&item.ident),
            syn::Item::Type(item) => Some(&item.ident),
            syn::Item::Const(item) => Some(&item.ident),
            syn::Item::Static(item) => Some(&item.ident),
            syn::Item::Mod(item) => Some(&item.ident),
            _ => None,
        };
        self.0.extend(name.map(ToString::to_string));
        visit::visit_item(self, item);
    }

    fn visit_signature(&mut self, signature: &'ast syn::Signature) {
        self.0.push(signature.ident.to_string());
        visit::visit_signature(self, signature);
    }
}

fn breaches(code: &str, retired: &BTreeSet<String>) -> Vec<String> {
    let mut declared = Declared::default();
    match syn::parse_file(code) {
        Ok(file) => declared.visit_file(&file),
        Err(error) => return vec![format!("does not parse: {error}")],
    }
    let mut found = declared.0;
    found.retain(|name| is_retired(name, retired));
    found
}

fn is_retired(name: &str, retired: &BTreeSet<String>) -> bool {
    let allowed = ALLOWED.iter().any(|(kept, _)| *kept == name);
    let holds = || words_of(name).iter().any(|word| retired.contains(word));
    !allowed && (retired.contains(name) || holds())
}

#[test]
fn names_are_standard_words() {
    let retired = retired();
    let mut found = BTreeSet::new();
    for (file, code) in sources("src") {
        let stem = file.file_stem().map(|stem| stem.to_string_lossy());
        if stem.is_some_and(|stem| is_retired(&stem, &retired)) {
            found.insert(format!("{}: the name of the file", file.display()));
        }
        let names = breaches(&code, &retired).into_iter();
        found.extend(names.map(|name| format!("{}: {name}", file.display())));
    }
    let found: Vec<String> = found.into_iter().collect();
    assert!(found.is_empty(), "\n{}", found.join("\n"));
}

#[test]
fn the_rule_about_names_bites() {
    let retired = ["held", "drowned", "need", "Spot"]
        .map(str::to_owned)
        .into();
    for (code, name) in [
        ("enum Held { No }", "Held"),
        ("impl X { fn is_drowned(&self) {} }", "is_drowned"),
        ("trait X { fn need(&self); }", "need"),
        (
            "mod a { const HELD_AT_CREST_M: f64 = 1.0; }",
            "HELD_AT_CREST_M",
        ),
        ("struct Spot;", "Spot"),
        ("fn f() { fn held_by() {} }", "held_by"),
    ] {
        assert_eq!(breaches(code, &retired), [name], "{code}");
    }
    for code in [
        "fn needle() {}",
        "struct LabelSpot;",
        "fn withheld() {}",
        "struct Place;",
    ] {
        assert!(breaches(code, &retired).is_empty(), "{code}");
    }
}
