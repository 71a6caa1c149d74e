//! Known layouts with some of their numbers changed and some of their fields taken from each other: nearer to what
//! people draw than layouts at random, and at places where those never are.

use crate::support::networks::Dice;
use fallwright::file::{Format, parse};
use fallwright::layout::Layout;
use std::ops::Range;
use std::path::Path;

/// The examples and the worked layouts, as they are written.
pub fn known() -> Vec<String> {
    let mut texts = Vec::new();
    for folder in [
        "examples",
        "tests/reference/layouts",
        "tests/reference/times",
        "tests/reference/peer/sample",
    ] {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let entries = std::fs::read_dir(&folder).unwrap();
        let mut files: Vec<_> = entries.map(|entry| entry.unwrap().path()).collect();
        files.retain(|file| file.extension().is_some_and(|extension| extension == "ron"));
        files.sort();
        assert!(!files.is_empty(), "nothing in {}", folder.display());
        texts.extend(
            files
                .iter()
                .map(|file| std::fs::read_to_string(file).unwrap()),
        );
    }
    texts
}

/// A layout of `texts` with one to eight of its numbers changed, and every other time one to four of its fields taken
/// from another; none where that is no layout any more.
pub fn shaken(seed: u64, texts: &[String]) -> Option<Layout> {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    let mut text = texts.get(dice.below(texts.len()))?.clone();
    if seed % 2 == 1 {
        for _ in 0..1 + dice.below(4) {
            graft(&mut text, texts.get(dice.below(texts.len()))?, &mut dice);
        }
    }
    for _ in 0..1 + dice.below(8) {
        shake(&mut text, &mut dice);
    }
    let layout = parse(&text, Format::Ron).ok()?;
    layout.faults().is_empty().then_some(layout)
}

fn shake(text: &mut String, dice: &mut Dice) {
    let places = numbers(text);
    let place = places[dice.below(places.len())].clone();
    let other = places[dice.below(places.len())].clone();
    let value = |place: Range<usize>| text[place].parse::<f64>().ok();
    let (Some(now), Some(other)) = (value(place.clone()), value(other)) else {
        return;
    };
    let next = match dice.below(8) {
        0 => now * dice.scale(0.01, 100.0),
        1 => 0.0,
        2 => now + dice.between(-1.0, 1.0),
        3 => now + dice.between(-0.05, 0.05),
        4 => -now,
        5 => now * dice.between(0.5, 2.0),
        6 => other,
        _ => now * dice.scale(1e-6, 1e6),
    };
    let is_whole = !text[place.clone()].contains('.');
    let next = match is_whole {
        true => format!("{next:.0}"),
        false => format!("{next:?}"),
    };
    text.replace_range(place, &next);
}

/// Gives a field of `text` what the same field holds somewhere in `other`.
fn graft(text: &mut String, other: &str, dice: &mut Dice) {
    let (mine, theirs) = (fields(text), fields(other));
    let (name, place) = &mine[dice.below(mine.len())];
    let same: Vec<_> = theirs.iter().filter(|(other, _)| other == name).collect();
    if !same.is_empty() {
        let (_, from) = same[dice.below(same.len())];
        text.replace_range(place.clone(), &other[from.clone()]);
    }
}

/// The text with everything in quotes and in comments blank, byte for byte.
fn bare(text: &str) -> String {
    let (mut quoted, mut noted, mut last) = (false, false, b' ');
    let bare = text.bytes().map(|byte| {
        match byte {
            b'\n' => noted = false,
            b'"' if !noted => quoted = !quoted,
            b'/' if last == b'/' && !quoted => noted = true,
            _ => {}
        }
        last = byte;
        if quoted || noted || byte == b'"' {
            b' '
        } else {
            byte
        }
    });
    String::from_utf8(bare.collect()).unwrap()
}

/// The fields: their names, and where their values stand.
fn fields(text: &str) -> Vec<(&str, Range<usize>)> {
    let mut list: Vec<(&str, Range<usize>)> = Vec::new();
    // Fields whose values have not ended, with how deep they began.
    let mut open: Vec<(usize, usize)> = Vec::new();
    let mut depth = 0;
    for (at, byte) in bare(text).bytes().enumerate() {
        match byte {
            b'(' | b'[' => depth += 1,
            b')' | b']' | b',' => {
                while let Some((field, _)) = open.pop_if(|(_, began)| *began >= depth) {
                    list[field].1.end = at;
                }
                depth -= usize::from(byte != b',').min(depth);
            }
            b':' => {
                let mut before = text[..at].rsplit(|c: char| !is_part(c));
                open.push((list.len(), depth));
                list.push((before.next().unwrap_or(""), at + 1..at + 1));
            }
            _ => {}
        }
    }
    list.retain(|(name, place)| !name.is_empty() && !place.is_empty());
    list
}

/// Where numbers stand.
fn numbers(text: &str) -> Vec<Range<usize>> {
    let bare = bare(text);
    let start = bare.as_ptr() as usize;
    let words = bare.split(|c| !is_part(c));
    let numbers = words.filter(|word| word.parse::<f64>().is_ok());
    let place = |word: &str| {
        let at = word.as_ptr() as usize - start;
        at..at + word.len()
    };
    numbers.map(place).collect()
}

/// Whether it is a part of a name or of a number.
fn is_part(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '_' | '.' | '-')
}

#[test]
fn fields_are_found_where_they_stand() {
    let text = "(a: 1, b: [(c: \"x: y\", d: up(e: 2)), (c: 3)], // f: 4\n g: h)";
    let found = fields(text).into_iter();
    let found: Vec<_> = found.map(|(name, at)| (name, text[at].trim())).collect();
    let list = "[(c: \"x: y\", d: up(e: 2)), (c: 3)]";
    let wanted = [
        ("a", "1"),
        ("b", list),
        ("c", "\"x: y\""),
        ("d", "up(e: 2)"),
        ("e", "2"),
        ("c", "3"),
        ("g", "h"),
    ];
    assert_eq!(found, wanted);
}

#[test]
fn numbers_are_found_where_they_stand() {
    let text = "(a: -1.5, // no 7\n id: \"b-2 3\", c_2: [4, 5e-3],\n)";
    let found: Vec<&str> = numbers(text).into_iter().map(|at| &text[at]).collect();
    assert_eq!(found, ["-1.5", "4", "5e-3"]);
}
