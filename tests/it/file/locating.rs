//! A fault is told at the line of its field, in either format.

use super::everything::everything;
use fallwright::file::{Format, parse, to_text};

/// Every number of `text` behind a field name, with its line: where it stands and how long it is.
fn numbers(text: &str) -> Vec<(usize, usize, usize)> {
    let mut found = Vec::new();
    for (at, _) in text.match_indices(": ") {
        let start = at + 2;
        let rest = &text[start..];
        let length = rest.find([',', '}', ')', '\n']).unwrap_or(rest.len());
        let is_version = text[..at].trim_end_matches('"').ends_with("fallwright");
        if rest[..length].parse::<f64>().is_ok() && !is_version {
            let line = 1 + text[..start].matches('\n').count();
            found.push((start, length, line));
        }
    }
    found
}

fn check_all(format: Format, replacement: &str) {
    let text = to_text(&everything(), format).unwrap();
    let numbers = numbers(&text);
    assert!(numbers.len() > 200, "{}", numbers.len());
    for (start, length, line) in numbers {
        let mut broken = text.clone();
        broken.replace_range(start..start + length, replacement);
        let field = &text[text[..start - 2].rfind([' ', '(', '{']).unwrap()..start];
        let error = parse(&broken, format).expect_err(field);
        let whole = format!("{field}: {error}");
        assert_eq!(error.place.line, Some(line), "{whole}");
        let named = field.trim_matches([' ', '(', '{', ':', '"']);
        assert!(error.what.contains(named), "{whole}");
        let parts = text.find("vessels").unwrap()..text.find("underlay").unwrap();
        let in_parts = parts.contains(&start);
        assert_eq!(error.part.is_some(), in_parts, "{whole}");
    }
}

#[test]
fn every_number_that_is_not_a_number_is_told_at_its_line() {
    for replacement in ["NaN", "inf", "-inf"] {
        check_all(Format::Ron, replacement);
    }
}

#[test]
fn every_number_that_is_far_outside_is_told_at_its_line() {
    check_all(Format::Ron, "-1e300");
    check_all(Format::Json, "-1e300");
}

#[test]
fn every_number_that_is_text_is_told_at_its_line() {
    check_all(Format::Ron, "\"ten\"");
    check_all(Format::Json, "\"ten\"");
}

#[test]
fn the_second_of_two_parts_with_one_id_is_told() {
    let text = "(fallwright: 1, title: \"\", joints: [\n(id: \"a\", elevation_m: 1),\n\
                (id: \"b\", elevation_m: 1),\n(id: \"a\", elevation_m: 1)])";
    let error = parse(text, Format::Ron).unwrap_err();
    assert_eq!(error.place.line, Some(4), "{error}");
    assert_eq!(error.part.as_deref(), Some("a"));
}

#[test]
fn ids_in_other_spellings_are_found() {
    for id in ["r\"a\"", "r#\"a\"#", "\"\\u{61}\"", "/* id: \"x\" */ \"a\""] {
        let text = format!(
            "(fallwright: 1, title: \"id: \\\"a\\\"\", // id: \"a\"\n joints: [(\n id: {id},\n elevation_m: NaN)])"
        );
        let error = parse(&text, Format::Ron).unwrap_err();
        assert_eq!(error.place.line, Some(4), "{id}: {error}");
        assert_eq!(error.part.as_deref(), Some("a"));
    }
    let text = "{\"fallwright\": 1, \"title\": \"\", \"joints\": [\n{\"elevation_m\": 1e9,\n\"id\": \"\\u0061\"}]}";
    let error = parse(text, Format::Json).unwrap_err();
    assert_eq!(
        (error.place.line, error.part.as_deref()),
        (Some(2), Some("a"))
    );
}

#[test]
fn a_field_left_to_its_default_is_told_at_the_nearest_thing_that_is_there() {
    let text = "(fallwright: 1, title: \"\",\nvessels: [\n(\nid: \"a\", shape: round(diameter_m: 1), floor_m: 0, rim_m: 1, fill_m: 0)],\n\
                joints: [(id: \"j\", elevation_m: 0)],\nruns: [(id: \"r\",\nfrom: (at: \"j\"),\nto: (at: \"a\"),\npipe: own(bore_m: 1))])";
    let error = parse(text, Format::Ron).unwrap_err();
    assert!(error.what.contains("without an opening"), "{error}");
    assert_eq!(
        (error.place.line, error.part.as_deref()),
        (Some(8), Some("r"))
    );
}

#[test]
fn columns_count_characters() {
    let text = "(fallwright: 1, title: \"üü\", joints: [(id: \"é\", elevation_m: x)])";
    let error = parse(text, Format::Ron).unwrap_err();
    let before = text.split("x)").next().unwrap();
    assert_eq!(
        error.place.column,
        Some(before.chars().count() + 1),
        "{error}"
    );
    let json =
        "{\"fallwright\": 1, \"title\": \"üü\", \"joints\": [{\"id\": \"é\", \"elevation_m\": x}]}";
    let error = parse(json, Format::Json).unwrap_err();
    let before = json.split("x}").next().unwrap();
    assert_eq!(
        error.place.column,
        Some(before.chars().count() + 1),
        "{error}"
    );
}
