//! Every broken file of `tests/bad/`, with exactly what is said of it.

use fallwright::file::read;
use std::path::{Path, PathBuf};

/// File, line (0: none), part (empty: none), words of what is wrong, words of what to do.
type Row = (
    &'static str,
    usize,
    &'static str,
    &'static str,
    &'static str,
);

#[rustfmt::skip] // one file to a line
const ROWS: [Row; 63] = [
    ("bore-zero", 57, "drain", "`pipe.own.bore_m` is 0 m", "from 0.0001 to 50 m"),
    ("blank", 0, "", "The file is empty", "fallwright: 1"),
    ("bracket-not-closed", 19, "bed", "A field, a word or a closing bracket is expected here", "commas and brackets"),
    ("bracket-too-many", 62, "", "Something follows the end of the layout", "closed too early"),
    ("colon-missing", 21, "bed", "A colon is missing here", "`field: value`"),
    ("comma-missing", 22, "bed", "A comma is missing before this", "Put a comma"),
    ("comment-not-closed", 16, "bed", "The comment that starts here has no end", "`*/`"),
    ("curve-falls-back", 41, "pump", "`curve.points.1.flow_m3_s` is 0 m³/s, not above the point before it", "rising flow"),
    ("cut-short", 55, "drain", "The file ends before its brackets are closed", "Take the whole file"),
    ("decimal-comma", 21, "bed", "A field, a word or a closing bracket is expected here", "decimals have a point"),
    ("empty", 0, "", "The file is empty", "fallwright: 1"),
    ("end-nowhere", 56, "drain", "`to.at` names \"smup\"", "Name a part that is in the layout"),
    ("entrance-along-the-run", 59, "drain", "`fittings.0.at_m` is given for an entrance or exit", "Leave the distance out"),
    ("fill-under-floor", 23, "bed", "`fill_m` is 0.4 m, below the floor at 0.9 m", "elevation above the datum"),
    ("filter-in-two-places", 59, "drain", "`equipment.0.at_m` and `near` are both given", "Keep the distance or the end"),
    ("given-twice", 23, "bed", "The field `rim_m` is given twice", "Keep one"),
    ("half-a-fitting", 51, "feed", "A comma is missing before this", "Put a comma"),
    ("hot-water", 4, "", "`water.temperature_c` is 60 °C", "from 0 to 40 °C"),
    ("id-empty", 54, "", "`id` is empty", "id of its own"),
    ("id-with-space", 54, "bed drain", "The id \"bed drain\" has a space", "in one word"),
    ("infinite", 56, "drain", "`to.opening.mouth.lip_m` is not a finite number", "from -20000 to 20000 m"),
    ("json-in-ron", 1, "", "This is JSON under another name", "`.json`"),
    ("last-bracket-missing", 60, "", "The file ends before its brackets are closed", "close what is open"),
    ("minus-one-fitting", 51, "feed", "`count` is not a whole number", "Write a whole number"),
    ("missing-curve", 37, "pump", "The field `curve` is missing", "Add `curve`"),
    ("missing-diameter", 9, "sump", "The field `diameter_m` is missing", "Add `diameter_m`"),
    ("missing-id", 14, "", "The field `id` is missing in number 2 of `vessels`", "Add `id`"),
    ("missing-rim", 14, "bed", "The field `rim_m` is missing", "Add `rim_m`"),
    ("nested-too-deeply", 3, "", "Brackets are nested too deeply", "not closed"),
    ("newer-version", 2, "", "The file is of version 2, and this program understands version 1", "a newer one"),
    ("no-fittings-of-a-kind", 51, "feed", "`fittings.0.count` is 0", "from 1 to 10000"),
    ("no-opening", 48, "feed", "`to` meets the vessel `bed` without an opening", "`opening: upstand(…)`"),
    ("no-title", 1, "", "The field `title` is missing", "Add `title`"),
    ("no-version", 1, "", "the key `fallwright` is missing", "`fallwright: 1`"),
    ("not-a-number", 22, "bed", "`rim_m` is not a finite number", "from -20000 to 20000 m"),
    ("number-in-quotes", 21, "bed", "`floor_m` is not a number", "without a unit"),
    ("number-with-unit", 21, "bed", "A comma is missing before this", "no unit behind a number"),
    ("one-point-curve", 39, "pump", "too few points: 1", "at least two points"),
    ("only-comment", 1, "", "the key `fallwright` is missing", "`fallwright: 1`"),
    ("opening-at-joint", 47, "feed", "`from` has an opening at the joint `tee`", "Take the opening out"),
    ("overflowing-number", 55, "drain", "`from.opening.upstand.crest_m` is not a finite number", "from -20000 to 20000 m"),
    ("plain-text", 1, "", "the key `fallwright` is missing", "`fallwright: 1`"),
    ("place-without-pipe", 57, "drain", "`valves.0.near` is given, and the run has no pipe", "give the run a pipe"),
    ("quote-not-closed", 24, "", "A comma is missing before this", "quotes at both ends"),
    ("rim-under-floor", 11, "sump", "`rim_m` is -0.7 m, not above the floor at 0 m", "Raise the rim"),
    ("same-id-twice", 46, "sump", "The id `sump` is used twice", "of its own"),
    ("several-faults", 10, "sump", "`floor_m` is 1e9 m", "and 4 more faults"),
    ("spills-to-joint", 24, "bed", "`spills_to` names `tee`", "a vessel or a fixed level"),
    ("table-not-rising", 19, "bed", "`shape.table.rows.1.depth_m` is 0 m", "rising depth"),
    ("title-without-quotes", 3, "", "`title` is not text in quotes", "Write text in quotes"),
    ("unknown-field-far", 22, "bed", "There is no field `colour` here", "Choose from `id`, `name`"),
    ("unknown-field", 22, "bed", "There is no field `rimm` here", "Did you mean `rim_m`?"),
    ("unknown-list", 27, "", "There is no field `joint` here", "Did you mean `joints`?"),
    ("unknown-opening", 55, "drain", "`standpipe` is not a word for this", "Choose from `upstand`"),
    ("unknown-role", 16, "bed", "`bde` is not a word for this", "Did you mean `bed`?"),
    ("unknown-setting", 4, "", "There is no field `temprature_c` here", "Did you mean `temperature_c`?"),
    ("unknown-shape", 9, "sump", "`rond` is not a word for this", "Did you mean `round`?"),
    ("valve-beyond-its-run", 59, "drain", "`valves.0.at_m` is 1.5 m, outside the run, which is 1 m long", "from 0 to 1 m"),
    ("vent-top-under-its-corner", 59, "drain", "`route.0.vent_top_m` is 0.7 m, under the corner at 0.8 m", "0.8 m or more"),
    ("vent-top-without-vent", 59, "drain", "`route.0.vent_top_m` is given, and there is no vent", "`vented: true`"),
    ("version-is-text", 2, "", "`\"one\"` is not a version", "understands version 1"),
    ("wrong-bracket", 59, "drain", "A field, a word or a closing bracket is expected here", "commas and brackets"),
    ("yes-for-true", 17, "bed", "`already_built` is not `true` or `false`", "Write `true` or `false`"),
];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/bad")
}

#[test]
fn every_broken_file_is_told_by_line_part_and_cure() {
    for (name, line, part, what, cure) in ROWS {
        let path = folder().join(name).with_extension("ron");
        let error = read(&path).expect_err(name);
        let told = format!("{name}: {error}");
        assert_eq!(error.place.line.unwrap_or_default(), line, "{told}");
        assert_eq!(error.part.as_deref().unwrap_or_default(), part, "{told}");
        assert!(error.what.contains(what), "{told}");
        assert!(error.cure.contains(cure), "{told}");
        assert_eq!(error.place.file.as_deref(), Some(path.as_path()));
    }
}

#[test]
fn every_error_is_one_line_that_says_what_where_and_what_to_do() {
    for (name, line, part, _, _) in ROWS {
        let path = folder().join(name).with_extension("ron");
        let error = read(&path).expect_err(name);
        let told = error.to_string();
        assert!(!told.contains(char::is_control), "{told:?}");
        assert!(told.contains(name) && told.contains(&error.what) && told.ends_with(&error.cure));
        let begins = |text: &str| text.starts_with(|c: char| c.is_uppercase() || c == '`');
        assert!(begins(&error.what) && begins(&error.cure), "{told}");
        if line > 0 {
            assert!(told.contains(&format!("line {line}")), "{told}");
        }
        if !part.is_empty() {
            assert!(told.contains(&format!("part {part}")), "{told}");
        }
    }
}

#[test]
fn every_broken_file_is_in_the_table() {
    let files = std::fs::read_dir(folder()).unwrap();
    let mut found: Vec<String> = files
        .map(|entry| {
            entry
                .unwrap()
                .path()
                .file_stem()
                .unwrap()
                .to_str()
                .unwrap()
                .to_owned()
        })
        .collect();
    let mut told: Vec<&str> = ROWS.iter().map(|row| row.0).collect();
    found.sort_unstable();
    told.sort_unstable();
    assert_eq!(found, told);
}

#[test]
fn what_an_error_repeats_of_a_file_is_short_and_tame() {
    let text = format!("(fallwright: 1, title: \"\", {}: 1)", "x".repeat(100_000));
    let error = fallwright::file::parse(&text, fallwright::file::Format::Ron).unwrap_err();
    assert!(error.to_string().len() < 400, "{}", error.to_string().len());
    let text = "{\"fallwright\": 1, \"title\": \"\", \"a`, expected `b\\n\\u001b[2J\": 1}";
    let error = fallwright::file::parse(text, fallwright::file::Format::Json).unwrap_err();
    assert!(!error.to_string().contains(char::is_control), "{error:?}");
}
