//! Wraps and sanitises text.

/// Returns `text` on one line: control characters (which could move the cursor) and runs of white space become single
/// spaces.
pub fn one_line(text: &str) -> String {
    printable(text)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// Returns `text` with a space for every character that could control a terminal; other spaces are unchanged.
pub fn printable(text: &str) -> String {
    text.replace(steers, " ")
}

/// Returns whether this is a control character, or a bidirectional formatting character, which would change the display
/// order.
pub fn steers(letter: char) -> bool {
    const MARKS: [std::ops::RangeInclusive<char>; 4] = [
        '\u{61c}'..='\u{61c}',
        '\u{200e}'..='\u{200f}',
        '\u{202a}'..='\u{202e}',
        '\u{2066}'..='\u{2069}',
    ];
    letter.is_control() || MARKS.iter().any(|marks| marks.contains(&letter))
}

/// Longest word that a message quotes in full, characters: a longer one is recognised by its beginning.
const MOST_REPEATED: usize = 80;

/// Returns `text` with every longer word cut.
pub fn with_short_words(text: &str) -> String {
    let words = text.split(' ').map(|word| {
        if letters(word) <= MOST_REPEATED {
            return word.to_owned();
        }
        let mut short: String = word.chars().take(MOST_REPEATED - 1).collect();
        short.push('…');
        short
    });
    words.collect::<Vec<_>>().join(" ")
}

/// Wraps `text` at `width` characters (at least 1); a longer word is split. Never empty.
pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        for piece in pieces(word, width) {
            add(&mut lines, &piece, width);
        }
    }
    lines
}

fn add(lines: &mut Vec<String>, word: &str, width: usize) {
    match lines.last_mut() {
        Some(line) if line.is_empty() => line.push_str(word),
        Some(line) if letters(line) + 1 + letters(word) <= width => {
            line.push(' ');
            line.push_str(word);
        }
        _ => lines.push(word.to_owned()),
    }
}

fn pieces(word: &str, width: usize) -> Vec<String> {
    let all: Vec<char> = word.chars().collect();
    all.chunks(width)
        .map(|part| part.iter().collect())
        .collect()
}

/// Display width of `text`, approximated as one column per character.
pub(super) fn letters(text: &str) -> usize {
    text.chars().count()
}
