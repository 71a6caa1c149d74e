//! `docs/verification.md`.

use super::{Kind, Row, all_rows, experiments};
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
         What the program computes, beside figures that did not come out of it.\n\
         This page is written by the tests from the same rows they check.\n\
         Inputs of each row are in `tests/reference/`.\n\
         Not all rows prove as much, so each says its kind:\n\n\
         | kind | checks | measurements | what stands behind the figure |\n\
         |---|---|---|---|\n",
    );
    let measured = experiments::kinds();
    for kind in Kind::ALL {
        let checks = rows.iter().filter(|row| row.kind == kind).count();
        let measured = measured.iter().filter(|one| **one == kind).count();
        let (word, proves) = (kind.word(), kind.proves());
        let _ = writeln!(text, "| {word} | {checks} | {measured} | {proves} |");
    }
    for (group, mut rows) in groups {
        rows.sort_by_key(|row| row.id);
        let _ = write!(
            text,
            "\n## {group} ({} checks)\n\n\
             | id | what | expected | computed | unit | allowed | source | kind | how known |\n\
             |---|---|---|---|---|---|---|---|---|\n",
            rows.len()
        );
        for row in rows {
            let _ = writeln!(
                text,
                "| {} | {} | {} | {} | {} | {} | {} | {} | {} |",
                row.id,
                row.what,
                row.expected,
                significant((row.got)()),
                row.unit,
                row.tolerance.text(),
                row.source,
                row.kind.word(),
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
