//! The ends of a run.

use crate::hydraulics::Dual;
use crate::hydraulics::channel::circle::critical_depth;
use crate::hydraulics::openings::inlet::Inlet;
use crate::hydraulics::openings::screen::{Higher, ScreenLaw};
use crate::hydraulics::openings::submerged_weir::{SubmergedWeir, UpperHead};

/// Height of the grade over the lip of an end that discharges into air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outlet {
    /// At the lip: upturned, downturned or permanently submerged.
    Lip,
    /// Critical depth over the invert: a horizontal end, by gravity.
    Critical {
        /// Bore of the end, metres.
        bore_m: f64,
    },
    /// (y_c + D)/2 over the invert: a horizontal end of a run that runs full.
    Full {
        /// Bore of the end, metres.
        bore_m: f64,
    },
    /// Over a sill that acts as a weir, free or submerged: its flow requires a head on its upstream side.
    Sill(Sill),
}

/// A sill between two levels, crossed in either direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sill {
    /// Its height, or that of the point of a vee, metres.
    pub crest_m: f64,
    /// Discharge law of the sill.
    pub weir: SubmergedWeir,
}

impl Sill {
    /// The level on the upstream side for a flow (≥ 0) against the downstream one, with its derivatives.
    pub(super) fn upper(&self, flow_m3_s: f64, lower_m: f64) -> UpperHead {
        let over = self.weir.head_for(flow_m3_s, lower_m - self.crest_m);
        let head_m = if over.head_m.is_finite() && flow_m3_s <= 0.0 && lower_m >= self.crest_m {
            // Exactly the level: subtracting and adding the crest would lose its last digit.
            lower_m
        } else {
            self.crest_m + over.head_m
        };
        UpperHead { head_m, ..over }
    }

    /// Flow over it from the upstream side, m³/s.
    pub(super) fn flow(&self, upper_m: f64, lower_m: f64) -> f64 {
        let tail_m = lower_m - self.crest_m;
        self.weir.flow(upper_m - self.crest_m, tail_m)
    }

    /// Whether the downstream level is above it.
    pub(super) fn is_under(&self, lower_m: f64) -> bool {
        lower_m > self.crest_m
    }
}

impl Outlet {
    /// Height of the grade over the lip and its derivative, metres and m/(m³/s); `flow` ≥ 0.
    pub fn rise(&self, flow_m3_s: f64, gravity_m_s2: f64) -> Dual {
        match *self {
            Outlet::Lip | Outlet::Sill(_) => Dual {
                value: 0.0,
                derivative: 0.0,
            },
            Outlet::Critical { bore_m } => critical_depth(bore_m, flow_m3_s, gravity_m_s2),
            Outlet::Full { bore_m } => {
                let depth = critical_depth(bore_m, flow_m3_s, gravity_m_s2);
                Dual {
                    value: (depth.value + bore_m) / 2.0,
                    derivative: depth.derivative / 2.0,
                }
            }
        }
    }

    /// The same at no flow, metres.
    pub(super) fn rise_at_rest(&self) -> f64 {
        match *self {
            Outlet::Lip | Outlet::Critical { .. } | Outlet::Sill(_) => 0.0,
            Outlet::Full { bore_m } => bore_m / 2.0,
        }
    }
}

/// One end of a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Port {
    /// Height of the lip (invert of a horizontal end), metres; −∞ at a joint.
    pub lip_m: f64,
    /// Its inflow capacity. [`Inlet::Never`] where nothing is ever drawn back through it.
    pub inlet: Inlet,
    /// How it discharges.
    pub outlet: Outlet,
    /// Level below which it draws nothing although its lip is submerged, metres: air enters there through a
    /// hole; none: it draws from its lip on.
    pub draws_from_m: Option<f64>,
    /// The screen before it.
    pub screen: Option<ScreenLaw>,
}

impl Port {
    /// The end of a run at a joint: no lip, no limit.
    pub fn closed() -> Port {
        Port {
            lip_m: f64::NEG_INFINITY,
            inlet: Inlet::Unlimited,
            outlet: Outlet::Lip,
            draws_from_m: None,
            screen: None,
        }
    }

    /// Height above which it draws, metres: its lip, or the hole above it that admits air.
    pub fn intake_m(&self) -> f64 {
        self.draws_from_m
            .map_or(self.lip_m, |from_m| from_m.max(self.lip_m))
    }

    /// Level in the vessel above which it draws, metres: that height, or the foot of the cage before it.
    pub fn opens_m(&self) -> f64 {
        let intake_m = self.intake_m();
        self.screen
            .map_or(intake_m, |screen| screen.sill_m().max(intake_m))
    }

    /// Its inflow capacity at a level in the vessel, m³/s, and the derivative.
    pub fn capacity(&self, level_m: f64) -> Dual {
        let intake_m = self.intake_m();
        match (self.inlet, self.screen) {
            (Inlet::Unlimited, Some(screen)) if level_m <= screen.sill_m() => Dual::ZERO,
            (Inlet::Unlimited, _) => Dual {
                value: f64::INFINITY,
                derivative: 0.0,
            },
            (inlet, None) => inlet.capacity(level_m - intake_m),
            (inlet, Some(screen)) => screen.capacity(&inlet, intake_m, level_m),
        }
    }

    /// The level on the higher side of its screen where a flow (≥ 0) passes it against a lower one; the latter without
    /// a screen.
    pub(super) fn higher(&self, flow_m3_s: f64, lower_m: f64) -> Higher {
        match self.screen {
            Some(screen) => screen.higher(flow_m3_s, lower_m),
            None => Higher {
                level_m: lower_m,
                by_flow: 0.0,
                by_lower: 1.0,
            },
        }
    }
}
