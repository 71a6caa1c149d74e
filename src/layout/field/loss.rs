//! Numbers of the head loss of equipment.

use super::NumberSlot;
use super::parse::indices;
use super::reach::{FieldValue, fields, index, reach};
use crate::layout::range::{self, Range};
use crate::layout::{Equipment, EquipmentLoss};
use crate::units::Quantity;

/// The condition of equipment that a head loss holds for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LossCondition {
    /// As new.
    Clean,
    /// In use.
    Dirty,
    /// When it is washed.
    AtWash,
}

impl LossCondition {
    /// All of them.
    pub const ALL: [LossCondition; 3] = [
        LossCondition::Clean,
        LossCondition::Dirty,
        LossCondition::AtWash,
    ];

    /// The word of a file.
    pub fn word(self) -> &'static str {
        match self {
            LossCondition::Clean => "clean",
            LossCondition::Dirty => "dirty",
            LossCondition::AtWash => "at_wash",
        }
    }

    /// The loss of a piece of equipment in this condition, where it is given.
    pub(super) fn of(self, piece: &Equipment) -> Option<&EquipmentLoss> {
        match self {
            LossCondition::Clean => Some(&piece.clean),
            LossCondition::Dirty => piece.dirty.as_ref(),
            LossCondition::AtWash => piece.at_wash.as_ref(),
        }
    }

    /// The same, to change in place.
    pub(super) fn of_mut(self, piece: &mut Equipment) -> Option<&mut EquipmentLoss> {
        match self {
            LossCondition::Clean => Some(&mut piece.clean),
            LossCondition::Dirty => piece.dirty.as_mut(),
            LossCondition::AtWash => piece.at_wash.as_mut(),
        }
    }
}

fields! {
    /// A number of a head loss.
    LossField of EquipmentLoss {
        /// Loss by flow.
        A "terms.a" Ratio LOSS_TERM [(EquipmentLoss::Terms => a)];
        /// Loss by flow squared.
        B "terms.b" Ratio LOSS_TERM [(EquipmentLoss::Terms => b)];
        /// Flow of a point.
        PointFlow(point) "points.{}.flow_m3_s" Flow SHEET_FLOW [(EquipmentLoss::Points => (points)) [point] .flow_m3_s];
        /// Head of a point.
        PointHead(point) "points.{}.head_m" Head LOSS_HEAD [(EquipmentLoss::Points => (points)) [point] .head_m];
    }
}
