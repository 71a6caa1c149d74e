//! Operating modes: named sets of valve positions.

use super::{Id, Layout};
use serde::{Deserialize, Serialize};

/// An operating mode: the changes from the layout as drawn while it lasts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Way {
    /// Stable id.
    pub id: Id,
    /// Name of the way of running.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Valves with another opening than drawn.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub valves: Vec<ValveSet>,
    /// Equipment that is taken out or bypassed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub out: Vec<EquipmentOut>,
    /// Runs whose pump is off.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pumps_off: Vec<Id>,
    /// Duration, where it is a wash, seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub washing_s: Option<f64>,
}

/// Degree of opening of a valve in an operating mode.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ValveSet {
    /// Run that the valve sits in.
    pub run: Id,
    /// Index of the valve in the run, counted from 0.
    #[serde(default)]
    pub valve: u32,
    /// Degree of opening: 0 shut, 1 fully open.
    pub opening: f64,
}

/// A piece of equipment that is taken out or bypassed in an operating mode.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EquipmentOut {
    /// Run that the equipment sits in.
    pub run: Id,
    /// Name of the equipment.
    pub equipment: String,
}

impl Layout {
    /// Returns a copy of the layout with `way` applied; items of the way that the layout does not have are ignored.
    pub fn in_way(&self, way: &Way) -> Layout {
        let mut layout = self.clone();
        for set in &way.valves {
            let runs = layout.runs.iter_mut().filter(|run| run.id == set.run);
            for run in runs {
                let index = usize::try_from(set.valve).unwrap_or(usize::MAX);
                let valve = run.valves.get_mut(index);
                if let Some(valve) = valve.filter(|valve| valve.opening != set.opening) {
                    valve.opening = set.opening;
                    // The given K applied to the other opening.
                    valve.k = None;
                }
            }
        }
        for run in &mut layout.runs {
            for piece in &mut run.equipment {
                let named = |out: &&EquipmentOut| out.run == run.id && out.equipment == piece.name;
                piece.out |= way.out.iter().any(|out| named(&out));
            }
            if let Some(pump) = run
                .pump
                .as_mut()
                .filter(|_| way.pumps_off.contains(&run.id))
            {
                pump.speed = 0.0;
            }
        }
        layout
    }
}
