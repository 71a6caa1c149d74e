//! Tables with aligned columns that fit the page: words wrap within their cell, numbers never do.

use super::wrap::{letters, wrap};
use super::{TextReader, WIDTH};
use crate::units::{Quantity, Unit, unit_for};

/// Width of the space before the first column and between columns.
pub(super) const GAP: usize = 2;
/// Smallest width that a column of words is reduced to.
const LEAST_WIDTH: usize = 10;

/// Displayed where there is no number.
const NONE: &str = "–";

/// Alignment of a column.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Alignment {
    /// Words: left-aligned, wrapped where the page is too narrow.
    Words,
    /// Numbers: right-aligned.
    Numbers,
}

/// One column: its heading, the unit below it (may be empty) and its cells.
pub(super) struct Column {
    pub heading: String,
    pub unit: String,
    pub set: Alignment,
    pub cells: Vec<String>,
}

impl Column {
    /// A column of words.
    pub fn words(heading: &str, cells: Vec<String>) -> Column {
        Column {
            heading: heading.to_owned(),
            unit: String::new(),
            set: Alignment::Words,
            cells,
        }
    }

    /// A column of numbers in `unit`.
    pub fn numbers(heading: &str, unit: &str, cells: Vec<String>) -> Column {
        Column {
            heading: heading.to_owned(),
            unit: unit.to_owned(),
            set: Alignment::Numbers,
            cells,
        }
    }

    /// A column of values (SI) in one unit, with a dash for missing values.
    pub fn in_unit(heading: &str, unit: Unit, values: Vec<Option<f64>>) -> Column {
        let cells = values.into_iter();
        let cells = cells.map(|value| value.map_or(NONE.to_owned(), |value| unit.number(value)));
        Column::numbers(heading, unit.symbol, cells.collect())
    }

    /// Width without wrapping, characters.
    pub fn width(&self) -> usize {
        let cells = self.cells.iter().map(|cell| letters(cell));
        let most = cells.max().unwrap_or(0);
        most.max(letters(&self.heading)).max(letters(&self.unit))
    }

    /// Pads `text` to `width`, on the side that the alignment leaves free.
    fn pad(&self, text: &str, width: usize) -> String {
        let blank = " ".repeat(width.saturating_sub(letters(text)));
        match self.set {
            Alignment::Words => format!("{text}{blank}"),
            Alignment::Numbers => format!("{blank}{text}"),
        }
    }
}

/// The unit that suits the largest of `values`.
pub(super) fn shared(
    reader: &TextReader,
    quantity: Quantity,
    values: impl Iterator<Item = f64>,
) -> Unit {
    let finite = values.filter(|value| value.is_finite());
    let largest = finite.fold(0.0_f64, |most, value| most.max(value.abs()));
    unit_for(quantity, largest, reader.system)
}

/// A column of values (SI) in the unit that suits the largest.
pub(super) fn measured(
    reader: &TextReader,
    (heading, quantity): (&str, Quantity),
    values: Vec<Option<f64>>,
) -> Column {
    let unit = shared(reader, quantity, values.iter().flatten().copied());
    Column::in_unit(heading, unit, values)
}

/// Returns the lines of a table: headings, units if any, rows.
pub(super) fn table(columns: &[Column]) -> Vec<String> {
    let widths = fit(columns);
    let headings: Vec<&str> = columns.iter().map(|one| one.heading.as_str()).collect();
    let units: Vec<&str> = columns.iter().map(|one| one.unit.as_str()).collect();
    let mut lines = Vec::new();
    for head in [headings, units] {
        if head.iter().any(|text| !text.is_empty()) {
            lines.extend(row(columns, &widths, &head));
        }
    }
    let count = columns.iter().map(|one| one.cells.len()).max().unwrap_or(0);
    for index in 0..count {
        let cells = columns.iter().map(|one| one.cells.get(index));
        let cells: Vec<&str> = cells.map(|cell| cell.map_or("", String::as_str)).collect();
        lines.extend(row(columns, &widths, &cells));
    }
    lines
}

/// Column widths that keep the table on the page: the widest column of words shrinks first.
fn fit(columns: &[Column]) -> Vec<usize> {
    let mut widths: Vec<usize> = columns.iter().map(Column::width).collect();
    let room = WIDTH.saturating_sub(GAP * columns.len());
    while widths.iter().sum::<usize>() > room {
        let words = columns.iter().zip(widths.iter_mut());
        let words = words.filter(|(column, _)| column.set == Alignment::Words);
        match words.map(|(_, width)| width).max() {
            Some(width) if *width > LEAST_WIDTH => *width -= 1,
            _ => break,
        }
    }
    widths
}

/// One row, on as many lines as its longest wrapped cell needs.
fn row(columns: &[Column], widths: &[usize], cells: &[&str]) -> Vec<String> {
    let set = columns.iter().zip(widths).zip(cells);
    let cells: Vec<(&Column, usize, Vec<String>)> = set
        .map(|((column, width), text)| {
            let lines = match column.set {
                Alignment::Words => wrap(text, *width),
                Alignment::Numbers => vec![(*text).to_owned()],
            };
            (column, *width, lines)
        })
        .collect();
    let height = cells.iter().map(|(_, _, lines)| lines.len()).max();
    let line = |index: usize| {
        let mut text = String::new();
        for (column, width, lines) in &cells {
            let cell = lines.get(index).map_or("", String::as_str);
            text.push_str(&" ".repeat(GAP));
            text.push_str(&column.pad(cell, *width));
        }
        text.trim_end().to_owned()
    };
    (0..height.unwrap_or(0)).map(line).collect()
}
