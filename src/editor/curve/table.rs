//! A table from a spreadsheet: columns of flow and head, in whatever units its heading says.

use super::points::{self, Column};
use super::separated::{self, Line, Separator};
use super::{At, Bare, Refused};
use crate::layout::CurveForm;
use crate::units::{Quantity, read};

/// A table as it was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The curve.
    pub curve: CurveForm,
    /// The unit of flow that its heading says; none: bare numbers have the one that was chosen.
    pub flow_unit: Option<String>,
    /// The same of head.
    pub head_unit: Option<String>,
}

/// Words of a heading that say what a column holds, in small letters.
const FLOW_WORDS: [&str; 8] = [
    "flow",
    "q",
    "rate",
    "capacity",
    "discharge",
    "débit",
    "durchfluss",
    "caudal",
];
const HEAD_WORDS: [&str; 8] = [
    "head",
    "h",
    "tdh",
    "lift",
    "height",
    "pressure",
    "förderhöhe",
    "hauteur",
];

/// Where the two numbers stand in a line, and in which units.
#[derive(Clone, Debug, Default)]
struct Columns {
    /// They were told by a heading, so more columns may stand beside them.
    told: bool,
    flow: usize,
    head: usize,
    flow_unit: Option<String>,
    head_unit: Option<String>,
}

/// The curve in a text with a line for each point, separated by semicolons, tabs, commas or blanks.
///
/// A first line without numbers is a heading: its words say which column holds the flow (`flow`, `Q`) and which the
/// head (`head`, `H`), and units in brackets or behind “in” are those of the column. Without one, flow comes first
/// and bare numbers have the units of `bare`. Decimal commas are read where commas do not separate.
///
/// # Errors
/// A line that cannot be read, or a curve that cannot be: with its line.
pub fn table(text: &str, bare: Bare<'_>) -> Result<Table, Refused> {
    let (separator, lines) = separated::lines(text);
    let Some((first, rest)) = lines.split_first() else {
        return Err(Refused::new(
            At::Whole,
            "There is nothing in the table; paste lines of flow and head.",
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
    let bare = Bare {
        flow: columns.flow_unit.as_deref().unwrap_or(bare.flow),
        head: columns.head_unit.as_deref().unwrap_or(bare.head),
        ..bare
    };
    let decimal_commas = separator != Separator::Comma && !text.contains('.');
    let mut found = Vec::new();
    for row in rows {
        let point = line(row, &columns, (bare, decimal_commas))?;
        points::rises(found.last(), &point, bare).map_err(|why| at(row, why))?;
        found.push(point);
    }
    Ok(Table {
        curve: points::enough(found)?,
        flow_unit: columns.flow_unit,
        head_unit: columns.head_unit,
    })
}

fn at(line: &Line, why: impl Into<String>) -> Refused {
    Refused::new(At::Line(line.number), why)
}

fn line(
    row: &Line,
    columns: &Columns,
    (bare, decimal_commas): (Bare<'_>, bool),
) -> Result<crate::layout::CurvePoint, Refused> {
    let cells = row.cells.len();
    let wanted = columns.flow.max(columns.head) + 1;
    if cells < wanted {
        let why = format!(
            "there are {} where flow and head are wanted.",
            counted(cells)
        );
        return Err(at(row, why));
    }
    if cells > 2 && wanted == 2 && !columns.told && !row.cells.iter().skip(2).all(String::is_empty)
    {
        let why = format!(
            "there are {cells} numbers where flow and head are wanted; with decimal commas, separate by semicolons."
        );
        return Err(at(row, why));
    }
    let cell = |column: usize| -> String {
        let cell = row.cells.get(column).map_or("", String::as_str);
        // One comma is before the fraction throughout, where no point is in the whole text.
        if decimal_commas && cell.matches(',').count() == 1 {
            cell.replace(',', ".")
        } else {
            cell.to_owned()
        }
    };
    let (flow, head) = (cell(columns.flow), cell(columns.head));
    points::point((&flow, &head), bare).map_err(|(column, why)| {
        let which = match column {
            Column::Flow => "flow",
            Column::Head => "head",
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

/// The columns that a heading tells of; none where the line holds numbers.
fn heading(line: &Line) -> Result<Option<Columns>, Refused> {
    let begins = |cell: &String| {
        cell.starts_with(|letter: char| letter.is_ascii_digit() || "-+.".contains(letter))
    };
    if line.cells.iter().any(begins) {
        return Ok(None);
    }
    let kinds: Vec<Option<Column>> = line.cells.iter().map(|cell| kind(cell)).collect();
    let place = |wanted: Column| kinds.iter().position(|kind| *kind == Some(wanted));
    let (flow, head) = match (place(Column::Flow), place(Column::Head)) {
        (Some(flow), Some(head)) => (flow, head),
        // Two columns and one that is known leave the other.
        (Some(flow), None) if kinds.len() == 2 => (flow, 1 - flow.min(1)),
        (None, Some(head)) if kinds.len() == 2 => (1 - head.min(1), head),
        (None, None) if kinds.len() == 2 => (0, 1),
        _ => {
            let why = "the heading does not say which columns are flow and head; call them “flow (L/min)” and “head (m)”.";
            return Err(at(line, why));
        }
    };
    let unit_of = |column: usize, quantity: Quantity| -> Result<Option<String>, Refused> {
        let Some(unit) = line.cells.get(column).and_then(|cell| unit(cell)) else {
            return Ok(None);
        };
        match read(
            quantity,
            &format!("1 {unit}"),
            crate::units::UnitSystem::Metric,
        ) {
            Ok(_) => Ok(Some(unit)),
            Err(why) => Err(at(line, why)),
        }
    };
    Ok(Some(Columns {
        told: true,
        flow,
        head,
        flow_unit: unit_of(flow, Quantity::Flow)?,
        head_unit: unit_of(head, Quantity::Head)?,
    }))
}

/// What a cell of a heading says of its column: by its unit, else by its words.
fn kind(cell: &str) -> Option<Column> {
    let measures = |quantity: Quantity| {
        let unit = unit(cell)?;
        read(
            quantity,
            &format!("1 {unit}"),
            crate::units::UnitSystem::Metric,
        )
        .ok()
    };
    if measures(Quantity::Flow).is_some() {
        return Some(Column::Flow);
    }
    if measures(Quantity::Head).is_some() {
        return Some(Column::Head);
    }
    let small = cell.to_lowercase();
    let mut words = small.split(|letter: char| !letter.is_alphanumeric());
    words.find_map(|word| match word {
        _ if FLOW_WORDS.contains(&word) => Some(Column::Flow),
        _ if HEAD_WORDS.contains(&word) => Some(Column::Head),
        _ => None,
    })
}

/// The unit in a cell of a heading: `flow (L/min)`, `head [m]`, `Q in m³/h`, `gpm`.
fn unit(cell: &str) -> Option<String> {
    let bracketed = |open: char, close: char| {
        let (_, rest) = cell.split_once(open)?;
        rest.split_once(close).map(|(unit, _)| unit)
    };
    let behind = || cell.split_once(" in ").map(|(_, unit)| unit);
    let known = |unit: &&str| {
        let any = [Quantity::Flow, Quantity::Head];
        any.iter().any(|quantity| {
            read(
                *quantity,
                &format!("1 {unit}"),
                crate::units::UnitSystem::Metric,
            )
            .is_ok()
        })
    };
    let alone = || {
        Some(cell)
            .filter(known)
            .filter(|cell| !cell.trim().is_empty())
    };
    let found = bracketed('(', ')')
        .or_else(|| bracketed('[', ']'))
        .or_else(behind)
        .or_else(alone)?;
    Some(found.trim().to_owned()).filter(|unit| !unit.is_empty())
}
