//! Where fittings, valves and equipment sit along their run.

use super::{Equipment, FittingUse, Run, RunEnd, ValveUse};

/// Where something sits along its run; on its own values, to be read or changed.
pub struct PlacedMut<'a> {
    /// How far it is from `from`, metres.
    pub at_m: &'a mut Option<f64>,
    /// The end that it sits at.
    pub near: &'a mut Option<RunEnd>,
}

impl FittingUse {
    /// Its place along the run was given.
    pub fn is_placed(&self) -> bool {
        self.at_m.is_some() || self.near.is_some()
    }

    /// It is an entrance or an exit, by its key: it sits at an end of the run and nowhere along it.
    pub fn is_entrance_or_exit(&self) -> bool {
        self.kind == "exit" || self.kind.starts_with("entrance-")
    }
}

impl Run {
    /// The places of its fittings, then of its valves, then of its equipment, each in the order of the file.
    pub fn places(&self) -> impl Iterator<Item = (Option<f64>, Option<RunEnd>)> + '_ {
        let fittings = self.fittings.iter().map(|one| (one.at_m, one.near));
        let valves = self.valves.iter().map(|one| (one.at_m, one.near));
        let equipment = self.equipment.iter().map(|one| (one.at_m, one.near));
        fittings.chain(valves).chain(equipment)
    }

    /// The same places, to be changed.
    pub fn places_mut(&mut self) -> impl Iterator<Item = PlacedMut<'_>> {
        let fittings = self.fittings.iter_mut();
        let fittings = fittings.map(|FittingUse { at_m, near, .. }| PlacedMut { at_m, near });
        let valves = self.valves.iter_mut();
        let valves = valves.map(|ValveUse { at_m, near, .. }| PlacedMut { at_m, near });
        let equipment = self.equipment.iter_mut();
        let equipment = equipment.map(|Equipment { at_m, near, .. }| PlacedMut { at_m, near });
        fittings.chain(valves).chain(equipment)
    }
}
