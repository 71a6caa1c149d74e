//! Every number of a layout has a name that a person can read.

use crate::file::everything::everything;
use crate::support::fields::{number, setting};
use fallwright::edit::{self, Edit, EditError};
use fallwright::layout::{Id, Layout, NumberField};
use fallwright::units::UnitSystem;
use serde_json::Value;

/// The dotted path of every number in `value`.
fn paths(value: &Value, before: &str, found: &mut Vec<String>) {
    let under = |step: &str| match before {
        "" => step.to_owned(),
        _ => format!("{before}.{step}"),
    };
    match value {
        Value::Number(_) => found.push(before.to_owned()),
        Value::Object(fields) => {
            for (key, inner) in fields {
                paths(inner, &under(key), found);
            }
        }
        Value::Array(rows) => {
            for (row, inner) in rows.iter().enumerate() {
                paths(inner, &under(&row.to_string()), found);
            }
        }
        _ => {}
    }
}

fn all(value: impl serde::Serialize) -> Vec<String> {
    let mut found = Vec::new();
    paths(&serde_json::to_value(value).unwrap(), "", &mut found);
    found
}

/// The edit that sets a number to what it is, and its name.
fn check(layout: &Layout, field: &str, edit: Result<Edit, EditError>) -> String {
    let edit = edit.unwrap_or_else(|error| panic!("{field}: {error}"));
    let name = edit.name.read(&|id| id.to_string(), UnitSystem::Metric);
    assert!(
        name.starts_with("Set the ") || name.contains("Hazen"),
        "{name}"
    );
    assert!(!name.contains(['_', '.', '`']), "{field}: {name}");
    assert_eq!(edit.apply(layout).as_ref(), Ok(layout), "{field}");
    assert!(edit.changes_nothing(), "{field}");
    name
}

fn value_at(value: &Value, field: &str) -> f64 {
    let pointer = format!("/{}", field.replace('.', "/"));
    value.pointer(&pointer).unwrap().as_f64().unwrap()
}

#[test]
fn every_number_can_be_set_and_reads_well() {
    let layout = everything();
    let mut count = 0;
    let vessels = layout
        .vessels
        .iter()
        .map(|part| (&part.id, serde_json::to_value(part)));
    let joints = layout
        .joints
        .iter()
        .map(|part| (&part.id, serde_json::to_value(part)));
    let fixed = layout
        .fixed
        .iter()
        .map(|part| (&part.id, serde_json::to_value(part)));
    let runs = layout
        .runs
        .iter()
        .map(|part| (&part.id, serde_json::to_value(part)));
    for (id, value) in vessels.chain(joints).chain(fixed).chain(runs) {
        let value = value.unwrap();
        for field in all(&value) {
            let to = value_at(&value, &field);
            let edit = number(&layout, id, &field, to).map(|mut edit| {
                // The number itself may have a point in it.
                edit.name.0.truncate(2);
                edit
            });
            check(&layout, &field, edit);
            count += 1;
        }
    }
    assert!(count > 150, "{count}");
}

#[test]
fn every_setting_can_be_set_and_reads_well() {
    let layout = everything();
    let value = serde_json::to_value(&layout).unwrap();
    let groups = [
        "water.",
        "coefficients.",
        "limits.",
        "ageing.",
        "weather.",
        "underlay.",
    ];
    let fields = all(&layout);
    let fields = fields
        .iter()
        .filter(|field| groups.iter().any(|group| field.starts_with(group)));
    let mut names = std::collections::BTreeSet::new();
    for field in fields {
        let edit = setting(&layout, field, value_at(&value, field));
        let edit = edit.map(|mut edit| {
            edit.name.0.truncate(1);
            edit
        });
        assert!(
            names.insert(check(&layout, field, edit)),
            "{field}: two of one name"
        );
    }
    assert_eq!(names.len(), 32);
    assert!(names.contains("Set the temperature of the water to "));
}

/// The numbers of every part and of the settings: the part, the field, the number in the file.
fn fields(layout: &Layout) -> Vec<(Id, NumberField, f64)> {
    let json = |part: serde_json::Result<Value>| part.unwrap();
    let vessels = layout.vessels.iter();
    let vessels = vessels.map(|part| (part.id.clone(), json(serde_json::to_value(part))));
    let joints = layout.joints.iter();
    let joints = joints.map(|part| (part.id.clone(), json(serde_json::to_value(part))));
    let fixed = layout.fixed.iter();
    let fixed = fixed.map(|part| (part.id.clone(), json(serde_json::to_value(part))));
    let runs = layout.runs.iter();
    let runs = runs.map(|part| (part.id.clone(), json(serde_json::to_value(part))));
    let mut found = Vec::new();
    for (id, value) in vessels.chain(joints).chain(fixed).chain(runs) {
        for path in all(&value) {
            let field = layout.field(&id, &path);
            let field = field.unwrap_or_else(|| panic!("{id} has no field {path}"));
            found.push((id.clone(), field, value_at(&value, &path)));
        }
    }
    let value = serde_json::to_value(layout).unwrap();
    let parts = ["vessels.", "joints.", "fixed.", "runs."];
    for path in all(&value) {
        if parts.iter().all(|part| !path.starts_with(part)) {
            let field = NumberField::setting(&path);
            let field = field.unwrap_or_else(|| panic!("no setting {path}"));
            found.push(("".into(), field, value_at(&value, &path)));
        }
    }
    found
}

#[test]
fn every_number_of_the_format_has_a_typed_field() {
    let layout = everything();
    let found = fields(&layout);
    assert!(found.len() > 200, "{}", found.len());
    for (part, field, number) in found {
        assert_eq!(
            layout.number(&part, field),
            Some(number),
            "{part} {field:?}"
        );
        let path = field.path();
        let again = match field {
            NumberField::Setting(_) => NumberField::setting(&path),
            NumberField::Pump(_) => layout.field(&part, &format!("pump.{path}")),
            _ => layout.field(&part, &path),
        };
        assert_eq!(again, Some(field), "{path}");
    }
}

/// A number just outside the range of its field is refused with that range, unless a neighbour refuses it first.
#[test]
fn fields_and_faults_have_one_range() {
    let mut layout = everything();
    // With both of viscosity and density given, any temperature is allowed.
    layout.water.density_kg_m3 = None;
    let mut with_range = 0;
    for (part, field, _) in fields(&layout) {
        let beyond = field.range().most() * 2.0 + 1.0;
        let refused = match field {
            NumberField::Setting(setting) => edit::setting(&layout, setting, beyond),
            field => edit::number(&layout, &part, field, beyond),
        };
        let refused = refused.expect_err(&field.path());
        let range = format!("{}", field.range().most());
        with_range += usize::from(refused.cure.contains(&range) || refused.cure.contains('e'));
    }
    assert!(with_range > 150, "{with_range}");
}
