//! A part added.

use super::fresh::{fresh_id, fresh_name, stem_of};
use crate::edit::{Edit, EditError, Part};
use crate::finding::Sentence;
use crate::layout::{Id, Layout};

/// Adds a part of any kind under an id of its own and, where its name is taken or empty, with the next free number
/// behind `stem`. The id that it got comes with the edit.
///
/// # Errors
/// A part that the layout cannot hold.
pub fn add(layout: &Layout, part: impl Into<Part>, stem: &str) -> Result<(Edit, Id), EditError> {
    let name = fresh_name(layout, stem);
    let id = fresh_id(layout, &stem_of(&name));
    let mut after = layout.clone();
    match part.into() {
        Part::Vessel(mut part) => {
            (part.id, part.name) = (id.clone(), name.clone());
            after.vessels.push(*part);
        }
        Part::Joint(mut part) => {
            (part.id, part.name) = (id.clone(), name.clone());
            after.joints.push(*part);
        }
        Part::Fixed(mut part) => {
            (part.id, part.name) = (id.clone(), name.clone());
            after.fixed.push(part);
        }
        Part::Run(mut part) => {
            (part.id, part.name) = (id.clone(), name.clone());
            after.runs.push(*part);
        }
    }
    let words = Sentence(vec![format!("Add {name}").into()]);
    let edit = Edit::between(words, layout, &after).tried_on(layout)?;
    Ok((edit, id))
}
