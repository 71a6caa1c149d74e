//! Breaks the single line that a serializer writes into lines that people can read and compare.
//!
//! One field per line in the layout and in each part; the value of a field stays on its line while it fits.

use super::Format;
use super::scan::{Token, TokenKind, tokens};

const WIDTH: usize = 100;
const INDENT: usize = 2;

struct Folder<'t> {
    compact: &'t str,
    format: Format,
    folded: String,
    column: usize,
    frames: Vec<FoldBracket>,
}

#[derive(Clone, Copy)]
struct FoldBracket {
    is_list: bool,
    broken: bool,
    indent: usize,
}

/// Returns `compact` with line breaks and spaces. Its tokens are unchanged, except for a comma after the last field of
/// a broken bracket where the format allows one.
pub(super) fn fold(compact: &str, format: Format) -> String {
    let mut folder = Folder {
        compact,
        format,
        folded: String::with_capacity(compact.len() * 3 / 2),
        column: 0,
        frames: Vec::new(),
    };
    let mut all = tokens(compact).peekable();
    let mut empty = false;
    while let Some(token) = all.next() {
        match token.kind {
            TokenKind::Open(bracket) => {
                let next = all.peek().map(|next| next.kind);
                empty = next == Some(TokenKind::Close);
                folder.open(token, bracket, next);
            }
            TokenKind::Close => folder.close(token, std::mem::take(&mut empty)),
            TokenKind::Colon => folder.write(": "),
            TokenKind::Comma => folder.comma(),
            TokenKind::Quoted | TokenKind::Word => folder.write(token.text),
        }
    }
    folder.folded.push('\n');
    folder.folded
}

impl Folder<'_> {
    fn write(&mut self, text: &str) {
        self.folded.push_str(text);
        self.column += text.chars().count();
    }

    fn new_line(&mut self, indent: usize) {
        self.folded.push('\n');
        self.folded.extend(std::iter::repeat_n(' ', indent));
        self.column = indent;
    }

    fn open(&mut self, token: Token, bracket: u8, next: Option<TokenKind>) {
        let around = self.frames.last().copied();
        let is_list = bracket == b'[';
        // A variant that contains only a list does not break itself; the list does.
        let hugs = bracket == b'(' && matches!(next, Some(TokenKind::Open(b'[')));
        let is_whole = self.frames.is_empty();
        let is_part_list = self.frames.len() == 1 && is_list;
        let is_part = self.frames.len() == 2 && around.is_some_and(|frame| frame.is_list);
        let always = is_whole || is_part_list || is_part;
        let empty = next == Some(TokenKind::Close);
        let broken = !empty && !hugs && (always || !self.fits(token));
        let outside = around.map_or(0, |frame| frame.indent);
        let indent = outside + if broken { INDENT } else { 0 };
        self.frames.push(FoldBracket {
            is_list,
            broken,
            indent,
        });
        self.write(token.text);
        if broken {
            self.new_line(indent);
        }
    }

    fn close(&mut self, token: Token, empty: bool) {
        let frame = self.frames.pop();
        if frame.is_some_and(|frame| frame.broken) && !empty {
            if self.format == Format::Ron {
                self.write(",");
            }
            self.new_line(self.frames.last().map_or(0, |frame| frame.indent));
        }
        self.write(token.text);
    }

    fn comma(&mut self) {
        match self.frames.last().copied() {
            Some(frame) if frame.broken => {
                self.write(",");
                self.new_line(frame.indent);
            }
            _ => self.write(", "),
        }
    }

    /// Whether the bracket at `token` fits on the line, with the comma after it.
    fn fits(&self, token: Token) -> bool {
        let rest = self.compact.get(token.offset..).unwrap_or_default();
        let mut depth = 0_usize;
        let mut column = self.column + 1;
        for inner in tokens(rest) {
            column += match inner.kind {
                TokenKind::Colon | TokenKind::Comma => 2,
                _ => inner.text.chars().take(WIDTH).count(),
            };
            if column > WIDTH {
                return false;
            }
            match inner.kind {
                TokenKind::Open(_) => depth += 1,
                TokenKind::Close if depth <= 1 => return true,
                TokenKind::Close => depth -= 1,
                _ => {}
            }
        }
        false
    }
}
