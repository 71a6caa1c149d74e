//! The height at which an opening starts to pass water.

use super::number::named_number;
use crate::edit::{Edit, EditError};
use crate::finding::Piece;
use crate::layout::{EndField, Id, Layout, NumberField, RunEnd};
use crate::units::Quantity;

/// Sets the crest, invert or lip of the opening at one end of a run, metres above the datum.
///
/// A floor outlet or submerged opening without a lip gets one; of a raised intake the crest is set, and its intake
/// stays.
///
/// # Errors
/// A missing run, no opening at that end, or a height that would make the layout invalid.
pub fn crest(layout: &Layout, run: &Id, end: RunEnd, to_m: f64) -> Result<Edit, EditError> {
    let missing = |what, cure| EditError::new(what, cure).part(run);
    let found = layout
        .run(run)
        .ok_or_else(|| missing("the layout has no such run", "choose an existing run"))?;
    let at = found.end(end);
    let opening = at.opening.as_ref().ok_or_else(|| {
        missing(
            "the run has no opening at this end",
            "choose an end at a vessel, or add an opening first",
        )
    })?;
    let name = vec![
        format!("Set the {} of ", opening.height_word()).into(),
        run.into(),
        " to ".into(),
        Piece::Number(Quantity::Height, to_m),
    ];
    let field = NumberField::End(end, EndField::crest_of(opening));
    named_number(layout, run, field, to_m, name)
}
