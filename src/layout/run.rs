//! Runs: lengths of pipe with their fittings, valves, equipment and pump.

use super::{Edge, Friction, Id, Opening, Place};
use crate::geometry::Corner;
use serde::{Deserialize, Serialize};

/// One end of a run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct End {
    /// Id of the vessel, joint or fixed level that it ends at.
    pub at: Id,
    /// Opening into a vessel or a fixed level. `None` at a joint; `None` at a fixed level means under water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opening: Option<Opening>,
    /// Position in the plan; `None`: at the middle of the part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// Screen or guard before the opening, at a vessel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub screen: Option<Screen>,
    /// Edge of its mouth; sets the two coefficients below unless they are given.
    #[serde(default, skip_serializing_if = "Edge::is_plain")]
    pub edge: Edge,
    /// C_o of its opening; `None`: that of its edge, else the layout's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub orifice: Option<f64>,
    /// Entrance loss coefficient of its opening; `None`: that of its edge, else the layout's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entrance_k: Option<f64>,
}

/// A screen before an opening, or a guard around an upstand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Screen {
    /// Name of the screen.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Gross area across the flow, bars and openings together, m².
    pub area_m2: f64,
    /// Share of that area that is open, above 0 and at most 1.
    pub open_share: f64,
    /// Share of the openings that is blinded, 0 to 1.
    #[serde(default)]
    pub blinded: f64,
    /// Loss coefficient on the velocity through its openings; `None`: that of a rack of bars.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k: Option<f64>,
    /// Whether it lies on the lip and blocks a share of it, instead of losing head before it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub on_the_lip: bool,
    /// Foot of a cage, metres above the datum: only its wetted part passes water. Given together with `height_m` or not
    /// at all.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foot_m: Option<f64>,
    /// Height of a cage above its foot, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
}

/// One of the two ends of a run, as drawn.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum RunEnd {
    /// The end where the run starts.
    From,
    /// The end where the run goes.
    #[default]
    To,
}

impl RunEnd {
    /// Both ends.
    pub const BOTH: [RunEnd; 2] = [RunEnd::From, RunEnd::To];

    /// Returns its name in a file.
    pub fn word(self) -> &'static str {
        match self {
            RunEnd::From => "from",
            RunEnd::To => "to",
        }
    }
}

impl RunEnd {
    /// Returns the other end.
    pub fn other(self) -> RunEnd {
        match self {
            RunEnd::From => RunEnd::To,
            RunEnd::To => RunEnd::From,
        }
    }
}

impl Run {
    /// Returns the end on that side.
    pub fn end(&self, which: RunEnd) -> &End {
        match which {
            RunEnd::From => &self.from,
            RunEnd::To => &self.to,
        }
    }

    /// Returns whether the pump pushes against the run's check valve.
    pub fn pushes_on_check_valve(&self) -> bool {
        let pushes = self.pump.as_ref().map(|pump| pump.pushes);
        let ways = pushes.zip(self.check_valve);
        ways.is_some_and(|(pushes, lets_pass)| pushes != lets_pass && !self.check_valve_failed)
    }

    /// Returns the end on that side, mutable.
    pub fn end_mut(&mut self, which: RunEnd) -> &mut End {
        match which {
            RunEnd::From => &mut self.from,
            RunEnd::To => &mut self.to,
        }
    }
}

/// The pipe of a run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Pipe {
    /// A pipe that can be bought: family and nominal size, as in the catalogue.
    Bought {
        /// Key of the family.
        family: String,
        /// Nominal size, in any usual spelling.
        size: String,
        /// Roughness in place of that of the family, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        roughness_m: Option<f64>,
        /// Hazen–Williams C in place of that of the family.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        hazen_williams_c: Option<f64>,
    },
    /// A pipe given by its bore.
    Own {
        /// Inside bore, metres.
        bore_m: f64,
        /// Roughness, metres; `None`: that of drawn plastic.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        roughness_m: Option<f64>,
        /// Hazen–Williams C; `None`: that of plastic.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        hazen_williams_c: Option<f64>,
    },
    /// No pipe: an opening straight into the next vessel. An end without an opening is the other side of that opening.
    Open,
}

/// Direction along the run, as drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// From `from` to `to`.
    #[default]
    Forward,
    /// From `to` to `from`.
    Backward,
}

/// Fittings of one kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FittingUse {
    /// Key of the kind in the catalogue, or any word where `k` is given.
    pub kind: String,
    /// Number of fittings.
    #[serde(default = "one")]
    pub count: u32,
    /// Loss coefficient of one fitting, in place of that of the catalogue.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k: Option<f64>,
    /// Source of K to use where the catalogue has several.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub choice: Option<String>,
    /// Bore after a step in bore, metres, or the bore that K is based on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bore_m: Option<f64>,
    /// Distance along the run from `from`, metres, the same for all of them: 0 to the length of the run; `None`: not
    /// given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_m: Option<f64>,
    /// End of the run that they sit at; not together with `at_m`. `None`: not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near: Option<RunEnd>,
}

fn one() -> u32 {
    1
}

/// A valve and how far it is open.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ValveUse {
    /// Key of the kind in the catalogue, or any word where `k` is given.
    pub kind: String,
    /// Degree of opening: 0 shut, 1 fully open.
    #[serde(default = "fully")]
    pub opening: f64,
    /// Loss coefficient at this opening, in place of that of the catalogue.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k: Option<f64>,
    /// Distance along the run from `from`, metres: 0 to the length of the run; `None`: not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_m: Option<f64>,
    /// End of the run that it sits at; not together with `at_m`. `None`: not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near: Option<RunEnd>,
}

fn fully() -> f64 {
    1.0
}

fn yes() -> bool {
    true
}

/// Head loss of a piece of equipment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum EquipmentLoss {
    /// h = a·Q + b·Q², SI.
    Terms {
        /// Metres per m³/s.
        a: f64,
        /// Metres per (m³/s)².
        b: f64,
    },
    /// One or two points of its data sheet.
    Points(Vec<LossPoint>),
}

/// A point of a head-loss data sheet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LossPoint {
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Head lost, metres.
    pub head_m: f64,
}

/// A filter, heater, lamp or meter in a run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Equipment {
    /// Name of the equipment.
    pub name: String,
    /// Head loss when clean.
    pub clean: EquipmentLoss,
    /// Head loss when dirty; `None`: as when clean.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dirty: Option<EquipmentLoss>,
    /// Head loss at which it is due for washing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_wash: Option<EquipmentLoss>,
    /// Head loss at which it is to be washed, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wash_head_m: Option<f64>,
    /// Whether it is taken out or bypassed and so loses no head.
    #[serde(default)]
    pub out: bool,
    /// Distance along the run from `from`, metres: 0 to the length of the run; `None`: not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_m: Option<f64>,
    /// End of the run that it sits at; not together with `at_m`. `None`: not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near: Option<RunEnd>,
}

/// A point of a pump curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CurvePoint {
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Head, metres.
    pub head_m: f64,
}

/// Form in which a pump curve is given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum CurveForm {
    /// Points of its data sheet, in order of rising flow.
    Points(Vec<CurvePoint>),
    /// h = h0 − c·Qⁿ, SI.
    Power {
        /// Shut-off head, metres.
        h0_m: f64,
        /// Coefficient, metres per (m³/s)ⁿ.
        c: f64,
        /// Exponent.
        n: f64,
    },
    /// Only the two largest values on its label; the curve between them is a guess.
    Label {
        /// Largest head, at no flow, metres.
        largest_head_m: f64,
        /// Largest flow, at no head, m³/s.
        largest_flow_m3_s: f64,
    },
}

impl CurveForm {
    /// Returns whether the curve is only a guess because none was given.
    pub fn is_guess(&self) -> bool {
        matches!(self, CurveForm::Label { .. })
    }
}

/// A point of a pump's efficiency curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EfficiencyPoint {
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Wire-to-water efficiency, above 0 and at most 1.
    pub efficiency: f64,
}

/// Part of the run before the pump.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Suction {
    /// Elevation of the centre of the pump inlet, metres above the datum.
    pub elevation_m: f64,
    /// Length of pipe before the pump, metres.
    #[serde(default)]
    pub length_m: f64,
    /// Total loss coefficient before the pump, entrance included.
    #[serde(default)]
    pub total_k: f64,
}

/// A float switch that starts and stops a pump at two levels.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FloatSwitch {
    /// Level at which the pump starts, metres above the datum.
    pub on_m: f64,
    /// Level at which the pump stops, metres above the datum: below `on_m` if the pump empties the vessel, above it if
    /// the pump fills it.
    pub off_m: f64,
    /// Vessel whose level operates the switch; `None`: the one that the pump draws from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<Id>,
}

/// A point of the curve of required net positive suction head.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NpshPoint {
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Net positive suction head required at that flow, metres.
    pub npsh_m: f64,
}

/// A hole through which air enters and breaks a siphon.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SiphonBreak {
    /// Elevation of the hole, metres above the datum.
    pub height_m: f64,
    /// Bore of the hole, metres.
    pub bore_m: f64,
    /// End of the run that the hole is near.
    #[serde(default)]
    pub near: RunEnd,
}

/// A pump in a run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pump {
    /// Stable id.
    pub id: Id,
    /// Name of the pump.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Pump curve at full speed.
    pub curve: CurveForm,
    /// Direction it pushes, along the run as drawn.
    #[serde(default)]
    pub pushes: Direction,
    /// Speed as a share of the speed of the curve.
    #[serde(default = "fully")]
    pub speed: f64,
    /// Loss coefficient of the pump when stopped, based on the bore of the run.
    #[serde(default)]
    pub stopped_k: f64,
    /// Wire-to-water efficiency by flow; empty: no power is computed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub efficiency: Vec<EfficiencyPoint>,
    /// Suction pipe before the pump.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub suction: Option<Suction>,
    /// Whether it is under water; `None`: it is if no `suction` is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wet: Option<bool>,
    /// Float switch that starts and stops it; `None`: it always runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub float: Option<FloatSwitch>,
    /// Whether it stops when it draws no water and starts again when there is some.
    #[serde(default = "yes")]
    pub stops_when_dry: bool,
    /// Net positive suction head required, by flow; empty: not known.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub npsh_required: Vec<NpshPoint>,
}

impl Pump {
    /// Returns whether the pump is under water.
    pub fn is_wet(&self) -> bool {
        self.wet.unwrap_or(self.suction.is_none())
    }
}

/// A length of pipe with its fittings between two ends.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// Stable id.
    pub id: Id,
    /// Name of the run.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// The end where it starts.
    pub from: End,
    /// The end where it goes.
    pub to: End,
    /// Pipe of the run.
    pub pipe: Pipe,
    /// Corners between the two ends, which are not included.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub route: Vec<Corner>,
    /// Length in place of that of the route, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_m: Option<f64>,
    /// Fittings in the run.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fittings: Vec<FittingUse>,
    /// Valves in the run.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub valves: Vec<ValveUse>,
    /// Filters, heaters and the like in the run.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub equipment: Vec<Equipment>,
    /// Pump in the run.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pump: Option<Pump>,
    /// Direction in which its check valve lets water pass; `None`: no check valve.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub check_valve: Option<Direction>,
    /// Whether its check valve has failed open: it no longer stops backflow, but loses the same head.
    #[serde(default)]
    pub check_valve_failed: bool,
    /// A hole that lets air in and breaks a siphon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub siphon_break: Option<SiphonBreak>,
    /// Whether it is filled by hand before use.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub starts_primed: bool,
    /// Single loss coefficient on its bore, in place of entrance, exit, fittings and open valves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total_k: Option<f64>,
    /// Constant Darcy friction factor, in place of any friction law.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction_factor: Option<f64>,
    /// Friction law in place of the layout's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction: Option<Friction>,
    /// Whether it carries solids and must flow fast enough to keep them moving.
    #[serde(default)]
    pub carries_solids: bool,
    /// Whether it is already built; proposals leave it unchanged.
    #[serde(default)]
    pub already_built: bool,
}
