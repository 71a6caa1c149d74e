//! Adds a part.

use super::fresh::{fresh_id, fresh_name, stem_of};
use crate::edit::{Edit, EditError, Part};
use crate::finding::Sentence;
use crate::layout::{Id, Layout};

/// Adds a part of any kind under a new id. Where its name is taken or empty, it gets `stem` with the next free
/// number. Returns the edit and the id.
///
/// # Errors
/// A part that would make the layout invalid.
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
