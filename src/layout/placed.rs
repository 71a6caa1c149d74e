//! Positions of fittings, valves and equipment along their run.

use super::{Equipment, FittingUse, Run, RunEnd, ValveUse};

/// Mutable access to the position of an item along its run.
pub struct PlacedMut<'a> {
    /// Distance from `from`, metres.
    pub at_m: &'a mut Option<f64>,
    /// End of the run that it sits at.
    pub near: &'a mut Option<RunEnd>,
}

impl FittingUse {
    /// Returns whether a position along the run was given.
    pub fn is_placed(&self) -> bool {
        self.at_m.is_some() || self.near.is_some()
    }

    /// Returns whether it is an entrance or exit by its key, and so sits at an end of the run and nowhere along it.
    pub fn is_entrance_or_exit(&self) -> bool {
        self.kind == "exit" || self.kind.starts_with("entrance-")
    }
}

impl Run {
    /// Returns the positions of the fittings, then of the valves, then of the equipment, each in the order of the file.
    pub fn places(&self) -> impl Iterator<Item = (Option<f64>, Option<RunEnd>)> + '_ {
        let fittings = self.fittings.iter().map(|one| (one.at_m, one.near));
        let valves = self.valves.iter().map(|one| (one.at_m, one.near));
        let equipment = self.equipment.iter().map(|one| (one.at_m, one.near));
        fittings.chain(valves).chain(equipment)
    }

    /// Returns the same positions as [`Run::places`], mutable.
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
