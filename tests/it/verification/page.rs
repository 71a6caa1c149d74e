//! `docs/verification.md`.

use super::{Row, all_rows, experiments};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// Four significant digits, so that every optimisation level prints the same page.
pub(super) fn significant(value: f64) -> String {
    if value == 0.0 {
        return "0".to_string();
    }
    let size = value.abs().log10().floor();
    if !(-4.0..6.0).contains(&size) {
        return format!("{value:.3e}");
    }
    let places = (3.0 - size).max(0.0) as usize;
    format!("{value:.places$}")
}

fn page(rows: &[Row]) -> String {
    let mut groups: BTreeMap<&str, Vec<&Row>> = BTreeMap::new();
    for row in rows {
        groups.entry(row.group).or_default().push(row);
    }
    let mut text = String::from(
        "# Verification\n\n\
         What the program computes, held against figures from outside.\n\
         This page is written by the tests from the same rows they check.\n\
         Inputs of each row are in `tests/reference/`; \"from memory\" means that the source was not at hand.\n",
    );
    for (group, mut rows) in groups {
        rows.sort_by_key(|row| row.id);
        let _ = write!(
            text,
            "\n## {group} ({} checks)\n\n\
             | id | what | outside | computed | unit | allowed | source | how known |\n\
             |---|---|---|---|---|---|---|---|\n",
            rows.len()
        );
        for row in rows {
            let _ = writeln!(
                text,
                "| {} | {} | {} | {} | {} | {} | {} | {} |",
                row.id,
                row.what,
                row.expected,
                significant((row.got)()),
                row.unit,
                row.tolerance.text(),
                row.source,
                row.how,
            );
        }
    }
    text.push_str(&experiments::section());
    text
}

#[test]
fn verification_page_is_current() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/verification.md");
    let page = page(&all_rows());
    if std::env::var_os("FALLWRIGHT_BLESS").is_some() {
        std::fs::write(path, &page).expect("the page can be written");
    }
    let kept = std::fs::read_to_string(path).expect("docs/verification.md exists");
    assert!(
        kept == page,
        "docs/verification.md is out of date: run FALLWRIGHT_BLESS=1 cargo test verification_page"
    );
}
