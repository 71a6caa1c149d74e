//! The pipe of a run.

use super::replace::replace;
use crate::catalogue::Catalogue;
use crate::edit::{Edit, EditError};
use crate::finding::{Piece, Sentence};
use crate::layout::{Id, Layout, Pipe};
use crate::units::Quantity;

/// Sets the pipe of a run: key of the family and nominal size, as in the catalogue.
///
/// A roughness and a Hazen–Williams C of the run stay where the family stays, because they were measured on that
/// pipe. A pipe missing from the catalogue is no error here: the check reports it.
///
/// # Errors
/// A missing run, or words that are too long.
pub fn pipe(layout: &Layout, run: &Id, family: &str, size: &str) -> Result<Edit, EditError> {
    let mut after = layout.run(run).cloned().ok_or_else(|| {
        EditError::new("the layout has no such run", "choose an existing run").part(run)
    })?;
    let (own_roughness_m, own_c) = match &after.pipe {
        Pipe::Bought {
            family: old,
            roughness_m,
            hazen_williams_c,
            ..
        } if old == family => (*roughness_m, *hazen_williams_c),
        _ => (None, None),
    };
    after.pipe = Pipe::Bought {
        family: family.to_owned(),
        size: size.to_owned(),
        roughness_m: own_roughness_m,
        hazen_williams_c: own_c,
    };
    let mut name: Vec<Piece> = vec!["Set the pipe of ".into(), run.into(), " to ".into()];
    name.extend(words(family, size));
    replace(layout, after, Sentence(name))
}

/// Names a size with its family, and the outside diameter and bore where they are known: alone it is ambiguous.
fn words(family: &str, size: &str) -> Vec<Piece> {
    let Some(pipe) = Catalogue::builtin().pipe(family, size) else {
        return vec![format!("{family} {size}").into()];
    };
    vec![
        format!("{} {} (", pipe.family.words, pipe.size.size).into(),
        Piece::Number(Quantity::Bore, pipe.od_m()),
        " outside, ".into(),
        Piece::Number(Quantity::Bore, pipe.bore_m()),
        " inside)".into(),
    ]
}
