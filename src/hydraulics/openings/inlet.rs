//! Capacity of an opening at a given head over it.
//!
//! W(h) is 0 for h ≤ 0, never decreases, and is available both ways: flow from head and head from flow.
//! Limitations: negligible approach velocity, level water in the vessel, no vortex, no submerged weir.

use super::clear_share::SHUT_SHARE;
use super::coefficients::{Coefficients, least};
use super::notch::Notch;
use super::side_hole::SideHole;
use super::submergence::{MouthLeadsTo, Submergence, deeper, shallower};
use crate::hydraulics::{Dual, LEAST_BORE_M, full_area_m2};

/// An opening as a limit on its inflow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Inlet {
    /// Takes in whatever the run can carry.
    Unlimited,
    /// A horizontal lip: upstand, floor outlet, suction, mouth turned up or down.
    Lip(Lip),
    /// A round hole in a wall; the head counts from its invert.
    SideHole(SideHole),
    /// A notch in a wall; the head counts from its crest or point.
    Notch(Notch),
    /// One of these with a guard on its lip.
    Screened(Screened),
    /// Never takes anything in: an end in air.
    Never,
}

/// An opening with a limit, behind a guard on its lip that leaves a fraction of it open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Screened {
    behind: Behind,
    share: f64,
}

/// The opening behind a guard.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Behind {
    Lip(Lip),
    SideHole(SideHole),
    Notch(Notch),
}

impl Inlet {
    /// A horizontal lip: weir round its edge, then orifice; whichever passes less. [@chow-1959]
    pub fn lip(bore_m: f64, coefficients: &Coefficients) -> Inlet {
        Inlet::Lip(Lip::new(bore_m, coefficients))
    }

    /// A hole in a wall: critical depth in its mouth, then orifice. [@hds-5, @chow-1959]
    pub fn side_hole(bore_m: f64, coefficients: &Coefficients) -> Inlet {
        Inlet::SideHole(SideHole::new(bore_m, coefficients))
    }

    /// The same opening with a guard on its lip that passes the fraction `clear_share` (above 0, at most 1) of its
    /// flow.
    ///
    /// An opening without a limit has none with a guard either. A screen that stands before its opening leaves the
    /// opening as it is: [`super::screen::ScreenLaw`].
    pub fn screened(self, clear_share: f64) -> Inlet {
        let (behind, before) = match self {
            Inlet::Lip(lip) => (Behind::Lip(lip), 1.0),
            Inlet::SideHole(hole) => (Behind::SideHole(hole), 1.0),
            Inlet::Notch(notch) => (Behind::Notch(notch), 1.0),
            Inlet::Screened(screened) => (screened.behind, screened.share),
            Inlet::Unlimited | Inlet::Never => return self,
        };
        let share = before * clear_share.clamp(SHUT_SHARE, 1.0);
        Inlet::Screened(Screened { behind, share })
    }

    /// The same opening according to what it leads to: whether deep submergence keeps the air out.
    ///
    /// A notch stays as it is: it has air on both sides.
    pub fn leading_to(self, leads: MouthLeadsTo, gravity_m_s2: f64) -> Inlet {
        match self {
            Inlet::Lip(lip) => Inlet::Lip(lip.leading_to(leads, gravity_m_s2)),
            Inlet::SideHole(hole) => Inlet::SideHole(hole.leading_to(leads, gravity_m_s2)),
            other => other,
        }
    }

    /// For an opening that a flow (> 0, m³/s) submerges: the heads over it, m, that the flow requires as over a
    /// weir, and as an orifice gulping air; none where it is not submerged, or where no air reaches it.
    pub fn submerged_m(&self, flow_m3_s: f64) -> Option<[f64; 2]> {
        let [weir_m, drowns_m, with_air_m] = match self {
            Inlet::Lip(lip) => {
                let weir_m = lip.weir_head_m(flow_m3_s);
                [
                    weir_m,
                    lip.submerging_head_m(),
                    lip.plain_head_for(flow_m3_s).value,
                ]
            }
            Inlet::SideHole(hole) => {
                let drowns_m = hole.crossing_head_m();
                [drowns_m, drowns_m, hole.head_with_air_m(flow_m3_s)]
            }
            _ => return None,
        };
        (with_air_m > drowns_m).then_some([weir_m, with_air_m])
    }

    /// The maximum inflow at `head_m` over the opening, m³/s, and its derivative, m²/s.
    ///
    /// Exactly 0 with derivative 0 for `head_m` ≤ 0; infinite for an unlimited opening.
    pub fn capacity(&self, head_m: f64) -> Dual {
        match self {
            Inlet::Unlimited => Dual {
                value: f64::INFINITY,
                derivative: 0.0,
            },
            Inlet::Never => Dual::ZERO,
            _ if head_m.is_nan() || head_m <= 0.0 => Dual::ZERO,
            Inlet::Lip(lip) => lip.capacity(head_m),
            Inlet::SideHole(hole) => hole.capacity(head_m),
            Inlet::Notch(notch) => notch.capacity(head_m),
            Inlet::Screened(screened) => screened.capacity(head_m),
        }
    }

    /// The head over the opening that passes `flow_m3_s`, m, and its derivative, s/m².
    ///
    /// 0 for `flow_m3_s` ≤ 0, with an infinite derivative, as the law has there; 0 and constant for an
    /// unlimited opening; infinite where inflow is required of one that takes nothing in.
    pub fn head_for(&self, flow_m3_s: f64) -> Dual {
        let none = flow_m3_s.is_nan() || flow_m3_s <= 0.0;
        match self {
            Inlet::Unlimited => Dual::ZERO,
            _ if none => Dual {
                value: 0.0,
                derivative: f64::INFINITY,
            },
            Inlet::Never => Dual {
                value: f64::INFINITY,
                derivative: f64::INFINITY,
            },
            Inlet::Lip(lip) => lip.head_for(flow_m3_s),
            Inlet::SideHole(hole) => hole.head_for(flow_m3_s),
            Inlet::Notch(notch) => notch.head_for(flow_m3_s),
            Inlet::Screened(screened) => screened.head_for(flow_m3_s),
        }
    }
}

impl Screened {
    /// Fraction of the opening that the guard leaves open.
    pub fn share(&self) -> f64 {
        self.share
    }

    /// The opening without its guard.
    pub fn behind(&self) -> Inlet {
        match self.behind {
            Behind::Lip(lip) => Inlet::Lip(lip),
            Behind::SideHole(hole) => Inlet::SideHole(hole),
            Behind::Notch(notch) => Inlet::Notch(notch),
        }
    }

    fn capacity(&self, head_m: f64) -> Dual {
        let whole = match &self.behind {
            Behind::Lip(lip) => lip.capacity(head_m),
            Behind::SideHole(hole) => hole.capacity(head_m),
            Behind::Notch(notch) => notch.capacity(head_m),
        };
        Dual {
            value: self.share * whole.value,
            derivative: self.share * whole.derivative,
        }
    }

    fn head_for(&self, flow_m3_s: f64) -> Dual {
        let whole_m3_s = flow_m3_s / self.share;
        let head = match &self.behind {
            Behind::Lip(lip) => lip.head_for(whole_m3_s),
            Behind::SideHole(hole) => hole.head_for(whole_m3_s),
            Behind::Notch(notch) => notch.head_for(whole_m3_s),
        };
        Dual {
            value: head.value,
            derivative: head.derivative / self.share,
        }
    }
}

/// The law of a horizontal lip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lip {
    /// Q = weir·h^1.5.
    weir: f64,
    /// Q = orifice·√h; infinite where no air enters.
    orifice: f64,
    bore_m: f64,
    /// The law under deep submergence, where it differs.
    deep: Option<Submergence>,
}

impl Lip {
    fn new(bore_m: f64, coefficients: &Coefficients) -> Lip {
        let bore_m = bore_m.max(LEAST_BORE_M);
        let root_2g = (2.0 * coefficients.gravity_m_s2).sqrt();
        let edge_m = std::f64::consts::PI * bore_m;
        Lip {
            weir: 2.0 / 3.0 * least(coefficients.weir) * root_2g * edge_m,
            orifice: least(coefficients.orifice) * root_2g * full_area_m2(bore_m),
            bore_m,
            deep: None,
        }
    }

    fn leading_to(self, leads: MouthLeadsTo, gravity_m_s2: f64) -> Lip {
        match leads {
            MouthLeadsTo::ToAir => self,
            MouthLeadsTo::ToPipe => Lip {
                deep: Some(Submergence::over_lip(self.bore_m, gravity_m_s2)),
                ..self
            },
            MouthLeadsTo::ToPump => Lip {
                orifice: f64::INFINITY,
                ..self
            },
        }
    }

    /// Head at which the lip is submerged and becomes an orifice, m.
    pub fn submerging_head_m(&self) -> f64 {
        self.orifice / self.weir
    }

    /// Head over the lip that passes a flow (≥ 0, m³/s) by weir flow alone, m.
    pub fn weir_head_m(&self, flow_m3_s: f64) -> f64 {
        (flow_m3_s / self.weir).cbrt().powi(2)
    }

    fn capacity(&self, head_m: f64) -> Dual {
        deeper(self.plain_capacity(head_m), self.deep, head_m)
    }

    fn plain_capacity(&self, head_m: f64) -> Dual {
        let root = head_m.sqrt();
        if head_m <= self.submerging_head_m() {
            Dual {
                value: self.weir * head_m * root,
                derivative: 1.5 * self.weir * root,
            }
        } else {
            Dual {
                value: self.orifice * root,
                derivative: 0.5 * self.orifice / root,
            }
        }
    }

    fn head_for(&self, flow_m3_s: f64) -> Dual {
        shallower(self.plain_head_for(flow_m3_s), self.deep, flow_m3_s)
    }

    fn plain_head_for(&self, flow_m3_s: f64) -> Dual {
        let weir_m = self.weir_head_m(flow_m3_s);
        if weir_m <= self.submerging_head_m() {
            Dual {
                value: weir_m,
                derivative: 2.0 / 3.0 * weir_m / flow_m3_s,
            }
        } else {
            let root = flow_m3_s / self.orifice;
            Dual {
                value: root * root,
                derivative: 2.0 * root / self.orifice,
            }
        }
    }
}

/// Flow over a rim, m³/s, and its derivative, m²/s: C·P·h^1.5; 0 for `head_m` ≤ 0. [@chow-1959]
///
/// `coefficient` in m^½/s, `perimeter_m` the length of rim that spills.
pub fn rim_spill(coefficient: f64, perimeter_m: f64, head_m: f64) -> Dual {
    if head_m.is_nan() || head_m <= 0.0 {
        return Dual::ZERO;
    }
    let scale = coefficient.max(0.0) * perimeter_m.max(0.0);
    let root = head_m.sqrt();
    Dual {
        value: scale * head_m * root,
        derivative: 1.5 * scale * root,
    }
}
