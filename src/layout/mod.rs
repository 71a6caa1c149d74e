//! The layout: what the user drew, as plain data in SI.
//!
//! Invariant: has no reference to a file, a finding, a result or a selection. A layout may be bad plumbing (a crest
//! above its rim, a run that climbs) and is still a layout. The conditions for valid data are in [`fault`].

mod fault;
mod field;
mod id;
mod opening;
mod overlap;
mod placed;
mod range;
mod route;
mod run;
mod settings;
mod underlay;
mod vessel;
mod way;

pub use fault::{Fault, FaultText, MOST_PARTS};
pub use field::{
    EndField, FixedField, JointField, LossCondition, LossField, NumberField, NumberSlot, PartMut,
    PumpField, RunField, SettingField, VesselField,
};
pub use id::Id;
pub use opening::{CrestKind, Edge, NotchShape, Opening, Rise, Turned, Vent};
pub use overlap::{Overlap, TOUCH_M, overlaps};
pub use placed::PlacedMut;
pub use range::Range;
pub use run::{
    CurveForm, CurvePoint, Direction, EfficiencyPoint, End, Equipment, EquipmentLoss, FittingUse,
    FloatSwitch, LossPoint, NpshPoint, Pipe, Pump, Run, RunEnd, Screen, SiphonBreak, Suction,
    ValveUse,
};
pub use settings::{Ageing, Coefficients, Friction, HazenWilliams, Limits, WaterSettings, Weather};
pub use underlay::Underlay;
pub use vessel::{
    Fixed, FixedRole, FloatValve, Joint, Medium, Place, Role, Shape, TableRow, Vessel,
};
pub use way::{EquipmentOut, ValveSet, Way};

use crate::units::UnitSystem;
use serde::{Deserialize, Serialize};
use std::collections::HashMap;

/// The whole drawing: one file.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layout {
    /// Title of the drawing.
    pub title: String,
    /// Units shown to the reader; the data are always SI.
    #[serde(default)]
    pub units: UnitSystem,
    /// The water: its temperature, or its viscosity and density directly.
    #[serde(default)]
    pub water: WaterSettings,
    /// Friction law of every run that does not set another.
    #[serde(default)]
    pub friction: Friction,
    /// Coefficients of openings and rims.
    #[serde(default)]
    pub coefficients: Coefficients,
    /// Limits that the check applies.
    #[serde(default)]
    pub limits: Limits,
    /// Effects of ageing on the system.
    #[serde(default)]
    pub ageing: Ageing,
    /// Rain and evaporation.
    #[serde(default)]
    pub weather: Weather,
    /// Flow of the hose for the first fill, m³/s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_fill_m3_s: Option<f64>,
    /// All parts with a free surface.
    #[serde(default)]
    pub vessels: Vec<Vessel>,
    /// Tees and manifolds, where runs meet without a free surface.
    #[serde(default)]
    pub joints: Vec<Joint>,
    /// Supplies and wastes with a constant level.
    #[serde(default)]
    pub fixed: Vec<Fixed>,
    /// Every pipe with its fittings, valves, equipment and pump.
    #[serde(default)]
    pub runs: Vec<Run>,
    /// Ways of running: named sets of valve positions.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ways: Vec<Way>,
    /// A picture of the site under the plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub underlay: Option<Underlay>,
}

impl Layout {
    /// Returns the vessel with this id.
    pub fn vessel(&self, id: &Id) -> Option<&Vessel> {
        self.vessels.iter().find(|vessel| vessel.id == *id)
    }

    /// Returns the run with this id.
    pub fn run(&self, id: &Id) -> Option<&Run> {
        self.runs.iter().find(|run| run.id == *id)
    }

    /// Returns the name of every part by id, or the id where no name was given. For many parts it is faster
    /// than [`Layout::name_of`].
    pub fn names(&self) -> HashMap<&Id, &str> {
        let vessels = self.vessels.iter().map(|part| (&part.id, &part.name));
        let joints = self.joints.iter().map(|part| (&part.id, &part.name));
        let fixed = self.fixed.iter().map(|part| (&part.id, &part.name));
        let runs = self.runs.iter().map(|part| (&part.id, &part.name));
        let pumps = self.runs.iter().filter_map(|run| run.pump.as_ref());
        let pumps = pumps.map(|part| (&part.id, &part.name));
        let ways = self.ways.iter().map(|part| (&part.id, &part.name));
        let parts = vessels.chain(joints).chain(fixed).chain(runs).chain(pumps);
        let all = parts.chain(ways);
        all.map(|(id, name)| (id, if name.is_empty() { id.as_str() } else { name }))
            .collect()
    }

    /// Returns the name of the part with this id, or the id where no name was given.
    pub fn name_of<'a>(&'a self, id: &'a Id) -> &'a str {
        let vessels = self.vessels.iter().map(|part| (&part.id, &part.name));
        let joints = self.joints.iter().map(|part| (&part.id, &part.name));
        let fixed = self.fixed.iter().map(|part| (&part.id, &part.name));
        let runs = self.runs.iter().map(|part| (&part.id, &part.name));
        let pumps = self.runs.iter().filter_map(|run| run.pump.as_ref());
        let pumps = pumps.map(|part| (&part.id, &part.name));
        let ways = self.ways.iter().map(|part| (&part.id, &part.name));
        let parts = vessels.chain(joints).chain(fixed).chain(runs).chain(pumps);
        let mut all = parts.chain(ways);
        match all.find(|(part, name)| *part == id && !name.is_empty()) {
            Some((_, name)) => name,
            None => id.as_str(),
        }
    }
}
