//! Names of parts and the title of the layout.

use super::one_part;
use super::setting::with_settings;
use crate::edit::field::no_part;
use crate::edit::{Edit, EditError, Part};
use crate::layout::{Id, Layout, Run};

/// Renames a part (a vessel, joint, fixed level, run or pump); its id stays.
///
/// Blanks around the name are removed; with an empty name the part is shown by its id.
///
/// # Errors
/// A missing part, or a name that is too long.
pub fn rename(layout: &Layout, part: &Id, name: &str) -> Result<Edit, EditError> {
    let (place, before) = Part::find(layout, part).ok_or_else(|| no_part(part))?;
    let mut after = before.clone();
    let slot = name_of(&mut after, part).ok_or_else(|| no_part(part))?;
    let old = if slot.is_empty() {
        part.to_string()
    } else {
        slot.clone()
    };
    name.trim().clone_into(slot);
    let words = match name.trim() {
        "" => format!("Remove the name of {old}"),
        new => format!("Rename {old} to {new}"),
    };
    one_part(layout, place, (before, after), vec![words.into()])
}

/// The field of the name: of the part itself, or of the pump in it.
fn name_of<'p>(part: &'p mut Part, id: &Id) -> Option<&'p mut String> {
    match part {
        Part::Vessel(part) => Some(&mut part.name),
        Part::Joint(part) => Some(&mut part.name),
        Part::Fixed(part) => Some(&mut part.name),
        Part::Run(run) => {
            let Run {
                id: own,
                name,
                pump,
                ..
            } = run.as_mut();
            match pump {
                _ if own == id => Some(name),
                Some(pump) => Some(&mut pump.name),
                None => None,
            }
        }
    }
}

/// Sets the title of the layout, without blanks around it.
///
/// # Errors
/// A title that is too long.
pub fn title(layout: &Layout, to: &str) -> Result<Edit, EditError> {
    let to = to.trim();
    let words = match to {
        "" => "Remove the title".to_owned(),
        to => format!("Set the title to {to}"),
    };
    with_settings(layout, vec![words.into()], |settings| {
        to.clone_into(&mut settings.title);
    })
}
