//! One number of a layout, set by the path that the file format gives it.

use crate::finding::Change;
use crate::layout::{Id, Layout};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Number, Value};

/// The layout with one number changed: that of the field `change.field` of the part `change.part`,
/// set to `change.to`.
///
/// The field is dotted from the part as in a file: `from.opening.upstand.crest_m`, `rim_m`,
/// `valves.0.opening`. None where the part or the field is not there, or `change.to` is no number
/// that it can hold. A field that may be left out counts as there.
pub fn apply(layout: &Layout, change: &Change) -> Option<Layout> {
    let mut changed = layout.clone();
    let id = &change.part;
    let done = set(&mut changed.vessels, id, |part| &part.id, change)
        .or_else(|| set(&mut changed.runs, id, |part| &part.id, change))
        .or_else(|| set(&mut changed.joints, id, |part| &part.id, change))
        .or_else(|| set(&mut changed.fixed, id, |part| &part.id, change));
    done.map(|()| changed)
}

/// All changes, one after the other.
pub(super) fn apply_all(layout: &Layout, changes: &[Change]) -> Option<Layout> {
    let start = Some(layout.clone());
    changes
        .iter()
        .fold(start, |layout, change| apply(&layout?, change))
}

/// Changes the part with this id in a list of parts.
fn set<T: Serialize + DeserializeOwned>(
    parts: &mut [T],
    id: &Id,
    id_of: fn(&T) -> &Id,
    change: &Change,
) -> Option<()> {
    let part = parts.iter_mut().find(|part| id_of(part) == id)?;
    let mut value = serde_json::to_value(&*part).ok()?;
    *place(&mut value, &change.field)? = Value::Number(Number::from_f64(change.to)?);
    *part = serde_json::from_value(value).ok()?;
    Some(())
}

/// Where a dotted path leads: a number, or a field that is left out.
fn place<'v>(value: &'v mut Value, field: &str) -> Option<&'v mut Value> {
    let (way, last) = field.rsplit_once('.').unwrap_or(("", field));
    let mut at = value;
    for step in way.split('.').filter(|step| !step.is_empty()) {
        at = match at {
            Value::Object(fields) => fields.get_mut(step)?,
            Value::Array(rows) => rows.get_mut(step.parse::<usize>().ok()?)?,
            _ => return None,
        };
    }
    let leaf = match at {
        Value::Object(fields) => fields.entry(last).or_insert(Value::Null),
        Value::Array(rows) => rows.get_mut(last.parse::<usize>().ok()?)?,
        _ => return None,
    };
    (leaf.is_number() || leaf.is_null()).then_some(leaf)
}
