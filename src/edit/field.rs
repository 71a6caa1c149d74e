//! Access to one number of a part or of the settings.

use super::{EditError, Part, Settings};
use crate::layout::{Id, Layout, NumberField, NumberSlot, PartMut};

/// A number to set, or to omit where that is allowed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum FieldValue {
    Set(f64),
    Clear,
}

/// Why a number cannot be set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum FieldRefusal {
    NotANumber,
    NoSuchField,
    NotWhole,
    Needed,
}

/// The part with this id, its place, and the same part with one number changed. The id of a pump finds its run.
pub(super) fn in_part(
    layout: &Layout,
    id: &Id,
    field: NumberField,
    to: FieldValue,
) -> Result<(usize, Part, Part), EditError> {
    let (place, before) = Part::find(layout, id).ok_or_else(|| no_part(id))?;
    let mut after = before.clone();
    let part = match &mut after {
        Part::Vessel(part) => PartMut::Vessel(part),
        Part::Joint(part) => PartMut::Joint(part),
        Part::Fixed(part) => PartMut::Fixed(part),
        Part::Run(part) => PartMut::Run(part),
    };
    put(field.slot(part), to).map_err(|refused| refused.error(field).part(id))?;
    Ok((place, before, after))
}

/// The settings with one number changed.
pub(super) fn in_settings(
    settings: &Settings,
    field: NumberField,
    to: FieldValue,
) -> Result<Settings, EditError> {
    let mut layout = Layout::default();
    settings.put(&mut layout);
    let slot = match field {
        NumberField::Setting(field) => field.slot(&mut layout),
        _ => None,
    };
    put(slot, to).map_err(|refused| refused.error(field))?;
    Ok(Settings::of(&layout))
}

pub(super) fn no_part(id: &Id) -> EditError {
    EditError::new("the layout has no such part", "choose an existing part").part(id)
}

impl FieldRefusal {
    fn error(self, field: NumberField) -> EditError {
        let path = field.path();
        match self {
            FieldRefusal::NotANumber => {
                EditError::new("this is not a finite number", "type a number")
            }
            FieldRefusal::NoSuchField => EditError::new(
                format!("this part has no number `{path}`"),
                "choose another number",
            ),
            FieldRefusal::NotWhole => EditError::new(
                format!("`{path}` is a count"),
                "type a whole number, 0 or more",
            ),
            FieldRefusal::Needed => {
                EditError::new(format!("`{path}` cannot be empty"), "type a number")
            }
        }
    }
}

fn put(slot: Option<NumberSlot<'_>>, to: FieldValue) -> Result<(), FieldRefusal> {
    let slot = slot.ok_or(FieldRefusal::NoSuchField)?;
    match (slot, to) {
        (NumberSlot::Optional(slot), FieldValue::Clear) => *slot = None,
        (_, FieldValue::Clear) => return Err(FieldRefusal::Needed),
        (_, FieldValue::Set(to)) if !to.is_finite() => return Err(FieldRefusal::NotANumber),
        (NumberSlot::Number(slot), FieldValue::Set(to)) => *slot = to,
        (NumberSlot::Optional(slot), FieldValue::Set(to)) => *slot = Some(to),
        (NumberSlot::Count(slot), FieldValue::Set(to)) => *slot = whole(to)?,
    }
    Ok(())
}

/// A whole number, as counts are kept.
fn whole(to: f64) -> Result<u32, FieldRefusal> {
    if to.fract() != 0.0 || !(0.0..=f64::from(u32::MAX)).contains(&to) {
        return Err(FieldRefusal::NotWhole);
    }
    // Whole and in range: the cast loses nothing.
    Ok(to as u32)
}
