//! Normalises a typed text: one character each for blanks, quotes, fractions, powers and “per”.

use super::lexis::THIN;

/// Digits that stand for a raised figure after a unit of length: `m3/h`, `ft2`.
const RAISED: [(char, char); 2] = [('2', '²'), ('3', '³')];
/// Units of length that can be raised so.
const RAISABLE: [&str; 7] = ["m", "dm", "cm", "mm", "ft", "in", "yd"];

/// Normalises blanks, and writes `³` for `^3` and `m3`, `/` for “per”, ` 1/2` for `½`.
pub(super) fn tidy(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            // These are printed between thousands, so they are kept apart from blanks between words.
            '\u{2009}' | '\u{202f}' | '\u{a0}' | '\u{2007}' => plain.push(THIN),
            _ if letter.is_whitespace() => plain.push(' '),
            '−' | '–' | '‐' | '‑' | '﹣' | '－' => plain.push('-'),
            '’' | '‘' | '′' | '´' | '`' | '‛' => plain.push('\''),
            '”' | '“' | '″' | '„' | '‟' => plain.push('"'),
            '⁄' | '∕' => plain.push('/'),
            'º' | '˚' => plain.push('°'),
            '，' => plain.push(','),
            _ => match fraction(letter) {
                Some(words) => {
                    plain.push(' ');
                    plain.push_str(words);
                }
                None => plain.push(letter),
            },
        }
    }
    let plain = plain
        .trim()
        .replace("''", "\"")
        .replace(['₂'], "2")
        .replace("H2O", "water")
        .replace("h2o", "water");
    let plain = plain.replace("^2", "²").replace("^3", "³");
    let plain = plain
        .replace(" per ", "/")
        .replace(" an ", "/")
        .replace(" a ", "/");
    raised(&plain)
}

fn fraction(letter: char) -> Option<&'static str> {
    Some(match letter {
        '½' => "1/2",
        '¼' => "1/4",
        '¾' => "3/4",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅕' => "1/5",
        '⅖' => "2/5",
        '⅗' => "3/5",
        '⅘' => "4/5",
        '⅙' => "1/6",
        '⅚' => "5/6",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '⅒' => "1/10",
        _ => return None,
    })
}

/// Writes `m3` as `m³` where the unit ends after it; `4 ft3 in` stays feet and inches.
fn raised(text: &str) -> String {
    let letters: Vec<char> = text.chars().collect();
    let mut out = String::with_capacity(text.len());
    for (at, letter) in letters.iter().enumerate() {
        let sign = RAISED.iter().find(|(plain, _)| plain == letter);
        match sign {
            Some((_, raised)) if is_power(&letters, at) => out.push(*raised),
            _ => out.push(*letter),
        }
    }
    out
}

fn is_power(letters: &[char], at: usize) -> bool {
    let before = letters.get(..at).unwrap_or_default();
    let word: String = {
        let run = before
            .iter()
            .rev()
            .take_while(|letter| letter.is_alphabetic());
        let run: Vec<char> = run.copied().collect();
        run.iter().rev().collect()
    };
    let ends = letters.get(at + 1).is_none_or(|next| *next == '/');
    ends && RAISABLE.contains(&word.as_str())
}
