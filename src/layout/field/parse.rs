//! Fields from paths: where text comes in.

use super::{
    EndField, FixedField, JointField, LossCondition, LossField, NumberField, PumpField, RunField,
    SettingField, VesselField,
};
use crate::layout::{Id, Layout, RunEnd};

impl Layout {
    /// The field of a part with this path in a file, as [`NumberField::path`] writes it; none where there is no such
    /// part, or no number in it has this path. The pump of a run is found as `pump.…` too.
    pub fn field(&self, part: &Id, path: &str) -> Option<NumberField> {
        if self.vessel(part).is_some() {
            VesselField::parse(path).map(NumberField::Vessel)
        } else if self.joints.iter().any(|joint| joint.id == *part) {
            JointField::parse(path).map(NumberField::Joint)
        } else if self.fixed.iter().any(|fixed| fixed.id == *part) {
            FixedField::parse(path).map(NumberField::Fixed)
        } else if self.run(part).is_some() {
            of_run(path)
        } else {
            self.run_of_pump(part)?;
            PumpField::parse(path).map(NumberField::Pump)
        }
    }
}

impl NumberField {
    /// The setting with this path in a file.
    pub fn setting(path: &str) -> Option<NumberField> {
        SettingField::parse(path).map(NumberField::Setting)
    }
}

fn of_run(path: &str) -> Option<NumberField> {
    let (first, rest) = path.split_once('.').unwrap_or((path, ""));
    for end in RunEnd::BOTH {
        if first == end.word() {
            return EndField::parse(rest).map(|field| NumberField::End(end, field));
        }
    }
    if first == "pump" {
        return PumpField::parse(rest).map(NumberField::Pump);
    }
    RunField::parse(path)
        .map(NumberField::Run)
        .or_else(|| of_loss(path))
}

fn of_loss(path: &str) -> Option<NumberField> {
    let (index, rest) = path.strip_prefix("equipment.")?.split_once('.')?;
    let (condition, rest) = rest.split_once('.')?;
    let condition = LossCondition::ALL
        .into_iter()
        .find(|one| one.word() == condition)?;
    let field = LossField::parse(rest)?;
    Some(NumberField::Loss(index.parse().ok()?, condition, field))
}

/// The numbers in `path` where `form` has `{}`; none where they differ elsewhere.
pub(super) fn indices(path: &str, form: &str) -> Option<Vec<usize>> {
    let (mut path, mut form) = (path.split('.'), form.split('.'));
    let mut found = Vec::new();
    loop {
        match (path.next(), form.next()) {
            (Some(step), Some("{}")) => found.push(step.parse().ok()?),
            (Some(step), Some(wanted)) if step == wanted => {}
            (None, None) => return Some(found),
            _ => return None,
        }
    }
}
