//! The words of files and results, and the keys of the catalogue, as text.

use super::wrap::{letters, wrap};
use super::{WIDTH, heading};
use crate::catalogue::Catalogue;
use crate::cli::vocabulary::{List, codes, file, results};

/// Column where the meanings start, unless the word is longer.
const INDENT: usize = 28;

/// Returns every word with its meaning; every line ends with a line feed.
pub fn words_text(catalogue: &Catalogue) -> String {
    let mut lines = vec![
        "The words that a layout file and a result may hold, and what they mean.".to_owned(),
        "docs/format.md explains every field of the file, docs/output.md every key of the results."
            .to_owned(),
    ];
    for list in file() {
        lines.extend(section(&list));
    }
    lines.extend(families(catalogue));
    let fittings = catalogue.fittings.iter();
    let fittings: Vec<(&str, &str)> = fittings.map(|one| (&*one.key, &*one.words)).collect();
    lines.extend(rows("`kind` of a fitting", &fittings));
    let valves = catalogue.valves.iter();
    let valves: Vec<(&str, &str)> = valves.map(|one| (&*one.key, &*one.words)).collect();
    lines.extend(rows("`kind` of a valve", &valves));
    for list in results() {
        lines.extend(section(&list));
    }
    lines.extend(section(&codes()));
    lines.push(String::new());
    lines.push("docs/findings has a page for each code.".to_owned());
    lines.push(String::new());
    lines.join("\n")
}

fn section(list: &List) -> Vec<String> {
    let words = list.words.iter();
    let words: Vec<(&str, &str)> = words.map(|one| (one.word, one.meaning)).collect();
    rows(list.of, &words)
}

fn rows(of: &str, words: &[(&str, &str)]) -> Vec<String> {
    let mut lines = heading(&of.replace('`', ""));
    for (word, meaning) in words {
        lines.extend(row(word, meaning));
    }
    lines
}

fn row(word: &str, meaning: &str) -> Vec<String> {
    let head = format!("  {word}");
    let blank = INDENT.saturating_sub(letters(&head)).max(2);
    let mut start = format!("{head}{}", " ".repeat(blank));
    let mut lines = Vec::new();
    for line in wrap(meaning, WIDTH - INDENT) {
        lines.push(format!("{start}{line}"));
        start = " ".repeat(INDENT);
    }
    lines
}

/// Families of pipe with their sizes.
fn families(catalogue: &Catalogue) -> Vec<String> {
    let mut lines = heading("family and size of a bought pipe");
    for family in &catalogue.families {
        let about = format!("{} ({})", family.words, family.standard);
        lines.extend(row(&family.key, &about));
        let sizes: Vec<&str> = family.sizes.iter().map(|size| size.size.as_str()).collect();
        lines.extend(row("", &sizes.join(", ")));
    }
    lines
}
