//! Splits text into lines and cells.

/// A line that is not empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct TextLine {
    /// Counted from 1, as an editor shows it.
    pub number: usize,
    pub cells: Vec<String>,
}

/// The separator of cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Separator {
    Semicolon,
    Tab,
    Comma,
    /// Columns of copied text: two or more blanks.
    Blanks,
}

/// The lines of a text, and the separator of their cells. Empty lines and lines that begin with `#` are skipped.
pub(super) fn lines(text: &str) -> (Separator, Vec<TextLine>) {
    let text = text.trim_start_matches('\u{feff}');
    let kept: Vec<(usize, &str)> = text
        .lines()
        .enumerate()
        .map(|(at, line)| (at + 1, line.trim_end()))
        .filter(|(_, line)| !line.trim().is_empty() && !line.trim_start().starts_with('#'))
        .collect();
    let separator = separator(&kept);
    let cut = |(number, line): (usize, &str)| TextLine {
        number,
        cells: cells(line, separator),
    };
    (separator, kept.into_iter().map(cut).collect())
}

/// Returns the separator: a semicolon if there is any, else a tab, else a comma, else blanks.
fn separator(lines: &[(usize, &str)]) -> Separator {
    let any = |sign: char| lines.iter().any(|(_, line)| line.contains(sign));
    if any(';') {
        Separator::Semicolon
    } else if any('\t') {
        Separator::Tab
    } else if any(',') {
        Separator::Comma
    } else {
        Separator::Blanks
    }
}

fn cells(line: &str, separator: Separator) -> Vec<String> {
    let sign = match separator {
        Separator::Semicolon => ';',
        Separator::Tab => '\t',
        Separator::Comma => ',',
        Separator::Blanks => {
            let mut cells: Vec<String> = line.split("  ").map(plain).collect();
            cells.retain(|cell| !cell.is_empty());
            // Two bare numbers with one blank between.
            return match cells.as_slice() {
                [one] => one.split(' ').map(plain).collect(),
                _ => cells,
            };
        }
    };
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            // An inch mark follows a digit; a quote begins or ends a cell.
            '"' if quoted || cells.last().is_some_and(|cell| cell.trim().is_empty()) => {
                quoted = !quoted;
            }
            _ if letter == sign && !quoted => cells.push(String::new()),
            _ => {
                if let Some(cell) = cells.last_mut() {
                    cell.push(letter);
                }
            }
        }
    }
    cells.iter().map(|cell| plain(cell)).collect()
}

fn plain(cell: &str) -> String {
    cell.trim().to_owned()
}
