//! The marks on the axes of a picture, as they are clicked and typed.

use super::{AxisMark, CurveRefusal, DefaultUnits, Dot, InputPosition, SheetAxes};
use crate::units::{Quantity, read_in};

/// What the four marks are called, in the order in which they are asked for.
pub const MARKS: [&str; 4] = [
    "First mark of the flow",
    "Second mark of the flow",
    "First mark of the head",
    "Second mark of the head",
];

/// Four marks: two of the flow, two of the head.
#[derive(Clone, Debug, PartialEq)]
pub struct Marks {
    /// Where each is; none: not yet clicked.
    pub at: [Option<Dot>; 4],
    /// What the sheet prints at each, as typed.
    pub values: [String; 4],
}

/// Nothing is clicked, and each axis begins at nought.
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
    /// The mark that is to be clicked next; none once all are.
    pub fn next(&self) -> Option<usize> {
        self.at.iter().position(Option::is_none)
    }

    /// Puts the mark with this number there, counted from 0; other numbers do nothing.
    pub fn set(&mut self, index: usize, dot: Dot) {
        if let Some(at) = self.at.get_mut(index) {
            *at = Some(dot);
        }
    }

    /// The axes that they fix.
    ///
    /// # Errors
    /// A mark that is not clicked; a value that cannot be read, at [`At::Flow`] or [`At::Head`] of 0 or 1.
    pub fn sheet(&self, bare: DefaultUnits<'_>) -> Result<SheetAxes, CurveRefusal> {
        let mark = |index: usize| -> Result<AxisMark, CurveRefusal> {
            let at = self.at.get(index).copied().flatten().ok_or_else(|| {
                let name = MARKS.get(index).map_or("mark", |name| name).to_lowercase();
                CurveRefusal::new(
                    InputPosition::Whole,
                    format!("Click the {name} in the picture, and type its value."),
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
