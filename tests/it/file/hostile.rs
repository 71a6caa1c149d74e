//! Text that nobody means: nothing panics, overflows the stack or takes for ever.

use super::{GOOD, good};
use fallwright::file::{Format, parse, to_text};
use proptest::prelude::*;

const BOTH: [Format; 2] = [Format::Ron, Format::Json];

#[test]
fn deep_nesting_is_told_and_not_followed() {
    let many = 100_000;
    let forms = [
        "(", "[", "{", "Some(", "[(", "{\"a\":", "x(", "(a:", "r#\"\"#(",
    ];
    for form in forms {
        let deep = form.repeat(many);
        for format in BOTH {
            assert!(parse(&deep, format).is_err());
        }
        let ron = format!("(fallwright: 1, title: {deep}");
        assert!(
            parse(&ron, Format::Ron)
                .unwrap_err()
                .what
                .contains("too deeply"),
            "{form}"
        );
        let ron = format!("(fallwright: 1, unknown: {deep}");
        assert!(
            parse(&ron, Format::Ron)
                .unwrap_err()
                .what
                .contains("too deeply"),
            "{form}"
        );
        let ron = format!("(fallwright: 1, title: \"\", vessels: [(id: \"a\", shape: {deep}");
        assert!(
            parse(&ron, Format::Ron)
                .unwrap_err()
                .what
                .contains("too deeply"),
            "{form}"
        );
    }
    let closed = format!("{}{}", "[".repeat(many), "]".repeat(many));
    let json = format!("{{\"fallwright\": 1, \"title\": {closed}}}");
    assert!(
        parse(&json, Format::Json)
            .unwrap_err()
            .what
            .contains("too deeply")
    );
    let json = format!(
        "{{\"fallwright\": 1, \"unknown\": {}",
        "{\"a\":".repeat(many)
    );
    assert!(
        parse(&json, Format::Json)
            .unwrap_err()
            .what
            .contains("too deeply")
    );
}

#[test]
fn brackets_in_comments_and_texts_are_not_nesting() {
    let many = "([{".repeat(300);
    let text = format!("(/* {many} /* {many} */ */ fallwright: 1, // {many}\n title: \"{many}\")");
    assert_eq!(parse(&text, Format::Ron).unwrap().title, many);
    let comments = "/*".repeat(100_000);
    assert!(parse(&format!("({comments}"), Format::Ron).is_err());
}

#[test]
fn bytes_that_a_scan_could_trip_over() {
    let pieces = [
        "'",
        "'\"'",
        "'\\''",
        "\"",
        "\"\\",
        "r\"",
        "r#\"",
        "r##",
        "/",
        "/*",
        "/*/",
        "//",
        "\\",
        "#",
        "#![enable(",
        "b'",
        "b\"",
        "\u{feff}",
        "ü",
        "\u{2028}",
        "0x",
        "1_",
        "..=",
        "-",
        ",",
        ":",
        "::",
        ")",
        "]",
        "}",
        "None",
        "Some",
        "\0",
    ];
    for format in BOTH {
        for first in pieces {
            for second in pieces {
                let _ = parse(&format!("{first}{second}"), format);
                let text = format!("(fallwright: 1, title: {first}{second}");
                assert!(parse(&text, format).is_err());
                let text = format!("{{\"fallwright\": 1, \"title\": {first}{second}");
                assert!(parse(&text, format).is_err());
            }
        }
    }
}

#[test]
fn line_ends_and_a_byte_order_mark_change_nothing() {
    let windows = GOOD.replace('\n', "\r\n");
    assert_eq!(parse(&windows, Format::Ron).unwrap(), good());
    let marked = format!("\u{feff}{GOOD}");
    assert_eq!(parse(&marked, Format::Ron).unwrap(), good());
    let json = to_text(&good(), Format::Json).unwrap();
    assert_eq!(
        parse(&format!("\u{feff}{json}"), Format::Json).unwrap(),
        good()
    );
    let broken = windows.replace("floor_m: 0.8", "floor_m: NaN");
    let plain = GOOD.replace("floor_m: 0.8", "floor_m: NaN");
    let lines = [broken, plain].map(|text| parse(&text, Format::Ron).unwrap_err().place.line);
    assert_eq!(lines[0], lines[1]);
    assert!(lines[0].is_some());
}

#[test]
fn a_file_cut_short_anywhere_is_an_error() {
    let texts = BOTH.map(|format| (format, to_text(&good(), format).unwrap()));
    for (format, text) in texts {
        let end = text.trim_end().len();
        for cut in (0..end).filter(|cut| text.is_char_boundary(*cut)) {
            let error = parse(&text[..cut], format).expect_err("cut short");
            let told =
                error.what.contains("ends before") || error.what.contains("has no end") || cut < 20;
            assert!(told, "cut at {cut} of {end}: {error}");
        }
    }
}

#[test]
fn twenty_megabytes_of_rubbish_end_soon() {
    let size = 20_000_000;
    let rubbish = ["x", "\"", "'", "/*", "\n", "(a:1),"];
    for piece in rubbish {
        let long = piece.repeat(size / piece.len());
        let text = format!("(fallwright: 1, title: \"\", joints: [{long}");
        assert!(parse(&text, Format::Ron).is_err(), "{piece}");
    }
    let text = format!("{{\"fallwright\": 1, \"title\": [{}", "1,".repeat(size / 2));
    assert!(parse(&text, Format::Json).is_err());
}

/// One change of the bytes of a file.
#[derive(Clone, Debug)]
enum Change {
    Delete(usize, usize),
    Double(usize, usize),
    Swap(usize, usize),
    Put(usize, u8),
}

fn change() -> impl Strategy<Value = Change> {
    let at = 0..20_000_usize;
    prop_oneof![
        (at.clone(), 1..40_usize).prop_map(|(at, length)| Change::Delete(at, length)),
        (at.clone(), 1..40_usize).prop_map(|(at, length)| Change::Double(at, length)),
        (at.clone(), at.clone()).prop_map(|(one, other)| Change::Swap(one, other)),
        (at, any::<u8>()).prop_map(|(at, byte)| Change::Put(at, byte)),
    ]
}

fn apply(bytes: &mut Vec<u8>, change: Change) {
    if bytes.is_empty() {
        return;
    }
    let size = bytes.len();
    match change {
        Change::Delete(at, length) => {
            let at = at % size;
            bytes.drain(at..(at + length).min(size));
        }
        Change::Double(at, length) => {
            let at = at % size;
            let piece = bytes[at..(at + length).min(size)].to_vec();
            bytes.splice(at..at, piece);
        }
        Change::Swap(one, other) => bytes.swap(one % size, other % size),
        Change::Put(at, byte) => bytes[at % size] = byte,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn prop_a_damaged_file_is_read_or_told(changes in prop::collection::vec(change(), 1..6)) {
        for format in BOTH {
            let mut bytes = to_text(&good(), format).unwrap().into_bytes();
            for change in changes.clone() {
                apply(&mut bytes, change);
            }
            let text = String::from_utf8_lossy(&bytes);
            match parse(&text, format) {
                Ok(layout) => prop_assert!(layout.faults().is_empty()),
                Err(error) => {
                    prop_assert!(!error.what.is_empty() && !error.cure.is_empty());
                    let lines = 1 + text.matches('\n').count();
                    prop_assert!(error.place.line.is_none_or(|line| (1..=lines).contains(&line)));
                }
            }
        }
    }
}
