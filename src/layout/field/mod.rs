//! Typed fields: one number of a part or of the settings, with its quantity, its range and its path in a file.
//!
//! Edits, panels, cures and findings name a number by its field. Text is made of it only for files and JSON.

mod end;
mod loss;
mod parse;
mod part;
mod pump;
mod reach;
mod run;
mod setting;
mod vessel;

pub use end::EndField;
pub use loss::{LossCondition, LossField};
pub use part::PartMut;
pub use pump::PumpField;
pub use reach::NumberSlot;
pub use run::RunField;
pub use setting::SettingField;
pub use vessel::{FixedField, JointField, VesselField};

use super::range::Range;
use super::{Id, Layout, RunEnd};
use crate::units::Quantity;

/// A number of a part of a layout, or of its settings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NumberField {
    /// Of a vessel.
    Vessel(VesselField),
    /// Of a joint.
    Joint(JointField),
    /// Of a fixed level.
    Fixed(FixedField),
    /// Of a run.
    Run(RunField),
    /// Of one end of a run.
    End(RunEnd, EndField),
    /// Of the head loss of equipment in a run: its index, its condition, the number.
    Loss(usize, LossCondition, LossField),
    /// Of the pump of a run.
    Pump(PumpField),
    /// Of the whole layout.
    Setting(SettingField),
}

impl NumberField {
    /// What it measures, for display.
    pub fn quantity(self) -> Quantity {
        match self {
            NumberField::Vessel(field) => field.quantity(),
            NumberField::Joint(field) => field.quantity(),
            NumberField::Fixed(field) => field.quantity(),
            NumberField::Run(field) => field.quantity(),
            NumberField::End(_, field) => field.quantity(),
            NumberField::Loss(_, _, field) => field.quantity(),
            NumberField::Pump(field) => field.quantity(),
            NumberField::Setting(field) => field.quantity(),
        }
    }

    /// The range that it must be in, whatever the rest of the layout; neighbours may narrow it.
    pub fn range(self) -> &'static Range {
        match self {
            NumberField::Vessel(field) => field.range(),
            NumberField::Joint(field) => field.range(),
            NumberField::Fixed(field) => field.range(),
            NumberField::Run(field) => field.range(),
            NumberField::End(_, field) => field.range(),
            NumberField::Loss(_, _, field) => field.range(),
            NumberField::Pump(field) => field.range(),
            NumberField::Setting(field) => field.range(),
        }
    }

    /// Its path in a file, dotted from the part: `rim_m`, `from.opening.upstand.crest_m`, `valves.0.opening`. Of a
    /// pump it is dotted from the pump, of a setting from the layout.
    pub fn path(self) -> String {
        match self {
            NumberField::Vessel(field) => field.path(),
            NumberField::Joint(field) => field.path(),
            NumberField::Fixed(field) => field.path(),
            NumberField::Run(field) => field.path(),
            NumberField::End(end, field) => format!("{}.{}", end.word(), field.path()),
            NumberField::Loss(index, condition, field) => {
                format!("equipment.{index}.{}.{}", condition.word(), field.path())
            }
            NumberField::Pump(field) => field.path(),
            NumberField::Setting(field) => field.path(),
        }
    }
}

impl Layout {
    /// The number in a field of a part, SI; none where the part, or what the number belongs to, is missing, and where
    /// it is left out. A pump has its own id or that of its run; settings belong to no part.
    pub fn number(&self, part: &Id, field: NumberField) -> Option<f64> {
        let run = || self.run(part);
        match field {
            NumberField::Vessel(field) => field.get(self.vessel(part)?),
            NumberField::Joint(field) => {
                field.get(self.joints.iter().find(|joint| joint.id == *part)?)
            }
            NumberField::Fixed(field) => field.get(self.fixed.iter().find(|one| one.id == *part)?),
            NumberField::Run(field) => field.get(run()?),
            NumberField::End(end, field) => field.get(run()?.end(end)),
            NumberField::Loss(index, condition, field) => {
                field.get(condition.of(run()?.equipment.get(index)?)?)
            }
            NumberField::Pump(field) => {
                let run = run().or_else(|| self.run_of_pump(part))?;
                field.get(run.pump.as_ref()?)
            }
            NumberField::Setting(field) => field.get(self),
        }
    }
}

/// Lets a field of one kind of part stand where any field may.
macro_rules! is_number_field {
    ($($kind:ident $field:ident),*) => {
        $(impl From<$field> for NumberField {
            fn from(field: $field) -> NumberField {
                NumberField::$kind(field)
            }
        })*
    };
}

is_number_field!(
    Vessel VesselField,
    Joint JointField,
    Fixed FixedField,
    Run RunField,
    Pump PumpField,
    Setting SettingField
);
