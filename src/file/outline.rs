//! Finds the positions of parts and fields in a text, valid or not.

use super::scan::{Token, TokenKind, Tokens, tokens};

/// One step of the path from an object to a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PathSegment<'t> {
    /// A field, or the name of a variant (`own` in `own(bore_m: 0.05)` and `{"own": {"bore_m": 0.05}}`).
    Name(&'t str),
    /// An item of a list, counted from 0.
    Row(usize),
}

/// An open bracket.
struct OpenBracket {
    offset: usize,
    is_list: bool,
    /// Length of the path at the bracket.
    base: usize,
    row: usize,
    row_due: bool,
}

/// The tokens of a text with the path to each.
pub(super) struct Outline<'t> {
    tokens: Tokens<'t>,
    frames: Vec<OpenBracket>,
    path: Vec<PathSegment<'t>>,
    before: Option<Token<'t>>,
    mark: usize,
}

impl<'t> Outline<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Outline {
            tokens: tokens(text),
            frames: Vec::new(),
            path: Vec::new(),
            before: None,
            mark: 0,
        }
    }

    /// Number of brackets that are open after the last token.
    pub(super) fn depth(&self) -> usize {
        self.frames.len()
    }

    /// The path to the last token.
    pub(super) fn path(&self) -> &[PathSegment<'t>] {
        &self.path
    }

    /// The position of the last step of the path in the text.
    pub(super) fn mark(&self) -> usize {
        self.mark
    }

    /// Offsets of the open brackets, outermost first.
    pub(super) fn open(&self) -> impl DoubleEndedIterator<Item = usize> {
        self.frames.iter().map(|frame| frame.offset)
    }

    /// The field whose colon is `token`, the last token; none at any other token.
    pub(super) fn field(&self, token: Token) -> Option<&'t str> {
        match self.path.last() {
            Some(PathSegment::Name(name)) if token.kind == TokenKind::Colon => Some(name),
            _ => None,
        }
    }

    fn start_row(&mut self, token: Token<'t>) {
        if let Some(frame) = self.frames.last_mut()
            && frame.row_due
            && token.kind != TokenKind::Close
        {
            frame.row_due = false;
            self.path.push(PathSegment::Row(frame.row));
            self.mark = token.offset;
        }
    }

    fn open_bracket(&mut self, token: Token<'t>, bracket: u8) {
        if let Some(word) = self.before.filter(|before| is_kind_word(*before)) {
            self.path.push(PathSegment::Name(word.text));
            self.mark = word.offset;
        }
        self.frames.push(OpenBracket {
            offset: token.offset,
            is_list: bracket == b'[',
            base: self.path.len(),
            row: 0,
            row_due: bracket == b'[',
        });
    }

    fn end_of_field(&mut self) {
        let Some(frame) = self.frames.last_mut() else {
            self.path.clear();
            return;
        };
        self.path.truncate(frame.base);
        frame.row += 1;
        frame.row_due = frame.is_list;
    }

    fn name_field(&mut self) {
        let base = self.frames.last().map_or(0, |frame| frame.base);
        self.path.truncate(base);
        if let Some(name) = self.before {
            self.path.push(PathSegment::Name(bare(name.text)));
            self.mark = name.offset;
        }
    }
}

impl<'t> Iterator for Outline<'t> {
    type Item = Token<'t>;

    fn next(&mut self) -> Option<Token<'t>> {
        let token = self.tokens.next()?;
        self.start_row(token);
        match token.kind {
            TokenKind::Open(bracket) => self.open_bracket(token, bracket),
            TokenKind::Close => {
                if let Some(frame) = self.frames.pop() {
                    self.path.truncate(frame.base);
                }
            }
            TokenKind::Colon => self.name_field(),
            TokenKind::Comma => self.end_of_field(),
            TokenKind::Quoted | TokenKind::Word => {}
        }
        self.before = Some(token);
        Some(token)
    }
}

/// Variants are lower-case words; `Some` and the names of structs add nothing to a path.
fn is_kind_word(token: Token) -> bool {
    token.kind == TokenKind::Word && token.text.starts_with(|c: char| c.is_ascii_lowercase())
}

fn bare(name: &str) -> &str {
    name.trim_matches('"')
}

/// The content of a token in quotes.
fn unquote(token: Token) -> Option<String> {
    if token.kind != TokenKind::Quoted {
        return None;
    }
    let plain = token
        .text
        .strip_prefix('"')
        .and_then(|t| t.strip_suffix('"'));
    match plain {
        Some(plain) if !plain.contains('\\') => Some(plain.to_owned()),
        _ => serde_json::from_str(token.text)
            .ok()
            .or_else(|| ron::from_str(token.text).ok()),
    }
}

/// Every `id` of `text`, with the offset of the bracket that contains it.
fn ids(text: &str) -> impl Iterator<Item = (String, usize)> {
    let mut outline = Outline::new(text);
    std::iter::from_fn(move || {
        while let Some(token) = outline.next() {
            if outline.field(token) != Some("id") {
                continue;
            }
            let value = outline.next()?;
            if let (Some(id), Some(open)) = (unquote(value), outline.open().next_back()) {
                return Some((id, open));
            }
        }
        None
    })
}

/// The id of the object whose bracket is at `open`.
fn id_of(text: &str, open: usize) -> Option<String> {
    let mut outline = Outline::new(text.get(open..)?);
    while let Some(token) = outline.next() {
        if outline.depth() == 0 {
            return None;
        }
        if outline.depth() == 1 && outline.field(token) == Some("id") {
            return unquote(outline.next()?);
        }
    }
    None
}

/// The brackets around a byte of `text`, outermost first, and the path to it.
pub(super) fn around(text: &str, offset: usize) -> (Vec<usize>, Vec<PathSegment<'_>>) {
    let mut outline = Outline::new(text.get(..offset).unwrap_or(text));
    while outline.next().is_some() {}
    (outline.open().collect(), outline.path().to_vec())
}

/// The id of the innermost part around a byte of `text`.
pub(super) fn part_at(text: &str, offset: usize) -> Option<String> {
    let (open, _) = around(text, offset);
    open.into_iter().rev().find_map(|open| id_of(text, open))
}

/// The position of `field`: a dotted path from the `nth` part (from 0) with this id, or from the layout. Where the text
/// leaves the field to its default, the position of the last step of the path that is present.
pub(super) fn locate(text: &str, part: Option<(&str, usize)>, field: &str) -> Option<usize> {
    let start = match part {
        Some((id, nth)) => {
            let mut found = ids(text).filter(|(other, _)| other == id);
            found.nth(nth)?.1
        }
        None => 0,
    };
    let body = text.get(start..)?;
    let id_first = locate_in(body, "id").filter(|_| part.is_some());
    let found = locate_in(body, field).or(id_first);
    Some(start + found.unwrap_or_default())
}

fn locate_in(body: &str, field: &str) -> Option<usize> {
    let wanted: Vec<&str> = field.split('.').collect();
    let mut outline = Outline::new(body);
    let mut best = (0, None);
    while let Some(_token) = outline.next() {
        let path = outline.path();
        if path.len() > best.0 && leads_to(path, &wanted) {
            best = (path.len(), Some(outline.mark()));
        }
        if outline.depth() == 0 || best.0 == wanted.len() {
            break;
        }
    }
    best.1
}

fn leads_to(path: &[PathSegment], wanted: &[&str]) -> bool {
    path.len() <= wanted.len()
        && path.iter().zip(wanted).all(|(step, want)| match step {
            PathSegment::Name(name) => name == want,
            PathSegment::Row(row) => row.to_string() == **want,
        })
}
