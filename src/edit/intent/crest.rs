//! The height at which an opening starts to pass water.

use super::number::named_number;
use crate::edit::{Edit, EditError};
use crate::finding::Piece;
use crate::layout::{Id, Layout, Opening, RunEnd};
use crate::units::Quantity;

/// Sets the crest, invert or lip of the opening at one end of a run, metres above the datum.
///
/// A floor outlet or an opening under water without a lip gets one; of a raised intake the crest is
/// set, and its intake stays.
///
/// # Errors
/// No such run, no opening at that end, or a height that the layout cannot hold.
pub fn crest(layout: &Layout, run: &Id, end: RunEnd, to_m: f64) -> Result<Edit, EditError> {
    let missing = |what, cure| EditError::new(what, cure).part(run);
    let found = layout.run(run).ok_or_else(|| {
        missing(
            "there is no such run in the layout",
            "choose a run that is there",
        )
    })?;
    let at = found.end(end);
    let opening = at.opening.as_ref().ok_or_else(|| {
        missing(
            "the run has no opening at this end",
            "choose an end at a vessel, or give the end an opening first",
        )
    })?;
    let name = vec![
        format!("Set the {} of ", opening.height_word()).into(),
        run.into(),
        " to ".into(),
        Piece::Number(Quantity::Height, to_m),
    ];
    let field = format!("{}.opening.{}", end.word(), field_of(opening));
    named_number(layout, run, (&field, to_m), name)
}

/// The field that holds the height.
fn field_of(opening: &Opening) -> &'static str {
    match opening {
        Opening::Upstand { .. } => "upstand.crest_m",
        Opening::SideHole { .. } => "side_hole.invert_m",
        Opening::Floor { .. } => "floor.lip_m",
        Opening::Mouth { .. } => "mouth.lip_m",
        Opening::Submerged { .. } => "submerged.lip_m",
        Opening::RaisedIntake { .. } => "raised_intake.crest_m",
        Opening::Notch { .. } => "notch.crest_m",
    }
}
