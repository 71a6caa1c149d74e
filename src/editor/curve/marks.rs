//! The marks on the axes of a picture, as clicked and typed.

use super::{AxisMark, CurveRefusal, DefaultUnits, Dot, InputPosition, SheetAxes};
use crate::units::{Quantity, read_in};

/// Names of the four marks, in the order in which they are clicked.
pub const MARKS: [&str; 4] = [
    "First mark on the flow axis",
    "Second mark on the flow axis",
    "First mark on the head axis",
    "Second mark on the head axis",
];

/// Four marks: two of the flow, two of the head.
#[derive(Clone, Debug, PartialEq)]
pub struct Marks {
    /// The position of each; none: not clicked yet.
    pub at: [Option<Dot>; 4],
    /// The value at each, as typed.
    pub values: [String; 4],
}

/// No mark is clicked, and both axes begin at 0.
impl Default for Marks {
    fn default() -> Self {
        let values = ["0", "", "0", ""].map(str::to_owned);
        Marks {
            at: [None; 4],
            values,
        }
    }
}

impl Marks {
    /// The next mark to click; none once all are set.
    pub fn next(&self) -> Option<usize> {
        self.at.iter().position(Option::is_none)
    }

    /// Sets the position of this mark, counted from 0; other numbers do nothing.
    pub fn set(&mut self, index: usize, dot: Dot) {
        if let Some(at) = self.at.get_mut(index) {
            *at = Some(dot);
        }
    }

    /// The axes that the marks define.
    ///
    /// # Errors
    /// A mark that is not clicked; a value that cannot be read, at [`InputPosition::Flow`] or [`InputPosition::Head`] of 0 or 1.
    pub fn sheet(&self, bare: DefaultUnits<'_>) -> Result<SheetAxes, CurveRefusal> {
        let mark = |index: usize| -> Result<AxisMark, CurveRefusal> {
            let at = self.at.get(index).copied().flatten().ok_or_else(|| {
                let name = MARKS.get(index).map_or("mark", |name| name).to_lowercase();
                CurveRefusal::new(
                    InputPosition::Whole,
                    format!("Click the {name} in the picture and type its value."),
                )
            })?;
            let text = self.values.get(index).map_or("", String::as_str);
            let (quantity, unit, place) = match index {
                0 | 1 => (Quantity::Flow, bare.flow, InputPosition::Flow(index)),
                _ => (Quantity::Head, bare.head, InputPosition::Head(index - 2)),
            };
            let value = read_in(quantity, text, (bare.system, unit))
                .map_err(|why| CurveRefusal::new(place, why))?;
            Ok(AxisMark { at, value })
        };
        let (flow, head) = ([mark(0)?, mark(1)?], [mark(2)?, mark(3)?]);
        let sheet = SheetAxes { flow, head };
        sheet.check()?;
        Ok(sheet)
    }
}
