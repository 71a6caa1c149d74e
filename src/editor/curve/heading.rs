//! The heading of a table: which column holds what, in which unit.

use super::points::PointColumn;
use super::separated::TextLine;
use super::{CurveRefusal, InputPosition};
use crate::units::{Quantity, UnitSystem, read};

/// Words of a heading that name the content of a column, in lower case.
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

/// The columns of the two numbers, and their units.
#[derive(Clone, Debug, Default)]
pub(super) struct Columns {
    /// Whether they come from a heading, so that there may be more columns.
    pub told: bool,
    pub flow: usize,
    pub head: usize,
    pub flow_unit: Option<String>,
    pub head_unit: Option<String>,
}

/// The columns that a heading names; none where the line holds numbers.
pub(super) fn heading(line: &TextLine) -> Result<Option<Columns>, CurveRefusal> {
    let begins = |cell: &String| {
        cell.starts_with(|letter: char| letter.is_ascii_digit() || "-+.".contains(letter))
    };
    if line.cells.iter().any(begins) {
        return Ok(None);
    }
    let kinds: Vec<Option<PointColumn>> = line.cells.iter().map(|cell| kind(cell)).collect();
    let place = |wanted: PointColumn| kinds.iter().position(|kind| *kind == Some(wanted));
    let (flow, head) = match (place(PointColumn::Flow), place(PointColumn::Head)) {
        (Some(flow), Some(head)) => (flow, head),
        // Of two columns, one known gives the other.
        (Some(flow), None) if kinds.len() == 2 => (flow, 1 - flow.min(1)),
        (None, Some(head)) if kinds.len() == 2 => (1 - head.min(1), head),
        (None, None) if kinds.len() == 2 => (0, 1),
        _ => {
            let why = "the heading does not name flow and head; call the columns “flow (L/min)” and “head (m)”.";
            return Err(at(line, why));
        }
    };
    let unit_of = |column: usize, quantity: Quantity| -> Result<Option<String>, CurveRefusal> {
        let Some(unit) = line.cells.get(column).and_then(|cell| unit(cell)) else {
            return Ok(None);
        };
        match read(quantity, &format!("1 {unit}"), UnitSystem::Metric) {
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

/// The column that a cell of the heading names: by its unit, else by its words.
fn kind(cell: &str) -> Option<PointColumn> {
    let measures = |quantity: Quantity| {
        let unit = unit(cell)?;
        read(quantity, &format!("1 {unit}"), UnitSystem::Metric).ok()
    };
    if measures(Quantity::Flow).is_some() {
        return Some(PointColumn::Flow);
    }
    if measures(Quantity::Head).is_some() {
        return Some(PointColumn::Head);
    }
    let small = cell.to_lowercase();
    let mut words = small.split(|letter: char| !letter.is_alphanumeric());
    words.find_map(|word| match word {
        _ if FLOW_WORDS.contains(&word) => Some(PointColumn::Flow),
        _ if HEAD_WORDS.contains(&word) => Some(PointColumn::Head),
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
        any.iter()
            .any(|quantity| read(*quantity, &format!("1 {unit}"), UnitSystem::Metric).is_ok())
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

/// Returns a refusal at a line of the table.
pub(super) fn at(line: &TextLine, why: impl Into<String>) -> CurveRefusal {
    CurveRefusal::new(InputPosition::Line(line.number), why)
}
