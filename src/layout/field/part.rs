//! A part that a field is set in.

use super::{NumberField, NumberSlot};
use crate::layout::{Fixed, Joint, Run, Vessel};

/// A part to change in place.
#[derive(Debug)]
pub enum PartMut<'a> {
    /// A vessel.
    Vessel(&'a mut Vessel),
    /// A joint.
    Joint(&'a mut Joint),
    /// A fixed level.
    Fixed(&'a mut Fixed),
    /// A run, with its pump.
    Run(&'a mut Run),
}

impl NumberField {
    /// The number to change in place; none where this part, or what the number belongs to, does not have it.
    pub fn slot(self, part: PartMut<'_>) -> Option<NumberSlot<'_>> {
        match (self, part) {
            (NumberField::Vessel(field), PartMut::Vessel(part)) => field.slot(part),
            (NumberField::Joint(field), PartMut::Joint(part)) => field.slot(part),
            (NumberField::Fixed(field), PartMut::Fixed(part)) => field.slot(part),
            (NumberField::Run(field), PartMut::Run(part)) => field.slot(part),
            (NumberField::End(end, field), PartMut::Run(part)) => field.slot(part.end_mut(end)),
            (NumberField::Loss(index, condition, field), PartMut::Run(part)) => {
                field.slot(condition.of_mut(part.equipment.get_mut(index)?)?)
            }
            (NumberField::Pump(field), PartMut::Run(part)) => field.slot(part.pump.as_mut()?),
            _ => None,
        }
    }
}
