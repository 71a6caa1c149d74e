//! What holds for the whole layout.

use crate::edit::field::{FieldValue, in_settings};
use crate::edit::{Edit, EditError, EditStep, Settings, words};
use crate::finding::{Piece, Sentence};
use crate::layout::{Friction, Layout};
use crate::units::{Quantity, UnitSystem};

/// Sets one number of the whole layout, in SI: `water.temperature_c`, `limits.freeboard_m`,
/// `coefficients.weir`. `quantity` says only how the name of the edit reads.
///
/// # Errors
/// No such number, no finite number, or one out of range, with the range.
pub fn setting(
    layout: &Layout,
    field: &str,
    to: f64,
    quantity: Quantity,
) -> Result<Edit, EditError> {
    let after = in_settings(&Settings::of(layout), field, FieldValue::Set(to))?;
    let name = vec![
        format!("Set {} to ", words::of_field(field)).into(),
        Piece::Number(quantity, to),
    ];
    with_settings(layout, name, |settings| *settings = after)
}

/// Shows the layout in other units; the data stay SI.
///
/// # Errors
/// None for a layout that is sound.
pub fn units(layout: &Layout, to: UnitSystem) -> Result<Edit, EditError> {
    let name = match to {
        UnitSystem::Metric => "Show metric units",
        UnitSystem::Us => "Show US units",
    };
    with_settings(layout, vec![name.into()], |settings| settings.units = to)
}

/// Takes another friction law for every run that does not name its own.
///
/// # Errors
/// None for a layout that is sound.
pub fn friction(layout: &Layout, to: Friction) -> Result<Edit, EditError> {
    let name = match to {
        Friction::DarcyWeisbach => "Take friction by Darcy–Weisbach",
        Friction::HazenWilliams => "Take friction by Hazen–Williams",
    };
    with_settings(layout, vec![name.into()], |settings| settings.friction = to)
}

/// The edit that changes the settings as `change` does.
pub(super) fn with_settings(
    layout: &Layout,
    name: Vec<Piece>,
    change: impl FnOnce(&mut Settings),
) -> Result<Edit, EditError> {
    let before = Settings::of(layout);
    let mut after = before.clone();
    change(&mut after);
    let step = EditStep::Settings {
        before: Box::new(before),
        after: Box::new(after),
    };
    let edit = Edit {
        name: Sentence(name),
        steps: vec![step],
    };
    edit.tried_on(layout)
}
