//! A table as text: in display units, and for a spreadsheet.

use super::{Cell, Column, Table};
use crate::units::convert::INCH_M;
use crate::units::{Quantity, UnitSystem};

/// Shown in an empty cell.
pub const NOTHING: &str = "–";

impl Table {
    /// A heading on the screen with its unit: `Level, mm`.
    pub fn heading(&self, column: usize, system: UnitSystem) -> String {
        let title = self.columns.get(column).map_or("", Column::heading);
        match self.unit(column, system) {
            Some(unit) if !unit.symbol.is_empty() => format!("{title}, {}", unit.symbol),
            _ => title.to_owned(),
        }
    }

    /// The table for a spreadsheet: headings with units, then the rows in this order, tabs between cells.
    ///
    /// Numbers have a decimal point, no thousands separator and nine figures; heights shown in feet and inches are
    /// written in inches. Unknown values are left empty.
    pub fn for_spreadsheet(&self, rows: &[usize], system: UnitSystem) -> String {
        let scales: Vec<Option<(f64, &str)>> = (0..self.columns.len())
            .map(|column| self.scale(column, system))
            .collect();
        let mut lines = Vec::with_capacity(rows.len() + 1);
        let headings = self
            .columns
            .iter()
            .zip(&scales)
            .map(|(column, scale)| match scale {
                Some((_, symbol)) if !symbol.is_empty() => format!("{}, {symbol}", column.title),
                _ => column.title.to_owned(),
            });
        lines.push(headings.collect::<Vec<_>>().join("\t"));
        for row in rows.iter().filter_map(|row| self.rows.get(*row)) {
            let cells = row
                .cells
                .iter()
                .zip(&scales)
                .map(|(cell, scale)| match (cell, scale) {
                    (Cell::Words(words), _) => plain(words),
                    (Cell::Number(value), Some((one_si, _))) => figures(value / one_si),
                    (Cell::Number(value), None) => figures(*value),
                    (Cell::Nothing, _) => String::new(),
                });
            lines.push(cells.collect::<Vec<_>>().join("\t"));
        }
        lines.push(String::new());
        lines.join("\n")
    }

    /// One unit of the column in SI, and its symbol.
    fn scale(&self, column: usize, system: UnitSystem) -> Option<(f64, &'static str)> {
        let quantity = self.columns.get(column)?.quantity?;
        if quantity == Quantity::Height && system == UnitSystem::Us {
            return Some((INCH_M, "in"));
        }
        let unit = self.unit(column, system)?;
        Some((unit.one_si(), unit.symbol))
    }
}

/// Escapes words so that they stay text: a spreadsheet reads a leading `=`, `+`, `-` or `@` as a formula.
fn plain(words: &str) -> String {
    let flat: String = words
        .chars()
        .map(|letter| if letter.is_control() { ' ' } else { letter })
        .collect();
    if flat.starts_with(['=', '+', '-', '@']) {
        format!("'{flat}")
    } else {
        flat
    }
}

/// Nine significant figures without trailing zeros.
fn figures(value: f64) -> String {
    let rounded: f64 = format!("{value:.8e}").parse().unwrap_or(value);
    format!("{}", rounded + 0.0)
}
