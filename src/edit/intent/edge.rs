//! The edge of the mouth of a run.

use crate::edit::field::no_part;
use crate::edit::{Edit, EditError, replace};
use crate::finding::{Piece, Sentence};
use crate::layout::{Edge, Id, Layout, RunEnd};

/// Changes the edge of the mouth at one end of a run; explicit coefficients override it and stay.
///
/// # Errors
/// A missing run, an end without a mouth, or an entrance among the fittings.
pub fn edge(layout: &Layout, run: &Id, end: RunEnd, to: Edge) -> Result<Edit, EditError> {
    let mut after = layout.run(run).cloned().ok_or_else(|| no_part(run))?;
    after.end_mut(end).edge = to;
    let at = after.end(end).at.clone();
    let words = format!("Set the mouth edge to {}: ", to.words().to_lowercase());
    let name = vec![words.into(), run.into(), " in ".into(), Piece::Part(at)];
    replace(layout, after, Sentence(name))
}
