//! Operating modes: named sets of valve positions.

use super::{Id, Layout};
use serde::{Deserialize, Serialize};

/// An operating mode: what stands otherwise than drawn while it lasts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Way {
    /// Stable id.
    pub id: Id,
    /// What people call it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Valves that stand otherwise.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub valves: Vec<ValveSet>,
    /// Equipment that is taken out or passed by.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub out: Vec<EquipmentOut>,
    /// Runs whose pump is off.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pumps_off: Vec<Id>,
    /// How long it lasts where it is a washing, seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub washing_s: Option<f64>,
}

/// How far a valve is open in an operating mode.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ValveSet {
    /// The run that it sits in.
    pub run: Id,
    /// Which of the run's valves, counted from 0.
    #[serde(default)]
    pub valve: u32,
    /// 0 shut, 1 fully open.
    pub opening: f64,
}

/// A piece of equipment that is out in an operating mode.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EquipmentOut {
    /// The run that it sits in.
    pub run: Id,
    /// Its name.
    pub equipment: String,
}

impl Layout {
    /// The same layout with everything standing as in `way`; what the way names and is not there is passed over.
    pub fn in_way(&self, way: &Way) -> Layout {
        let mut layout = self.clone();
        for set in &way.valves {
            let runs = layout.runs.iter_mut().filter(|run| run.id == set.run);
            for run in runs {
                let index = usize::try_from(set.valve).unwrap_or(usize::MAX);
                let valve = run.valves.get_mut(index);
                if let Some(valve) = valve.filter(|valve| valve.opening != set.opening) {
                    valve.opening = set.opening;
                    // A K of its own was given for the other opening.
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
