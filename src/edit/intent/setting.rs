//! Settings of the whole layout.

use crate::edit::field::{FieldValue, in_settings};
use crate::edit::{Edit, EditError, EditStep, Settings, words};
use crate::finding::{Piece, Sentence};
use crate::layout::{Friction, Layout, NumberField, SettingField};
use crate::units::UnitSystem;

/// Sets one number of the whole layout, in SI.
///
/// # Errors
/// A part of the settings that is not there, a number that is not finite, or one out of range, with the range.
pub fn setting(layout: &Layout, field: SettingField, to: f64) -> Result<Edit, EditError> {
    let field = NumberField::Setting(field);
    let after = in_settings(&Settings::of(layout), field, FieldValue::Set(to))?;
    let name = vec![
        format!("Set {} to ", words::of_field(&field.path())).into(),
        Piece::Number(field.quantity(), to),
    ];
    with_settings(layout, name, |settings| *settings = after)
}

/// Shows the layout in other units; the data stay in SI.
///
/// # Errors
/// None for a valid layout.
pub fn units(layout: &Layout, to: UnitSystem) -> Result<Edit, EditError> {
    let name = match to {
        UnitSystem::Metric => "Show metric units",
        UnitSystem::Us => "Show US units",
    };
    with_settings(layout, vec![name.into()], |settings| settings.units = to)
}

/// Sets the friction law of all runs that do not name their own.
///
/// # Errors
/// None for a valid layout.
pub fn friction(layout: &Layout, to: Friction) -> Result<Edit, EditError> {
    let name = match to {
        Friction::DarcyWeisbach => "Use Darcy–Weisbach friction",
        Friction::HazenWilliams => "Use Hazen–Williams friction",
    };
    with_settings(layout, vec![name.into()], |settings| settings.friction = to)
}

/// The edit that changes the settings by `change`.
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
