//! Known layouts with some of their numbers changed: nearer to what people draw than layouts at random, and at places
//! where those never are.

use crate::support::networks::Dice;
use fallwright::file::{Format, parse};
use fallwright::layout::Layout;
use std::ops::Range;

/// A layout of `texts` with one to eight of its numbers changed; none where that is no layout any more.
pub fn shaken(seed: u64, texts: &[String]) -> Option<Layout> {
    let mut dice = Dice(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    let mut text = texts.get(dice.below(texts.len()))?.clone();
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

/// Where numbers stand that are neither in quotes nor in a comment nor part of a word.
fn numbers(text: &str) -> Vec<Range<usize>> {
    let mut list = Vec::new();
    let mut from = 0;
    for line in text.split_inclusive('\n') {
        let code = line.split("//").next().unwrap_or(line);
        // Every second piece stands in quotes.
        for (index, piece) in code.split('"').enumerate() {
            if index % 2 == 0 {
                list.extend(in_piece(piece).map(|at| from + at.start..from + at.end));
            }
            from += piece.len() + 1;
        }
        from = from - code.len() - 1 + line.len();
    }
    list
}

fn in_piece(piece: &str) -> impl Iterator<Item = Range<usize>> + '_ {
    let is_part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '_' | '.' | '-');
    let words = piece.split(move |c| !is_part(c));
    let start = piece.as_ptr() as usize;
    let at = move |word: &str| word.as_ptr() as usize - start;
    let numbers = words.filter(|word| word.parse::<f64>().is_ok());
    numbers.map(move |word| at(word)..at(word) + word.len())
}

#[test]
fn numbers_are_found_where_they_stand() {
    let text = "(a: -1.5, // no 7\n id: \"b-2 3\", c_2: [4, 5e-3],\n)";
    let found: Vec<&str> = numbers(text).into_iter().map(|at| &text[at]).collect();
    assert_eq!(found, ["-1.5", "4", "5e-3"]);
}
