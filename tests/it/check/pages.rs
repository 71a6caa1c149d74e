//! Every code has its page.

use fallwright::finding::Code;
use std::collections::BTreeSet;
use std::path::Path;

#[test]
fn every_code_has_a_page_and_every_page_a_code() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/findings");
    let files = std::fs::read_dir(folder).unwrap();
    let names = files.map(|file| file.unwrap().file_name().into_string().unwrap());
    let pages: BTreeSet<String> = names
        .filter(|name| name != "README.md")
        .map(|name| name.trim_end_matches(".md").to_owned())
        .collect();
    let codes: BTreeSet<String> = Code::ALL
        .iter()
        .map(|code| code.word().to_owned())
        .collect();
    assert_eq!(pages, codes);
}

#[test]
fn a_page_says_what_limit_why_and_cure() {
    for code in Code::ALL {
        let word = code.word();
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/findings");
        let text = std::fs::read_to_string(folder.join(format!("{word}.md"))).unwrap();
        assert!(text.starts_with(&format!("# {word}\n")), "{word}");
        for part in ["## What", "## Limit", "## Why", "## Cure"] {
            assert!(text.contains(&format!("{part}\n")), "{word} lacks {part}");
        }
        for line in text.lines().filter(|line| !line.starts_with('#')) {
            assert!(
                !line.contains(". ") || line.contains("e.g. "),
                "{word}: one sentence a line: {line}"
            );
        }
    }
}
