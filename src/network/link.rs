//! The data of a link.

use super::law::Sense;
use super::port::Port;
use crate::hydraulics::Dual;
use crate::hydraulics::losses::loss::Loss;
use crate::hydraulics::openings::inlet::{Inlet, rim_spill};
use crate::hydraulics::profile::grade_table::Grade;
use crate::hydraulics::pump::Curve;

/// The directions in which water may pass.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Check {
    /// Both directions.
    #[default]
    None,
    /// From source to target only.
    ForwardOnly,
    /// From target to source only.
    BackwardOnly,
    /// A shut valve: neither direction.
    Shut,
}

impl Check {
    /// Whether no water passes in this direction.
    pub fn stops(self, sense: Sense) -> bool {
        !matches!(
            (self, sense),
            (Check::None, _)
                | (Check::ForwardOnly, Sense::Forward)
                | (Check::BackwardOnly, Sense::Backward)
        )
    }
}

/// A running pump in a run.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpLaw {
    /// Its curve at its speed.
    pub curve: Curve,
    /// It pumps from target to source.
    pub backward: bool,
}

/// A raised-intake overflow at the source end of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Raised {
    /// Its crest, metres.
    pub crest_m: f64,
    /// Discharge law of the crest.
    pub crest: Inlet,
    /// Loss of the rising leg.
    pub rise: Loss,
    /// Air reaches the crest: the flow over it falls freely and exerts no suction.
    pub vented: bool,
    /// It runs as a siphon, full over its crest, so that the crest does not limit the flow; only without a vent.
    pub primed: bool,
}

impl Raised {
    /// Head over the crest that a flow (≥ 0) requires, including the height of the crest, metres; none for a primed
    /// siphon.
    pub(super) fn over_crest(&self, flow_m3_s: f64) -> Option<Dual> {
        let over = || self.crest.head_for(flow_m3_s);
        (!self.primed).then(over).map(|over| Dual {
            value: self.crest_m + over.value,
            derivative: over.derivative,
        })
    }
}

/// The law of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct RunLaw {
    /// Its source end and its target end.
    pub ends: [Port; 2],
    /// Loss of a flow from source to target; without the rising leg of a raised intake.
    pub loss: Loss,
    /// Loss of a flow from target to source, where it differs: entrance and exit change places.
    pub loss_back: Option<Loss>,
    /// Its pump, if one is running.
    pub pump: Option<PumpLaw>,
    /// The directions in which water may pass.
    pub check: Check,
    /// A raised intake at its source end.
    pub raised: Option<Raised>,
    /// The grade marched up the run for forward and backward flow, with air at its high points; none where
    /// that flow counts as filling the run.
    pub grades: [Option<Box<Grade>>; 2],
    /// The same where the run is primed; none where it then runs full.
    pub primed_grades: [Option<Box<Grade>>; 2],
    /// It is full of water over its high points.
    pub primed: bool,
}

/// The rim of a vessel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RimLaw {
    /// Its height, metres.
    pub rim_m: f64,
    /// Its length, metres.
    pub perimeter_m: f64,
    /// C in Q = C·P·h^1.5, SI.
    pub coefficient: f64,
}

impl RimLaw {
    /// Spill at a level, m³/s, and the derivative.
    pub fn flow(&self, level_m: f64) -> Dual {
        rim_spill(self.coefficient, self.perimeter_m, level_m - self.rim_m)
    }
}
