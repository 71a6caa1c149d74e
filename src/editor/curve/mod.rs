//! Reads the curve of a pump from points, from the two numbers of a label, from a table or from a picture.
//!
//! Text and clicks go in; a [`CurveForm`](crate::layout::CurveForm) or one sentence comes out.

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
pub use trace::{AxisMark, Dot, SheetAxes, read_points};
pub use typed::{typed, usual_units};

use crate::units::UnitSystem;

/// The most points of a curve: data sheets have about a dozen, exported tables a few hundred.
pub const MOST_POINTS: usize = 1_000;

/// Flow units to choose from for numbers without a unit; [`crate::units::read`] knows them.
pub const FLOW_UNITS: [&str; 6] = ["m³/h", "L/min", "L/h", "L/s", "gpm", "gph"];
/// Head units to choose from.
pub const HEAD_UNITS: [&str; 5] = ["m", "ft", "bar", "kPa", "psi"];

/// The units of numbers without one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DefaultUnits<'a> {
    /// The units of the layout, used in messages.
    pub system: UnitSystem,
    /// A unit of flow.
    pub flow: &'a str,
    /// A unit of head, or of pressure.
    pub head: &'a str,
}

/// An input error and its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CurveRefusal {
    /// Place in the input.
    pub at: InputPosition,
    /// What is wrong and what to type, as a sentence.
    pub why: String,
}

/// A place in the input.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InputPosition {
    /// The whole input.
    Whole,
    /// The flow of a row, counted from 0.
    Flow(usize),
    /// The head of a row, counted from 0.
    Head(usize),
    /// A line of the text, counted from 1.
    Line(usize),
    /// A clicked point, counted from 0.
    Point(usize),
}

impl CurveRefusal {
    fn new(at: InputPosition, why: impl Into<String>) -> CurveRefusal {
        CurveRefusal {
            at,
            why: why.into(),
        }
    }

    /// The sentence with its place: “Row 2: …”, “Line 5: …”.
    pub fn read(&self) -> String {
        match self.at {
            InputPosition::Whole => self.why.clone(),
            InputPosition::Flow(row) | InputPosition::Head(row) => {
                format!("Row {}: {}", row + 1, self.why)
            }
            InputPosition::Line(line) => format!("Line {line}: {}", self.why),
            InputPosition::Point(point) => format!("Point {}: {}", point + 1, self.why),
        }
    }
}
