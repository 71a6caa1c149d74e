//! Access to one number of a part by its path in the file format.

use super::{EditError, Part, Settings};
use crate::layout::{Id, Layout};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Number, Value};

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

/// The part with this id, its place, and the same part with one number changed.
///
/// The path is dotted from the part as in a file: `from.opening.upstand.crest_m`, `valves.0.opening`; for the id of a
/// pump it is dotted from the pump. Optional numbers can be set too.
pub(super) fn in_part(
    layout: &Layout,
    id: &Id,
    field: &str,
    to: FieldValue,
) -> Result<(usize, Part, Part), EditError> {
    let (place, before) = Part::find(layout, id).ok_or_else(|| no_part(id))?;
    let path = path_in(&before, id, field);
    let after = match &before {
        Part::Vessel(part) => put(part.as_ref(), &path, to).map(Part::from),
        Part::Joint(part) => put(part.as_ref(), &path, to).map(Part::from),
        Part::Fixed(part) => put(part, &path, to).map(Part::from),
        Part::Run(part) => put(part.as_ref(), &path, to).map(Part::from),
    };
    let after = after.map_err(|refused| refused.error(field).part(id))?;
    Ok((place, before, after))
}

/// The settings with one number changed; the path is dotted from the layout: `limits.freeboard_m`.
pub(super) fn in_settings(
    settings: &Settings,
    field: &str,
    to: FieldValue,
) -> Result<Settings, EditError> {
    put(settings, field, to).map_err(|refused| refused.error(field))
}

fn path_in(part: &Part, id: &Id, field: &str) -> String {
    match part {
        Part::Run(run) if run.id != *id => format!("pump.{field}"),
        _ => field.to_owned(),
    }
}

pub(super) fn no_part(id: &Id) -> EditError {
    EditError::new("the layout has no such part", "choose an existing part").part(id)
}

impl FieldRefusal {
    fn error(self, field: &str) -> EditError {
        match self {
            FieldRefusal::NotANumber => {
                EditError::new("this is not a finite number", "type a number")
            }
            FieldRefusal::NoSuchField => EditError::new(
                format!("this part has no number `{field}`"),
                "choose another number",
            ),
            FieldRefusal::NotWhole => EditError::new(
                format!("`{field}` is a count"),
                "type a whole number, 0 or more",
            ),
            FieldRefusal::Needed => {
                EditError::new(format!("`{field}` cannot be empty"), "type a number")
            }
        }
    }
}

fn put<T: Serialize + DeserializeOwned>(
    whole: &T,
    field: &str,
    to: FieldValue,
) -> Result<T, FieldRefusal> {
    let mut value = serde_json::to_value(whole).map_err(|_| FieldRefusal::NoSuchField)?;
    match to {
        FieldValue::Set(number) => set(&mut value, field, number)?,
        FieldValue::Clear => return clear(value, field),
    }
    serde_json::from_value(value).map_err(|_| FieldRefusal::NoSuchField)
}

fn set(value: &mut Value, field: &str, to: f64) -> Result<(), FieldRefusal> {
    let number = Number::from_f64(to).ok_or(FieldRefusal::NotANumber)?;
    let leaf = leaf(value, field)?;
    let counts = leaf.is_u64();
    *leaf = Value::Number(if counts { count(to)? } else { number });
    Ok(())
}

/// A whole number, as counts are kept.
fn count(to: f64) -> Result<Number, FieldRefusal> {
    if to.fract() != 0.0 || !(0.0..=f64::from(u32::MAX)).contains(&to) {
        return Err(FieldRefusal::NotWhole);
    }
    // Whole and in range: the cast loses nothing.
    let whole = to as u32;
    Ok(Number::from(whole))
}

/// Omits a number; refused where it is mandatory.
fn clear<T: Serialize + DeserializeOwned>(
    mut value: Value,
    field: &str,
) -> Result<T, FieldRefusal> {
    // Any number shows whether the field holds one; its range does not matter here.
    set(&mut value, field, 1.0)?;
    serde_json::from_value::<T>(value.clone()).map_err(|_| FieldRefusal::NoSuchField)?;
    *leaf(&mut value, field)? = Value::Null;
    serde_json::from_value(value).map_err(|_| FieldRefusal::Needed)
}

/// The target of a dotted path: a number, or an omitted field.
fn leaf<'v>(value: &'v mut Value, field: &str) -> Result<&'v mut Value, FieldRefusal> {
    let (way, last) = field.rsplit_once('.').unwrap_or(("", field));
    let mut at = Some(value);
    for step in way.split('.').filter(|step| !step.is_empty()) {
        at = match at {
            Some(Value::Object(fields)) => fields.get_mut(step),
            Some(Value::Array(rows)) => row(rows, step),
            _ => None,
        };
    }
    let leaf = match at {
        Some(Value::Object(fields)) => Some(fields.entry(last).or_insert(Value::Null)),
        Some(Value::Array(rows)) => row(rows, last),
        _ => None,
    };
    leaf.filter(|leaf| leaf.is_number() || leaf.is_null())
        .ok_or(FieldRefusal::NoSuchField)
}

fn row<'v>(rows: &'v mut [Value], step: &str) -> Option<&'v mut Value> {
    rows.get_mut(step.parse::<usize>().ok()?)
}
