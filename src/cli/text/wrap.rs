//! Lines of a given width.

/// `text` on one line: control characters (which could move the cursor) and runs of white space become single spaces.
pub fn one_line(text: &str) -> String {
    printable(text)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// `text` with a space for every character that could steer a terminal; spaces stay as many as they are.
pub fn printable(text: &str) -> String {
    text.replace(steers, " ")
}

/// A control character, or a mark that turns the direction of writing and with it the order of what is shown.
pub fn steers(letter: char) -> bool {
    const MARKS: [std::ops::RangeInclusive<char>; 4] = [
        '\u{61c}'..='\u{61c}',
        '\u{200e}'..='\u{200f}',
        '\u{202a}'..='\u{202e}',
        '\u{2066}'..='\u{2069}',
    ];
    letter.is_control() || MARKS.iter().any(|marks| marks.contains(&letter))
}

/// The most letters of a word that a message repeats: whoever meets a longer one knows it by its beginning.
const MOST_REPEATED: usize = 80;

/// `text` with every longer word cut.
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

/// Words of `text` on lines of at most `width` letters (at least 1); a longer word is cut. Never empty.
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

/// How many columns `text` takes, near enough: one for each letter.
pub(super) fn letters(text: &str) -> usize {
    text.chars().count()
}
