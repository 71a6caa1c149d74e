//! Splits a layout file of either format into tokens, without interpreting them.
//!
//! The parsers stop at the first error and give its position, but not the part, and a parsed layout no longer knows its
//! lines. This module scans the same text again, valid or not, to find such positions. It does not recurse and never
//! fails.

/// The kind of a token.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum TokenKind {
    /// `(`, `[` or `{`.
    Open(u8),
    /// `)`, `]` or `}`.
    Close,
    /// `:`.
    Colon,
    /// `,`.
    Comma,
    /// Text in quotes, quotes included.
    Quoted,
    /// A name, a number or anything else.
    Word,
}

/// One token of a text.
#[derive(Clone, Copy, Debug)]
pub(super) struct Token<'t> {
    pub kind: TokenKind,
    /// Its text, unchanged.
    pub text: &'t str,
    /// Its byte offset in the text.
    pub offset: usize,
}

/// The tokens of a text.
pub(super) struct Tokens<'t> {
    text: &'t str,
    next: usize,
}

/// Returns the tokens of `text` in order, without comments and spaces.
pub(super) fn tokens(text: &str) -> Tokens<'_> {
    Tokens { text, next: 0 }
}

impl<'t> Iterator for Tokens<'t> {
    type Item = Token<'t>;

    fn next(&mut self) -> Option<Token<'t>> {
        self.skip_blank();
        let offset = self.next;
        let rest = self.text.get(offset..)?;
        let (kind, length) = match rest.bytes().next()? {
            open @ (b'(' | b'[' | b'{') => (TokenKind::Open(open), 1),
            b')' | b']' | b'}' => (TokenKind::Close, 1),
            b':' => (TokenKind::Colon, 1),
            b',' => (TokenKind::Comma, 1),
            b'"' => (TokenKind::Quoted, quoted_length(rest)),
            b'r' if raw_hashes(rest).is_some() => (TokenKind::Quoted, raw_length(rest)),
            b'\'' => (TokenKind::Word, character_length(rest)),
            _ => (TokenKind::Word, word_length(rest)),
        };
        self.next = offset + length;
        Some(Token {
            kind,
            text: rest.get(..length)?,
            offset,
        })
    }
}

impl Tokens<'_> {
    fn skip_blank(&mut self) {
        while let Some(rest) = self.text.get(self.next..) {
            let blank = rest.len() - rest.trim_start_matches(is_blank).len();
            let skipped = match note_length(rest) {
                _ if blank > 0 => blank,
                Some(length) => length,
                None => return,
            };
            self.next += skipped;
        }
    }
}

fn is_blank(c: char) -> bool {
    c.is_whitespace() || c == '\u{feff}'
}

/// The length of the comment (`// …` to the end of its line, or `/* … */`) that `rest` starts with, bytes.
pub(super) fn note_length(rest: &str) -> Option<usize> {
    if rest.starts_with("//") {
        Some(rest.find('\n').unwrap_or(rest.len()))
    } else if rest.starts_with("/*") {
        Some(block_comment_length(rest))
    } else {
        None
    }
}

/// Block comments nest.
fn block_comment_length(rest: &str) -> usize {
    let bytes = rest.as_bytes();
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(pair) = bytes.get(at..at + 2) {
        match pair {
            b"/*" => depth += 1,
            b"*/" => depth -= 1,
            _ => {
                at += 1;
                continue;
            }
        }
        at += 2;
        if depth == 0 {
            return at;
        }
    }
    bytes.len()
}

fn quoted_length(rest: &str) -> usize {
    let mut escaped = false;
    for (index, byte) in rest.bytes().enumerate().skip(1) {
        match byte {
            _ if escaped => escaped = false,
            b'\\' => escaped = true,
            b'"' => return index + 1,
            _ => {}
        }
    }
    rest.len()
}

/// Number of `#` between `r` and the quote of a raw string; none where `rest` does not start with one.
fn raw_hashes(rest: &str) -> Option<usize> {
    let behind = rest.strip_prefix('r')?;
    let opened = behind.trim_start_matches('#');
    opened
        .starts_with('"')
        .then_some(behind.len() - opened.len())
}

fn raw_length(rest: &str) -> usize {
    let hashes = raw_hashes(rest).unwrap_or_default();
    let start = hashes + 2;
    let end = format!("\"{}", "#".repeat(hashes));
    match rest.get(start..).and_then(|body| body.find(&end)) {
        Some(found) => start + found + end.len(),
        None => rest.len(),
    }
}

/// The length of a character in single quotes, scanned as one token so that `'"'` opens no string.
fn character_length(rest: &str) -> usize {
    let mut characters = rest.char_indices().skip(1);
    if let Some((_, '\\')) = characters.next() {
        characters.next();
    }
    match characters.next() {
        Some((index, '\'')) => index + 1,
        _ => 1,
    }
}

fn word_length(rest: &str) -> usize {
    let ends = |c: char| is_blank(c) || "()[]{}:,\"'/".contains(c);
    let mut characters = rest.char_indices();
    characters.next();
    characters
        .find(|(_, c)| ends(*c))
        .map_or(rest.len(), |(index, _)| index)
}

/// Returns the line and column (in characters) of a byte of `text`, both counted from 1.
pub(super) fn position(text: &str, offset: usize) -> (usize, usize) {
    let mut end = offset.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let before = text.get(..end).unwrap_or_default();
    let line = 1 + before.bytes().filter(|byte| *byte == b'\n').count();
    let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let column = 1 + before.get(line_start..).unwrap_or_default().chars().count();
    (line, column)
}

/// The byte offset of the start of a line, counted from 1; the end of the text where it has fewer lines.
pub(super) fn line_start(text: &str, line: usize) -> usize {
    let newlines = text.match_indices('\n').map(|(index, _)| index + 1);
    std::iter::once(0)
        .chain(newlines)
        .nth(line.saturating_sub(1))
        .unwrap_or(text.len())
}
