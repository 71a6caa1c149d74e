//! Parsing of nominal sizes, which can be written in many ways.

use super::pipe::Units;

/// Nominal size in thousandths of an inch or of a millimetre: whole numbers, so that two spellings compare exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SizeName {
    Inch(u32),
    Millimetre(u32),
}

const INCH_WORDS: [&str; 7] = ["inches", "inch", "in.", "in", "\"", "″", "''"];
const MILLIMETRE_WORDS: [&str; 2] = ["millimetres", "mm"];
/// Prefixes for an outside diameter. `DN` is not one: DN 50 is d 63.
const DIAMETER_MARKS: [&str; 3] = ["d", "ø", "⌀"];
const FRACTIONS: [(char, &str); 7] = [
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
];
const LARGEST: f64 = 10_000.0;

impl SizeName {
    /// Parses a size; a number without a unit has the unit `bare`.
    ///
    /// `None` if the text is not a positive length below 10 000, or names both units.
    pub(super) fn read(text: &str, bare: Units) -> Option<SizeName> {
        let text = text.trim().to_lowercase().replace(['”', '“'], "\"");
        let text = text.replace(['\u{a0}', '\u{2009}', '\u{202f}'], " ");
        if let Some(number) = without_end(&text, &INCH_WORDS) {
            return thousandths(number).map(SizeName::Inch);
        }
        let (marked, text) = without_mark(&text);
        let (named, number) = match without_end(text, &MILLIMETRE_WORDS) {
            Some(number) => (true, number),
            None => (false, text),
        };
        let value = thousandths(number)?;
        if marked || named || bare == Units::Metric {
            Some(SizeName::Millimetre(value))
        } else {
            Some(SizeName::Inch(value))
        }
    }

    /// Returns the nominal length in metres, for finding the nearest size, not for hydraulics.
    pub(super) fn nominal_m(self) -> f64 {
        match self {
            SizeName::Inch(thousandths) => f64::from(thousandths) * 25.4e-6,
            SizeName::Millimetre(thousandths) => f64::from(thousandths) * 1e-6,
        }
    }
}

fn without_end<'a>(text: &'a str, words: &[&str]) -> Option<&'a str> {
    words.iter().find_map(|word| text.strip_suffix(word))
}

fn without_mark(text: &str) -> (bool, &str) {
    DIAMETER_MARKS
        .iter()
        .find_map(|mark| text.strip_prefix(mark))
        .map_or((false, text), |rest| (true, rest))
}

/// Parses `2`, `1.5`, `1,5`, `1/2`, `1 1/2`, `1-1/2` or `1½` as thousandths.
fn thousandths(number: &str) -> Option<u32> {
    let mut plain = number.replace('⁄', "/").replace(',', ".");
    for (sign, words) in FRACTIONS {
        plain = plain.replace(sign, &format!(" {words}"));
    }
    let plain = plain.trim();
    if plain.starts_with('-') || plain.ends_with('-') {
        return None;
    }
    let mut parts = plain.split([' ', '-']).filter(|part| !part.is_empty());
    let first = parts.next()?;
    let value = match (parts.next(), parts.next()) {
        (None, _) => fraction(first).or_else(|| decimal(first))?,
        (Some(second), None) if first.bytes().all(|byte| byte.is_ascii_digit()) => {
            decimal(first)? + fraction(second)?
        }
        _ => return None,
    };
    let scaled = (value * 1000.0).round();
    // The range was checked, so the cast keeps the value.
    (value < LARGEST && scaled >= 1.0).then_some(scaled as u32)
}

fn fraction(text: &str) -> Option<f64> {
    let (top, bottom) = text.split_once('/')?;
    let (top, bottom): (u32, u32) = (top.parse().ok()?, bottom.parse().ok()?);
    (top < bottom).then(|| f64::from(top) / f64::from(bottom))
}

fn decimal(text: &str) -> Option<f64> {
    let plain = text
        .bytes()
        .all(|byte| byte.is_ascii_digit() || byte == b'.');
    if plain { text.parse().ok() } else { None }
}
