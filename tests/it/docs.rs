//! The pages for readers: they lead somewhere, their pictures are there and small, a sentence has a line.

use fallwright::draw::page::shape::Ink;
use fallwright::draw::page::theme::{Colour, Theme, colour};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// The most that a picture may weigh, bytes: people fetch them with the page.
const HEAVIEST: u64 = 250_000;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn guide() -> Vec<PathBuf> {
    let files = fs::read_dir(root().join("docs/guide")).unwrap();
    let files = files.map(|file| file.unwrap().path());
    files
        .filter(|path| path.extension().is_some_and(|ending| ending == "md"))
        .collect()
}

fn pages() -> Vec<PathBuf> {
    let mut pages = guide();
    pages.extend(["README.md", "DEVELOPERS.md"].map(|name| root().join(name)));
    pages
}

/// Every page of `docs/`, and the two at the root.
fn all_pages() -> Vec<PathBuf> {
    let inside = walkdir::WalkDir::new(root().join("docs")).into_iter();
    let inside = inside.map(|entry| entry.unwrap().into_path());
    let mut pages: Vec<PathBuf> = inside
        .filter(|path| path.extension().is_some_and(|ending| ending == "md"))
        .collect();
    pages.extend(["README.md", "DEVELOPERS.md"].map(|name| root().join(name)));
    pages
}

fn text(page: &Path) -> String {
    fs::read_to_string(page).unwrap()
}

/// Where the links and pictures of a page lead, but for those to other places of the net.
fn leads_to(page: &Path) -> Vec<String> {
    let text = text(page);
    let parts = text.split("](").skip(1);
    let targets = parts.filter_map(|part| part.split_once(')').map(|(target, _)| target));
    targets
        .filter(|target| !target.contains("://"))
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_link_leads_to_a_file() {
    let mut seen = 0;
    for page in all_pages() {
        for target in leads_to(&page) {
            let file = target.split('#').next().unwrap();
            let path = page.parent().unwrap().join(file);
            assert!(path.exists(), "{}: no {target}", page.display());
            seen += 1;
        }
    }
    assert!(seen > 200, "{seen}");
}

/// A heading as the part of an address behind `#`.
fn anchor(heading: &str) -> String {
    let heading = heading.trim_start_matches('#').trim().to_lowercase();
    let kept = heading
        .chars()
        .filter(|c| c.is_alphanumeric() || " -".contains(*c));
    kept.map(|c| if c == ' ' { '-' } else { c }).collect()
}

#[test]
fn every_link_into_a_page_leads_to_a_heading() {
    let mut seen = 0;
    for page in all_pages() {
        for target in leads_to(&page) {
            let Some((file, place)) = target.split_once('#') else {
                continue;
            };
            let other = match file {
                "" => page.clone(),
                file => page.parent().unwrap().join(file),
            };
            let headings = text(&other);
            let mut headings = headings.lines().filter(|line| line.starts_with('#'));
            assert!(
                headings.any(|line| anchor(line) == place),
                "{}: no {target}",
                page.display()
            );
            seen += 1;
        }
    }
    assert!(seen > 3, "{seen}");
}

/// What stands on a page outside of code: names in the code may keep a word that pages have given up.
fn prose(page: &Path) -> String {
    let text = text(page);
    let outside = text.split("```").step_by(2);
    let lines = outside.flat_map(str::lines);
    let lines = lines.filter(|line| !line.starts_with("    ") && !line.starts_with('#'));
    let words = lines.map(|line| line.split('`').step_by(2).collect::<Vec<_>>().join(" "));
    words.collect::<Vec<_>>().join("\n").to_lowercase()
}

#[test]
fn pages_have_given_up_these_words() {
    let retired = [
        "drown",
        "gulp",
        "reckon",
        "stranded",
        "stuck",
        "clerk",
        "the books",
    ];
    for page in all_pages() {
        let name = page.file_name().unwrap().to_string_lossy().into_owned();
        // The glossary lists them, and the other page is made of rows of the tests.
        if ["glossary.md", "verification.md"].contains(&name.as_str()) {
            continue;
        }
        let prose = prose(&page)
            .replace("air-gap-drowned", "")
            .replace("drown a child", "");
        for word in retired {
            assert!(!prose.contains(word), "{}: {word}", page.display());
        }
    }
}

/// The rows of a table under a heading of the glossary.
fn glossary(heading: &str) -> Vec<Vec<String>> {
    let page = text(&root().join("docs/glossary.md"));
    let (_, rest) = page.split_once(&format!("{heading}\n")).unwrap();
    let lines = rest.lines().take_while(|line| !line.starts_with('#'));
    let rows = lines.filter(|line| line.starts_with("| "));
    rows.skip(1)
        .map(|row| {
            let cells = row.trim_matches('|').split(" | ");
            cells.map(|cell| cell.trim().to_owned()).collect()
        })
        .collect()
}

#[test]
fn the_glossary_is_whole_and_in_order() {
    for (heading, cells, least) in [
        ("## Trade", 4, 50),
        ("## Program", 2, 15),
        ("### Retired words", 2, 40),
    ] {
        let rows = glossary(heading);
        assert!(rows.len() >= least, "{heading}: {}", rows.len());
        for row in &rows {
            assert_eq!(row.len(), cells, "{row:?}");
            assert!(row.iter().all(|cell| !cell.is_empty()), "{row:?}");
        }
        let words: Vec<String> = rows.iter().map(|row| row[0].to_lowercase()).collect();
        for pair in words.windows(2) {
            assert!(pair[0] <= pair[1], "{heading}: {pair:?}");
        }
    }
    let symbols = glossary("## Hydraulics");
    assert!(symbols.len() > 40, "{}", symbols.len());
}

#[test]
fn the_index_of_the_guide_has_all_of_its_pages() {
    let index = root().join("docs/guide/index.md");
    let told: BTreeSet<String> = leads_to(&index)
        .into_iter()
        .filter(|target| !target.contains('/'))
        .collect();
    let there = guide().into_iter().filter(|page| *page != index);
    let there: BTreeSet<String> = there
        .map(|page| page.file_name().unwrap().to_string_lossy().into_owned())
        .collect();
    assert_eq!(told, there);
}

#[test]
fn a_sentence_has_its_own_line() {
    for page in guide() {
        let text = text(&page);
        for line in text.lines().filter(|line| !line.starts_with(['|', '>'])) {
            let ends = line.split(['.', '?', '!']).skip(1);
            let begins = ends.filter(|rest| {
                let mut letters = rest.chars();
                letters.next() == Some(' ') && letters.next().is_some_and(char::is_uppercase)
            });
            assert_eq!(begins.count(), 0, "{}: {line}", page.display());
        }
    }
}

#[test]
fn every_picture_is_shown_and_is_a_small_png() {
    let folder = root().join("docs/guide/pictures");
    let shown: BTreeSet<PathBuf> = pages()
        .iter()
        .flat_map(|page| {
            let folder = page.parent().unwrap().to_path_buf();
            leads_to(page).into_iter().map(move |to| folder.join(to))
        })
        .filter(|path| path.extension().is_some_and(|ending| ending == "png"))
        .map(|path| path.canonicalize().unwrap())
        .collect();
    let files = fs::read_dir(&folder).unwrap();
    let files = files.map(|file| file.unwrap().path().canonicalize().unwrap());
    let there: BTreeSet<PathBuf> = files
        .filter(|path| path.extension().is_some_and(|ending| ending == "png"))
        .collect();
    assert_eq!(shown, there);
    for path in there {
        let bytes = fs::read(&path).unwrap();
        assert!(
            bytes.starts_with(b"\x89PNG\r\n\x1a\n"),
            "{}",
            path.display()
        );
        let size = u64::try_from(bytes.len()).unwrap();
        assert!(size <= HEAVIEST, "{}: {size} bytes", path.display());
    }
}

#[test]
fn water_is_looked_for_in_the_colour_that_the_window_has_it_in() {
    let Colour(red, green, blue) = colour(Theme::Light, Ink::Water);
    let line = format!("water=\"#{red:02x}{green:02x}{blue:02x}\"");
    let script = text(&root().join(".ci/run"));
    assert!(script.lines().any(|one| one == line), "no {line}");
}
