//! Runs: lengths of pipe with their fittings, valves, equipment and pump.

use super::{Edge, Friction, Id, Opening, Place};
use crate::geometry::Corner;
use serde::{Deserialize, Serialize};

/// One end of a run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct End {
    /// The vessel, joint or fixed level it ends at.
    pub at: Id,
    /// How it meets a vessel or a fixed level. None at a joint; none at a fixed level means under water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opening: Option<Opening>,
    /// Where in the plan it is, if not at the middle of the part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// A screen or guard before the opening, at a vessel.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub screen: Option<Screen>,
    /// How its mouth is made: sets both coefficients below, unless they are given.
    #[serde(default, skip_serializing_if = "Edge::is_plain")]
    pub edge: Edge,
    /// C_o of its opening; none: that of its edge, else the layout's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub orifice: Option<f64>,
    /// Entrance loss of its opening; none: that of its edge, else the layout's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entrance_k: Option<f64>,
}

/// A screen before an opening, or a guard around an upstand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Screen {
    /// What it is.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Its whole area across the flow, bars and holes together, m².
    pub area_m2: f64,
    /// Share of that area that is open, above 0 and at most 1.
    pub open_share: f64,
    /// Share of its openings that is blinded, 0 to 1.
    #[serde(default)]
    pub blinded: f64,
    /// Its loss coefficient on the velocity through its openings; else that of a rack of bars.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k: Option<f64>,
    /// It lies on the lip itself and takes a share of it, instead of losing head before it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub on_the_lip: bool,
    /// Foot of a cage, metres above the datum: only its wet part counts. Together with `height_m`, or neither.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foot_m: Option<f64>,
    /// Height of a cage over its foot, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
}

/// One of the two ends of a run, as drawn.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum RunEnd {
    /// Where it starts.
    From,
    /// Where it goes.
    #[default]
    To,
}

impl RunEnd {
    /// Both.
    pub const BOTH: [RunEnd; 2] = [RunEnd::From, RunEnd::To];

    /// Its name in a file.
    pub fn word(self) -> &'static str {
        match self {
            RunEnd::From => "from",
            RunEnd::To => "to",
        }
    }
}

impl RunEnd {
    /// The other one.
    pub fn other(self) -> RunEnd {
        match self {
            RunEnd::From => RunEnd::To,
            RunEnd::To => RunEnd::From,
        }
    }
}

impl Run {
    /// The end on that side.
    pub fn end(&self, which: RunEnd) -> &End {
        match which {
            RunEnd::From => &self.from,
            RunEnd::To => &self.to,
        }
    }

    /// Its pump pushes against its own check valve.
    pub fn pushes_on_check_valve(&self) -> bool {
        let pushes = self.pump.as_ref().map(|pump| pump.pushes);
        let ways = pushes.zip(self.check_valve);
        ways.is_some_and(|(pushes, lets_pass)| pushes != lets_pass && !self.check_valve_failed)
    }

    /// The end on that side, to be changed.
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
        /// Nominal size as people say it.
        size: String,
        /// Roughness in place of the family's, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        roughness_m: Option<f64>,
        /// Hazen–Williams C in place of the family's.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        hazen_williams_c: Option<f64>,
    },
    /// A bore of one's own.
    Own {
        /// Inside bore, metres.
        bore_m: f64,
        /// Roughness, metres; else that of drawn plastic.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        roughness_m: Option<f64>,
        /// Hazen–Williams C; else that of plastic.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        hazen_williams_c: Option<f64>,
    },
    /// No pipe at all: an opening straight into the next vessel. An end without an opening is the same
    /// opening seen from the other side.
    Open,
}

/// Which way along the run, as it was drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// From `from` to `to`.
    #[default]
    Forward,
    /// From `to` to `from`.
    Backward,
}

/// Some fittings of one kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FittingUse {
    /// Key of the kind in the catalogue, or any word where `k` is given.
    pub kind: String,
    /// How many.
    #[serde(default = "one")]
    pub count: u32,
    /// The loss coefficient of one, in place of the catalogue's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k: Option<f64>,
    /// The source of K to take where the catalogue has several.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub choice: Option<String>,
    /// The bore it narrows or widens to, metres (a step in bore), or the bore its K is on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bore_m: Option<f64>,
    /// How far along the length of the run from `from` they sit, all in one place, metres: 0 to that length. None: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_m: Option<f64>,
    /// The end of the run that they sit at; not together with `at_m`. None: not said.
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
    /// 0 shut, 1 fully open.
    #[serde(default = "fully")]
    pub opening: f64,
    /// The loss coefficient at this opening, in place of the catalogue's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub k: Option<f64>,
    /// How far along the length of the run from `from` it sits, metres: 0 to that length. None: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_m: Option<f64>,
    /// The end of the run that it sits at; not together with `at_m`. None: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near: Option<RunEnd>,
}

fn fully() -> f64 {
    1.0
}

fn yes() -> bool {
    true
}

/// Head lost by a piece of equipment.
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
    /// One or two points of its sheet.
    Points(Vec<LossPoint>),
}

/// A point of a loss sheet.
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
    /// What it is.
    pub name: String,
    /// Its loss when clean.
    pub clean: EquipmentLoss,
    /// Its loss when dirty; else as clean.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dirty: Option<EquipmentLoss>,
    /// Its loss when it calls to be washed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_wash: Option<EquipmentLoss>,
    /// The head over it at which it is to be washed, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wash_head_m: Option<f64>,
    /// It is taken out or passed by: it loses nothing.
    #[serde(default)]
    pub out: bool,
    /// How far along the length of the run from `from` it sits, metres: 0 to that length. None: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_m: Option<f64>,
    /// The end of the run that it sits at; not together with `at_m`. None: not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub near: Option<RunEnd>,
}

/// A point of a pump's curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CurvePoint {
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Head, metres.
    pub head_m: f64,
}

/// How a pump's curve is given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum CurveForm {
    /// Points read from its sheet, with rising flow.
    Points(Vec<CurvePoint>),
    /// h = h0 − c·Qⁿ, SI.
    Power {
        /// Head at no flow, metres.
        h0_m: f64,
        /// Coefficient, metres per (m³/s)ⁿ.
        c: f64,
        /// Exponent.
        n: f64,
    },
    /// The two largest numbers of its label and nothing more: what lies between them is a guess.
    Label {
        /// Largest head, at no flow, metres.
        largest_head_m: f64,
        /// Largest flow, at no head, m³/s.
        largest_flow_m3_s: f64,
    },
}

impl CurveForm {
    /// Only a guess: the curve of the pump was not given.
    pub fn is_guess(&self) -> bool {
        matches!(self, CurveForm::Label { .. })
    }
}

/// A point of a pump's efficiency.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EfficiencyPoint {
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Wire to water, above 0 and at most 1.
    pub efficiency: f64,
}

/// The part of the run before the pump.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Suction {
    /// Centre of the pump's inlet, metres above the datum.
    pub elevation_m: f64,
    /// Length of pipe before the pump, metres.
    #[serde(default)]
    pub length_m: f64,
    /// Loss coefficients before the pump, entrance included.
    #[serde(default)]
    pub total_k: f64,
}

/// A float switch: levels at which a pump starts and stops.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FloatSwitch {
    /// Level at which the pump starts, metres above the datum.
    pub on_m: f64,
    /// Level at which it stops, metres above the datum: under `on_m` where the pump empties the vessel,
    /// over it where the pump fills it.
    pub off_m: f64,
    /// The vessel whose level counts; else the one that the pump draws from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<Id>,
}

/// A point of the suction head that a pump asks for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NpshPoint {
    /// Flow, m³/s.
    pub flow_m3_s: f64,
    /// Net positive suction head required there, metres.
    pub npsh_m: f64,
}

/// A hole through which air enters and breaks a siphon.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SiphonBreak {
    /// Height of the hole, metres above the datum.
    pub height_m: f64,
    /// Bore of the hole, metres.
    pub bore_m: f64,
    /// The end of the run that it is near.
    #[serde(default)]
    pub near: RunEnd,
}

/// A pump in a run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pump {
    /// Stable id.
    pub id: Id,
    /// What it is.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Its curve at full speed.
    pub curve: CurveForm,
    /// Which way it pushes, along the run as drawn.
    #[serde(default)]
    pub pushes: Direction,
    /// Speed as a share of the curve's own.
    #[serde(default = "fully")]
    pub speed: f64,
    /// Loss coefficient of the pump standing still, on the run's bore.
    #[serde(default)]
    pub stopped_k: f64,
    /// Efficiency by flow, wire to water; none: power is not given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub efficiency: Vec<EfficiencyPoint>,
    /// What lies before it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub suction: Option<Suction>,
    /// It stands under water; none: it does where no `suction` is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wet: Option<bool>,
    /// A float switch that starts and stops it; none: it runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub float: Option<FloatSwitch>,
    /// It stops when it draws no water, and starts again when there is some.
    #[serde(default = "yes")]
    pub stops_when_dry: bool,
    /// Net positive suction head that it asks for by flow; none: not known.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub npsh_required: Vec<NpshPoint>,
}

impl Pump {
    /// It stands under water.
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
    /// What people call it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Where it starts.
    pub from: End,
    /// Where it goes.
    pub to: End,
    /// Its pipe.
    pub pipe: Pipe,
    /// Corners between its ends; the ends themselves are added.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub route: Vec<Corner>,
    /// Its length in place of the route's, metres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_m: Option<f64>,
    /// Its fittings.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fittings: Vec<FittingUse>,
    /// Its valves.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub valves: Vec<ValveUse>,
    /// Filters, heaters and the like in it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub equipment: Vec<Equipment>,
    /// Its pump.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pump: Option<Pump>,
    /// A check valve, and which way it lets water pass.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub check_valve: Option<Direction>,
    /// Its check valve has failed open: it holds nothing back, and loses what it lost before.
    #[serde(default)]
    pub check_valve_failed: bool,
    /// A hole that lets air in and breaks a siphon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub siphon_break: Option<SiphonBreak>,
    /// Somebody fills it by hand before use.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub starts_primed: bool,
    /// One loss coefficient on its bore that replaces entrance, exit, fittings and open valves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub total_k: Option<f64>,
    /// A Darcy friction factor held fixed, in place of any law.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction_factor: Option<f64>,
    /// Its own friction law in place of the layout's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub friction: Option<Friction>,
    /// It carries solids, and must flow fast enough to keep them moving.
    #[serde(default)]
    pub carries_solids: bool,
    /// It stands already: proposals leave it alone.
    #[serde(default)]
    pub already_built: bool,
}
