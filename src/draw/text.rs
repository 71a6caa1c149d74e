//! How wide words are, in the letters that every drawing is set in.
//!
//! The fonts are compiled in, so that a drawing is the same on every machine. A width is the sum of
//! the advances of the letters; pairs are not kerned, and drawings are written so that nobody else does.

use super::shape::{Anchor, Rect, Text, Weight};
use std::borrow::Cow;
use std::sync::OnceLock;
use ttf_parser::Face;

/// The name that the fonts carry.
pub const FAMILY: &str = "Fallwright Sans";

/// From the baseline up to where no letter reaches, em: `hhea` of both fonts, 2728 of 2816 units.
const ASCENT_EM: f64 = 0.96875;
/// From the baseline down to where no letter reaches, em: 680 of 2816 units.
const DESCENT_EM: f64 = 0.241_477;
/// Height of capitals and figures, em: 2048 of 2816 units.
const CAP_HEIGHT_EM: f64 = 0.727_273;
/// What a letter that the fonts lack is taken for, em: about the width of a capital.
const UNKNOWN_EM: f64 = 0.6;

/// Letters up to here are looked up in a table: Basic Latin, Latin-1 and Latin Extended-A.
const TABLED: usize = 0x180;

/// Ends words that were shortened.
const CUT: char = '…';

/// The font of this weight: an OpenType file.
pub fn font(weight: Weight) -> &'static [u8] {
    match weight {
        Weight::Regular => include_bytes!("../../assets/fonts/sans-regular.otf"),
        Weight::Strong => include_bytes!("../../assets/fonts/sans-semibold.otf"),
    }
}

/// The advances of one font.
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

/// How wide `words` are at `size` points to the em, points. A letter that the fonts lack counts 0.6 em.
pub fn width(words: &str, size: f64, weight: Weight) -> f64 {
    let metrics = metrics(weight);
    let ems: f64 = words.chars().map(|letter| metrics.advance_em(letter)).sum();
    ems * size
}

/// Words with a capital in front.
pub fn begun(words: &str) -> String {
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// From the baseline up to where no letter reaches, points.
pub fn ascent(size: f64) -> f64 {
    ASCENT_EM * size
}

/// From the baseline down to where no letter reaches, points.
pub fn descent(size: f64) -> f64 {
    DESCENT_EM * size
}

/// Height of capitals and figures above the baseline, points.
pub fn cap_height(size: f64) -> f64 {
    CAP_HEIGHT_EM * size
}

/// From one baseline to the next in a block of text, points: lines touch and do not overlap.
pub fn line_height(size: f64) -> f64 {
    ascent(size) + descent(size)
}

/// The rectangle that a line of text stays in: its advances across, ascent to descent.
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

/// `words` where they are at most `most` points wide; else as much of their beginning as fits with
/// "…" behind it, and nothing where not even that fits.
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
        // Sums of many advances round: what is returned must hold to the letter.
        if width(&short, size, weight) <= most {
            return Cow::Owned(short);
        }
        match kept.char_indices().next_back() {
            Some((last, _)) => end = last,
            None => return Cow::Borrowed(""),
        }
    }
}

/// `words` in lines of at most `most` points, broken at white space; a word that is wider than a line
/// is broken at letters, and a line holds at least one letter. No lines where there are no words.
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

/// A word in pieces of at most `most` points and at least one letter.
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

/// How many bytes of `words` fit into `most` points, at a border between letters.
fn fitting(words: &str, size: f64, weight: Weight, most: f64) -> usize {
    let metrics = metrics(weight);
    let mut ems = 0.0;
    for (start, letter) in words.char_indices() {
        // Summed as `width` does, so that both round alike.
        ems += metrics.advance_em(letter);
        // Nothing fits into a width that is no number.
        if ems * size > most || most.is_nan() {
            return start;
        }
    }
    words.len()
}
