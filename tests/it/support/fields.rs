//! Numbers set by their paths in a file, as the tests write them.

use fallwright::edit::{self, Edit, EditError};
use fallwright::layout::{Id, Layout, NumberField, VesselField};

/// The field with this path, or why there is none.
fn field(layout: &Layout, part: &Id, path: &str) -> Result<NumberField, EditError> {
    if !layout.has(part) {
        edit::number(layout, part, VesselField::Rim, 1.0)?;
    }
    layout.field(part, path).ok_or_else(|| EditError {
        what: format!("this part has no number `{path}`").into(),
        part: Some(part.clone()),
        cure: "choose another number".into(),
    })
}

/// [`edit::number`] by a path.
pub fn number(layout: &Layout, part: &Id, path: &str, to: f64) -> Result<Edit, EditError> {
    edit::number(layout, part, field(layout, part, path)?, to)
}

/// [`edit::clear`] by a path.
pub fn clear(layout: &Layout, part: &Id, path: &str) -> Result<Edit, EditError> {
    edit::clear(layout, part, field(layout, part, path)?)
}

/// [`edit::setting`] by a path.
pub fn setting(layout: &Layout, path: &str, to: f64) -> Result<Edit, EditError> {
    match NumberField::setting(path) {
        Some(NumberField::Setting(field)) => edit::setting(layout, field, to),
        _ => Err(EditError {
            what: format!("this part has no number `{path}`").into(),
            part: None,
            cure: "choose another number".into(),
        }),
    }
}
