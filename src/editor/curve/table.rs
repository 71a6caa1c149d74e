//! Reads a table from a spreadsheet: columns of flow and head, in the units of its heading.

use super::heading::{Columns, at, heading};
use super::points::{self, PointColumn};
use super::separated::{self, Separator, TextLine};
use super::{CurveRefusal, DefaultUnits, InputPosition};
use crate::layout::CurveForm;

/// A table that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The curve.
    pub curve: CurveForm,
    /// The flow unit of the heading; none: numbers without a unit have the chosen one.
    pub flow_unit: Option<String>,
    /// The head unit of the heading.
    pub head_unit: Option<String>,
}

/// Reads a curve from text with one line per point, separated by semicolons, tabs, commas or blanks.
///
/// A first line without numbers is a heading: its words name the columns of flow (`flow`, `Q`) and head (`head`,
/// `H`), with units in brackets or after “in”. Without a heading, flow comes first, and numbers have the units of
/// `bare`. Decimal commas are read where commas do not separate.
///
/// # Errors
/// A line that cannot be read, or an impossible curve: with its line.
pub fn table(text: &str, bare: DefaultUnits<'_>) -> Result<Table, CurveRefusal> {
    let (separator, lines) = separated::lines(text);
    let Some((first, rest)) = lines.split_first() else {
        return Err(CurveRefusal::new(
            InputPosition::Whole,
            "The table is empty; paste lines of flow and head.",
        ));
    };
    let (columns, rows) = match heading(first)? {
        Some(columns) => (columns, rest),
        None => (
            Columns {
                head: 1,
                ..Columns::default()
            },
            lines.as_slice(),
        ),
    };
    let bare = DefaultUnits {
        flow: columns.flow_unit.as_deref().unwrap_or(bare.flow),
        head: columns.head_unit.as_deref().unwrap_or(bare.head),
        ..bare
    };
    let decimal_commas = separator != Separator::Comma && !text.contains('.');
    let mut found = Vec::new();
    for row in rows {
        let point = line(row, &columns, bare, decimal_commas)?;
        points::rises(found.last(), &point, bare).map_err(|why| at(row, why))?;
        found.push(point);
    }
    Ok(Table {
        curve: points::enough(found)?,
        flow_unit: columns.flow_unit,
        head_unit: columns.head_unit,
    })
}

fn line(
    row: &TextLine,
    columns: &Columns,
    bare: DefaultUnits<'_>,
    decimal_commas: bool,
) -> Result<crate::layout::CurvePoint, CurveRefusal> {
    let cells = row.cells.len();
    let wanted = columns.flow.max(columns.head) + 1;
    if cells < wanted {
        let why = format!("found {}; each line needs flow and head.", counted(cells));
        return Err(at(row, why));
    }
    if cells > 2 && wanted == 2 && !columns.told && !row.cells.iter().skip(2).all(String::is_empty)
    {
        let why = format!(
            "found {cells} numbers; each line needs flow and head. With decimal commas, separate by semicolons."
        );
        return Err(at(row, why));
    }
    let cell = |column: usize| -> String {
        let cell = row.cells.get(column).map_or("", String::as_str);
        // One comma is the decimal comma throughout, if the whole text has no decimal point.
        if decimal_commas && cell.matches(',').count() == 1 {
            cell.replace(',', ".")
        } else {
            cell.to_owned()
        }
    };
    let (flow, head) = (cell(columns.flow), cell(columns.head));
    points::point(&flow, &head, bare).map_err(|(column, why)| {
        let which = match column {
            PointColumn::Flow => "flow",
            PointColumn::Head => "head",
        };
        at(row, format!("{which}: {why}"))
    })
}

fn counted(cells: usize) -> String {
    match cells {
        1 => "one number".to_owned(),
        many => format!("{many} numbers"),
    }
}
