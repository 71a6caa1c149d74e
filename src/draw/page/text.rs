//! Widths of text in the fonts that every drawing uses.
//!
//! The fonts are compiled in, so that a drawing is the same on every machine. A width is the sum of the advances of the
//! characters, without kerning, and drawings turn kerning off for their readers.

use super::shape::{Anchor, Rect, Text, Weight};
use std::borrow::Cow;
use std::sync::OnceLock;
use ttf_parser::Face;

/// Family name of the fonts.
pub const FAMILY: &str = "Fallwright Sans";

/// Ascent from the baseline that no character exceeds, em: `hhea` of both fonts, 2728 of 2816 units.
const ASCENT_EM: f64 = 0.96875;
/// Descent from the baseline that no character exceeds, em: 680 of 2816 units.
const DESCENT_EM: f64 = 0.241_477;
/// Height of capitals and figures, em: 2048 of 2816 units.
const CAP_HEIGHT_EM: f64 = 0.727_273;
/// Advance assumed for a character that the fonts lack, em: about the width of a capital.
const UNKNOWN_EM: f64 = 0.6;

/// Characters below this are looked up in a table: Basic Latin, Latin-1 and Latin Extended-A.
const TABLED: usize = 0x180;

/// Ends a text that was shortened.
const CUT: char = '…';

/// Returns the font of this weight, an OpenType file.
pub fn font(weight: Weight) -> &'static [u8] {
    match weight {
        Weight::Regular => include_bytes!("../../../assets/fonts/sans-regular.otf"),
        Weight::Strong => include_bytes!("../../../assets/fonts/sans-semibold.otf"),
    }
}

/// Advances of the characters of one font.
struct Metrics {
    table: [f64; TABLED],
    face: Option<Face<'static>>,
}

impl Metrics {
    fn new(weight: Weight) -> Metrics {
        let face = Face::parse(font(weight), 0).ok();
        let table = std::array::from_fn(|code| {
            let letter = u32::try_from(code).ok().and_then(char::from_u32);
            letter.map_or(UNKNOWN_EM, |letter| looked_up(face.as_ref(), letter))
        });
        Metrics { table, face }
    }

    fn advance_em(&self, letter: char) -> f64 {
        match self.table.get(letter as usize) {
            Some(advance) => *advance,
            None => looked_up(self.face.as_ref(), letter),
        }
    }
}

fn looked_up(face: Option<&Face<'_>>, letter: char) -> f64 {
    let advance = face.and_then(|face| {
        let advance = face.glyph_hor_advance(face.glyph_index(letter)?)?;
        Some(f64::from(advance) / f64::from(face.units_per_em()))
    });
    advance.unwrap_or(UNKNOWN_EM)
}

fn metrics(weight: Weight) -> &'static Metrics {
    static REGULAR: OnceLock<Metrics> = OnceLock::new();
    static STRONG: OnceLock<Metrics> = OnceLock::new();
    let slot = match weight {
        Weight::Regular => &REGULAR,
        Weight::Strong => &STRONG,
    };
    slot.get_or_init(|| Metrics::new(weight))
}

/// Returns the width of `words` at `size` points to the em, points. A character that the fonts lack counts 0.6 em.
pub fn width(words: &str, size: f64, weight: Weight) -> f64 {
    let metrics = metrics(weight);
    let ems: f64 = words.chars().map(|letter| metrics.advance_em(letter)).sum();
    ems * size
}

/// Returns the text with a capital first letter.
pub fn begun(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// Returns the ascent from the baseline that no character exceeds, points.
pub fn ascent(size: f64) -> f64 {
    ASCENT_EM * size
}

/// Returns the descent from the baseline that no character exceeds, points.
pub fn descent(size: f64) -> f64 {
    DESCENT_EM * size
}

/// Returns the height of capitals and figures above the baseline, points.
pub fn cap_height(size: f64) -> f64 {
    CAP_HEIGHT_EM * size
}

/// Returns the distance between baselines in a block of text, points: lines touch and do not overlap.
pub fn line_height(size: f64) -> f64 {
    ascent(size) + descent(size)
}

/// Returns the bounding rectangle of a line of text: its advances across, ascent to descent.
pub fn bounds(text: &Text) -> Rect {
    let width = width(&text.words, text.size, text.weight);
    let left = match text.anchor {
        Anchor::Start => text.at.x,
        Anchor::Middle => text.at.x - width / 2.0,
        Anchor::End => text.at.x - width,
    };
    Rect {
        left,
        top: text.at.y - ascent(text.size),
        right: left + width,
        bottom: text.at.y + descent(text.size),
    }
}

/// Returns `words` if they are at most `most` points wide, else the longest beginning that fits with "…" after it;
/// empty if not even that fits.
pub fn fit(words: &str, size: f64, weight: Weight, most: f64) -> Cow<'_, str> {
    if width(words, size, weight) <= most {
        return Cow::Borrowed(words);
    }
    let mut end = fitting(
        words,
        size,
        weight,
        most - metrics(weight).advance_em(CUT) * size,
    );
    loop {
        let kept = words.get(..end).unwrap_or_default().trim_end();
        let short = format!("{kept}{CUT}");
        // Sums of many advances are rounded, so the result is checked as `width` computes it.
        if width(&short, size, weight) <= most {
            return Cow::Owned(short);
        }
        match kept.char_indices().next_back() {
            Some((last, _)) => end = last,
            None => return Cow::Borrowed(""),
        }
    }
}

/// Breaks `words` at white space into lines of at most `most` points; a word wider than a line is broken between
/// characters, and a line has at least one character. No lines for an empty text.
pub fn wrap(words: &str, size: f64, weight: Weight, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match (longer, lines.last_mut()) {
            (Some(longer), Some(line)) if width(&longer, size, weight) <= most => *line = longer,
            _ => lines.extend(pieces(word, size, weight, most)),
        }
    }
    lines
}

/// Breaks a word into pieces of at most `most` points and at least one character.
fn pieces(word: &str, size: f64, weight: Weight, most: f64) -> Vec<String> {
    let mut pieces = Vec::new();
    let mut rest = word;
    while let Some(first) = rest.chars().next() {
        let end = fitting(rest, size, weight, most).max(first.len_utf8());
        let (piece, after) = rest.split_at(end);
        pieces.push(piece.to_owned());
        rest = after;
    }
    pieces
}

/// Returns how many bytes of `words` fit into `most` points, at a character boundary.
fn fitting(words: &str, size: f64, weight: Weight, most: f64) -> usize {
    let metrics = metrics(weight);
    let mut ems = 0.0;
    for (start, letter) in words.char_indices() {
        // Summed as in `width`, so that both round alike.
        ems += metrics.advance_em(letter);
        // Nothing fits into a width that is NaN.
        if ems * size > most || most.is_nan() {
            return start;
        }
    }
    words.len()
}
