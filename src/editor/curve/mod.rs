//! The curve of a pump as people have it: points, the two numbers of a label, a table, a picture of a sheet.
//!
//! Text and clicks go in, a [`CurveForm`](crate::layout::CurveForm) or one sentence comes out.

mod heading;
mod label;
mod marks;
mod points;
mod separated;
mod table;
mod trace;
mod typed;

pub use label::label;
pub use marks::{MARKS, Marks};
pub use points::points;
pub use table::{Table, table};
pub use trace::{AxisMark, Dot, Sheet, traced};
pub use typed::{typed, usual_units};

use crate::units::UnitSystem;

/// The most points that a curve may have: a sheet is read at a dozen, a program writes some hundreds.
pub const MOST_POINTS: usize = 1_000;

/// Units of flow that a person may choose for bare numbers; [`crate::units::read`] knows them.
pub const FLOW_UNITS: [&str; 6] = ["m³/h", "L/min", "L/h", "L/s", "gpm", "gph"];
/// The same of head.
pub const HEAD_UNITS: [&str; 5] = ["m", "ft", "bar", "kPa", "psi"];

/// What bare numbers are in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bare<'a> {
    /// The units of the layout: of what is said.
    pub system: UnitSystem,
    /// A unit of flow.
    pub flow: &'a str,
    /// A unit of head, or of pressure.
    pub head: &'a str,
}

/// What is typed wrong, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Where it stands.
    pub at: At,
    /// What is wrong and what to type, as a sentence.
    pub why: String,
}

/// A place in what was typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum At {
    /// All of it.
    Whole,
    /// The flow of a row, counted from 0.
    Flow(usize),
    /// The head of a row, counted from 0.
    Head(usize),
    /// A line of a text, counted from 1.
    Line(usize),
    /// A point that was clicked, counted from 0.
    Point(usize),
}

impl Refused {
    fn new(at: At, why: impl Into<String>) -> Refused {
        Refused {
            at,
            why: why.into(),
        }
    }

    /// With the place in words: “Row 2: …”, “Line 5: …”.
    pub fn read(&self) -> String {
        match self.at {
            At::Whole => self.why.clone(),
            At::Flow(row) | At::Head(row) => format!("Row {}: {}", row + 1, self.why),
            At::Line(line) => format!("Line {line}: {}", self.why),
            At::Point(point) => format!("Point {}: {}", point + 1, self.why),
        }
    }
}
