//! Tables of all vessels, runs and pumps, with exact values.
//!
//! A [`Table`] is made once for a report. It is sorted by row indices and written in any units, so that switching
//! units loses nothing.

mod pumps;
mod runs;
mod text;
mod vessels;

pub use text::NOTHING;

use crate::finding::{Finding, Severity};
use crate::layout::{Id, Layout};
use crate::states::report::StateReport;
use crate::units::{self, Quantity, UnitSystem};
use std::cmp::Ordering;
use std::collections::HashMap;

/// What a table lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Lists {
    /// Vessels.
    Vessels,
    /// Runs.
    Runs,
    /// Pumps.
    Pumps,
}

impl Lists {
    /// Every table.
    pub const ALL: [Lists; 3] = [Lists::Vessels, Lists::Runs, Lists::Pumps];

    /// Its name.
    pub fn title(self) -> &'static str {
        match self {
            Lists::Vessels => "Vessels",
            Lists::Runs => "Runs",
            Lists::Pumps => "Pumps",
        }
    }
}

/// The content of a cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Words.
    Words(String),
    /// A number of the quantity of its column, SI.
    Number(f64),
    /// Unknown, or not applicable.
    Nothing,
}

impl Cell {
    fn of(value: Option<f64>) -> Cell {
        let known = value.filter(|value| value.is_finite());
        known.map_or(Cell::Nothing, Cell::Number)
    }
}

/// A column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Column {
    /// Its heading.
    pub title: &'static str,
    /// Its tooltip.
    pub tip: &'static str,
    /// The quantity of its numbers; none: words.
    pub quantity: Option<Quantity>,
}

impl Column {
    /// The heading on the screen. A spreadsheet gets `title`, which formulas there may look up.
    pub fn heading(&self) -> &'static str {
        match self.title {
            "Held by" => "Limited by",
            "Needed" => "Required level",
            "Stands" => "Status",
            "Draws from" => "Suction level",
            title => title,
        }
    }
}

/// A row: one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The part.
    pub part: Id,
    /// One cell for each column.
    pub cells: Vec<Cell>,
    /// The worst finding about it in this state, if any.
    pub worst: Option<Severity>,
}

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its kind of parts.
    pub lists: Lists,
    /// Its columns, the name first.
    pub columns: Vec<Column>,
    /// Its rows, as drawn: in the order of the layout.
    pub rows: Vec<Row>,
}

/// The order of a column.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Order {
    /// As drawn.
    #[default]
    AsDrawn,
    /// Ascending.
    Up,
    /// Descending.
    Down,
}

impl Order {
    /// The next order after a click on the heading.
    pub fn next(self) -> Order {
        match self {
            Order::AsDrawn => Order::Up,
            Order::Up => Order::Down,
            Order::Down => Order::AsDrawn,
        }
    }
}

/// The table of all parts of a kind. `report`: the displayed state, perhaps of a slightly different layout; without
/// one, only drawn values are known. `findings`: those of that state.
pub fn table(
    lists: Lists,
    layout: &Layout,
    report: Option<&StateReport>,
    findings: &[Finding],
) -> Table {
    let names = layout.names();
    let said = Said {
        names,
        worst: worst(findings),
    };
    let (columns, rows) = match lists {
        Lists::Vessels => (
            vessels::COLUMNS.to_vec(),
            vessels::rows(layout, report, &said),
        ),
        Lists::Runs => (runs::COLUMNS.to_vec(), runs::rows(layout, report, &said)),
        Lists::Pumps => (pumps::COLUMNS.to_vec(), pumps::rows(layout, report, &said)),
    };
    Table {
        lists,
        columns,
        rows,
    }
}

/// Names of parts and their worst findings.
struct Said<'a> {
    names: HashMap<&'a Id, &'a str>,
    worst: HashMap<&'a Id, Severity>,
}

impl Said<'_> {
    fn name(&self, id: &Id) -> Cell {
        let known = self.names.get(id).copied().unwrap_or(id.as_str());
        Cell::Words(known.to_owned())
    }

    fn row(&self, part: &Id, cells: Vec<Cell>) -> Row {
        Row {
            part: part.clone(),
            cells,
            worst: self.worst.get(part).copied(),
        }
    }
}

fn worst(findings: &[Finding]) -> HashMap<&Id, Severity> {
    let mut worst: HashMap<&Id, Severity> = HashMap::new();
    for finding in findings {
        if let Some(first) = finding.about.first() {
            let known = worst.entry(first).or_insert(finding.severity);
            *known = finding.severity.min(*known);
        }
    }
    worst
}

impl Table {
    /// Row indices in the order of a column; equal rows keep their drawn order, and rows without a value come last.
    pub fn sorted(&self, column: usize, order: Order) -> Vec<usize> {
        let mut rows: Vec<usize> = (0..self.rows.len()).collect();
        let cell = |row: &usize| self.rows.get(*row).and_then(|row| row.cells.get(column));
        match order {
            Order::AsDrawn => {}
            Order::Up => rows.sort_by(|a, b| compare(cell(a), cell(b), false)),
            Order::Down => rows.sort_by(|a, b| compare(cell(a), cell(b), true)),
        }
        rows
    }

    /// The unit of all numbers of a column; none for words.
    pub fn unit(&self, column: usize, system: UnitSystem) -> Option<units::Unit> {
        let quantity = self.columns.get(column)?.quantity?;
        let values = self
            .rows
            .iter()
            .filter_map(|row| match row.cells.get(column) {
                Some(Cell::Number(value)) => Some(value.abs()),
                _ => None,
            });
        Some(units::unit_for(
            quantity,
            values.fold(0.0, f64::max),
            system,
        ))
    }
}

fn compare(a: Option<&Cell>, b: Option<&Cell>, down: bool) -> Ordering {
    let turned = |order: Ordering| if down { order.reverse() } else { order };
    match (a, b) {
        (Some(Cell::Number(a)), Some(Cell::Number(b))) => turned(a.total_cmp(b)),
        (Some(Cell::Words(a)), Some(Cell::Words(b))) => turned(by_name(a, b)),
        (Some(Cell::Nothing) | None, Some(Cell::Nothing) | None) => Ordering::Equal,
        (Some(Cell::Nothing) | None, _) => Ordering::Greater,
        (_, Some(Cell::Nothing) | None) => Ordering::Less,
        (Some(Cell::Number(_)), Some(Cell::Words(_))) => Ordering::Less,
        (Some(Cell::Words(_)), Some(Cell::Number(_))) => Ordering::Greater,
    }
}

/// Natural order of names: bed 2 before bed 10, upper and lower case alike.
fn by_name(a: &str, b: &str) -> Ordering {
    let (mut a_rest, mut b_rest) = (a, b);
    loop {
        match (piece(a_rest), piece(b_rest)) {
            (None, None) => return a.cmp(b),
            (None, _) => return Ordering::Less,
            (_, None) => return Ordering::Greater,
            (Some((one, left)), Some((other, right))) => {
                let both = (one.parse::<u64>(), other.parse::<u64>());
                let order = match both {
                    (Ok(one), Ok(other)) => one.cmp(&other),
                    _ => one.to_lowercase().cmp(&other.to_lowercase()),
                };
                if order != Ordering::Equal {
                    return order;
                }
                (a_rest, b_rest) = (left, right);
            }
        }
    }
}

/// Splits words after their leading digits, or before the first digit.
fn piece(words: &str) -> Option<(&str, &str)> {
    let first = words.chars().next()?;
    let digit = first.is_ascii_digit();
    let end = words.find(|letter: char| letter.is_ascii_digit() != digit);
    Some(words.split_at(end.unwrap_or(words.len())))
}

const fn column(title: &'static str, tip: &'static str, quantity: Quantity) -> Column {
    Column {
        title,
        tip,
        quantity: Some(quantity),
    }
}

const fn words(title: &'static str, tip: &'static str) -> Column {
    Column {
        title,
        tip,
        quantity: None,
    }
}
