//! How much an opening lets in, at a head over it.
//!
//! W(h) is 0 for h ≤ 0, never falls, and reads both ways: flow from head and head from flow.
//! Limitations: still approach, level water in the vessel, no vortex, no drowned weir.

use super::circle::{Section, critical_flow_unit, t_for_critical_flow};
use super::{LEAST_BORE_M, STANDARD_GRAVITY_M_S2, Slope, full_area_m2};

/// Discharge coefficients of openings; they are choices, so they are data.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Weir over a lip, C_w in ⅔·C_w·√(2g)·P·h^1.5.
    pub weir: f64,
    /// Orifice, C_o in C_o·A·√(2gh).
    pub orifice: f64,
    /// Entrance loss of a side hole on its critical velocity head.
    pub entrance_k: f64,
    /// Rim, C in C·P·h^1.5, m^½/s.
    pub rim: f64,
    /// Gravity, m/s².
    pub gravity_m_s2: f64,
}

impl Default for Coefficients {
    /// 0.6, 0.6, 0.5 and 1.7: customary round values. [@chow-1959]
    fn default() -> Coefficients {
        Coefficients {
            weir: 0.6,
            orifice: 0.6,
            entrance_k: 0.5,
            rim: 1.7,
            gravity_m_s2: STANDARD_GRAVITY_M_S2,
        }
    }
}

/// An opening as a limit on what may enter it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Inlet {
    /// Lets in whatever the run can carry.
    Unlimited,
    /// A horizontal lip: upstand, floor outlet, suction, mouth turned up or down.
    Lip(Lip),
    /// A round hole in a wall; the head counts from its invert.
    SideHole(SideHole),
    /// Never lets anything in: an end in air.
    Never,
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

    /// The most that enters at `head_m` over the opening, m³/s, and its slope, m²/s.
    ///
    /// Exactly 0 with slope 0 for `head_m` ≤ 0; without end for an unlimited opening.
    pub fn capacity(&self, head_m: f64) -> Slope {
        match self {
            Inlet::Unlimited => Slope {
                value: f64::INFINITY,
                slope: 0.0,
            },
            Inlet::Never => Slope::ZERO,
            _ if head_m.is_nan() || head_m <= 0.0 => Slope::ZERO,
            Inlet::Lip(lip) => lip.capacity(head_m),
            Inlet::SideHole(hole) => hole.capacity(head_m),
        }
    }

    /// The head over the opening that passes `flow_m3_s`, m, and its slope, s/m².
    ///
    /// 0 for `flow_m3_s` ≤ 0, with an infinite slope, as the law has there; 0 and flat for an
    /// unlimited opening; infinite for one that never draws and is asked to.
    pub fn head_for(&self, flow_m3_s: f64) -> Slope {
        let none = flow_m3_s.is_nan() || flow_m3_s <= 0.0;
        match self {
            Inlet::Unlimited => Slope::ZERO,
            _ if none => Slope {
                value: 0.0,
                slope: f64::INFINITY,
            },
            Inlet::Never => Slope {
                value: f64::INFINITY,
                slope: f64::INFINITY,
            },
            Inlet::Lip(lip) => lip.head_for(flow_m3_s),
            Inlet::SideHole(hole) => hole.head_for(flow_m3_s),
        }
    }
}

/// The law of a horizontal lip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lip {
    /// Q = weir·h^1.5.
    weir: f64,
    /// Q = orifice·√h.
    orifice: f64,
}

impl Lip {
    fn new(bore_m: f64, coefficients: &Coefficients) -> Lip {
        let bore_m = bore_m.max(LEAST_BORE_M);
        let root_2g = (2.0 * coefficients.gravity_m_s2).sqrt();
        let edge_m = std::f64::consts::PI * bore_m;
        Lip {
            weir: 2.0 / 3.0 * least(coefficients.weir) * root_2g * edge_m,
            orifice: least(coefficients.orifice) * root_2g * full_area_m2(bore_m),
        }
    }

    /// Head at which the lip drowns and becomes an orifice, m.
    pub fn drowning_head_m(&self) -> f64 {
        self.orifice / self.weir
    }

    fn capacity(&self, head_m: f64) -> Slope {
        let root = head_m.sqrt();
        if head_m <= self.drowning_head_m() {
            Slope {
                value: self.weir * head_m * root,
                slope: 1.5 * self.weir * root,
            }
        } else {
            Slope {
                value: self.orifice * root,
                slope: 0.5 * self.orifice / root,
            }
        }
    }

    fn head_for(&self, flow_m3_s: f64) -> Slope {
        let weir_m = (flow_m3_s / self.weir).cbrt().powi(2);
        if weir_m <= self.drowning_head_m() {
            Slope {
                value: weir_m,
                slope: 2.0 / 3.0 * weir_m / flow_m3_s,
            }
        } else {
            let root = flow_m3_s / self.orifice;
            Slope {
                value: root * root,
                slope: 2.0 * root / self.orifice,
            }
        }
    }
}

/// The law of a round hole in a wall, in units of its bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideHole {
    bore_m: f64,
    /// √g·bore^2.5, m³/s.
    unit_m3_s: f64,
    /// 1 + entrance K.
    velocity_heads: f64,
    /// C_o·(π/4)·√2: orifice flow in units is this times √(head − ½).
    orifice: f64,
    /// Head over bore up to which the critical-depth form holds.
    crossing_head: f64,
    /// Flow in units there.
    crossing_flow: f64,
}

/// Head over bore below which only the leading term of the law is kept (exact to rounding),
/// so that tiny heads cannot underflow.
const FILM: f64 = 1e-14;

impl SideHole {
    fn new(bore_m: f64, coefficients: &Coefficients) -> SideHole {
        let bore_m = bore_m.max(LEAST_BORE_M);
        let mut hole = SideHole {
            bore_m,
            unit_m3_s: critical_flow_unit(bore_m, coefficients.gravity_m_s2),
            velocity_heads: 1.0 + coefficients.entrance_k.max(0.0),
            orifice: least(coefficients.orifice)
                * std::f64::consts::FRAC_PI_4
                * std::f64::consts::SQRT_2,
            crossing_head: f64::INFINITY,
            crossing_flow: f64::INFINITY,
        };
        if let Some(t) = hole.crossing() {
            let section = Section::at(t);
            hole.crossing_head = hole.head(&section);
            hole.crossing_flow = section.critical_flow();
        }
        hole
    }

    /// Head above the invert at which the hole turns from a critical section into an orifice, m;
    /// infinite if it never does.
    pub fn crossing_head_m(&self) -> f64 {
        self.crossing_head * self.bore_m
    }

    /// Head over bore that makes the flow in this section critical.
    fn head(&self, section: &Section) -> f64 {
        section.depth + 0.5 * self.velocity_heads * section.area / section.width
    }

    /// d(head over bore) / d ln t.
    fn head_rate(&self, section: &Section) -> f64 {
        // d(A/T)/d ln t = T·dy/(T d ln t) − (A/T)·(d ln T/d ln t), with d ln T/d ln t = cos 2φ.
        let depth_rate = section.depth_rate();
        let ratio_rate = depth_rate - section.cosine * section.area / section.width;
        depth_rate + 0.5 * self.velocity_heads * ratio_rate
    }

    /// Leading term at a film of water: flow = film·head².
    fn film(&self) -> f64 {
        let share = 1.0 + self.velocity_heads / 3.0;
        (32.0_f64 / 27.0).sqrt() / (share * share)
    }

    /// How far the critical form lies above the orifice, as ln; +∞ below half depth.
    fn excess(&self, t: f64) -> f64 {
        let section = Section::at(t);
        let over = self.head(&section) - 0.5;
        if over <= 0.0 {
            return f64::INFINITY;
        }
        (section.critical_flow() / (self.orifice * over.sqrt())).ln()
    }

    /// The largest t at which the critical form equals the orifice.
    ///
    /// `None` if the critical form stays below for ever. With an orifice coefficient so small
    /// that the two never meet, the t at which they come nearest: W then waits there until the
    /// orifice has caught up.
    fn crossing(&self) -> Option<f64> {
        // The ratio tends to (1 + K)^-½ / C_o for a drowned hole; ln t from film to crown.
        let (top, bottom, steps) = (6.0_f64, -3.0_f64, 400);
        let at = |i: i32| (top + (bottom - top) * f64::from(i) / f64::from(steps)).exp();
        if self.excess(at(0)) <= 0.0 {
            return None;
        }
        let (mut nearest, mut least_excess) = (at(0), f64::INFINITY);
        for i in 1..=steps {
            let excess = self.excess(at(i));
            if excess <= 0.0 {
                return Some(self.bisect(at(i), at(i - 1)));
            }
            if excess < least_excess {
                (nearest, least_excess) = (at(i), excess);
            }
        }
        Some(nearest)
    }

    fn bisect(&self, below: f64, above: f64) -> f64 {
        let (mut low, mut high) = (below, above);
        for _ in 0..80 {
            let middle = 0.5 * (low + high);
            if self.excess(middle) <= 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        0.5 * (low + high)
    }

    /// t = tan φ at which the critical form asks for this head over bore.
    fn t_for_head(&self, head: f64) -> f64 {
        let depth = (head / (1.0 + self.velocity_heads / 3.0)).min(0.95);
        let mut t = (depth / (1.0 - depth)).sqrt();
        for _ in 0..40 {
            let section = Section::at(t);
            let now = self.head(&section);
            let step = (now / head).ln() * now / self.head_rate(&section);
            t *= (-step).exp();
            if step.abs() < 1e-14 {
                break;
            }
        }
        t
    }

    fn capacity(&self, head_m: f64) -> Slope {
        let head = head_m / self.bore_m;
        let unit = self.unit_m3_s;
        if head <= FILM {
            let film = self.film();
            return Slope {
                value: unit * film * head * head,
                slope: unit * 2.0 * film * head / self.bore_m,
            };
        }
        if head > self.crossing_head {
            return self.drowned_capacity(head);
        }
        let section = Section::at(self.t_for_head(head));
        let flow = unit * section.critical_flow();
        let slope = flow * section.critical_flow_rate() / (self.head_rate(&section) * self.bore_m);
        Slope { value: flow, slope }
    }

    fn drowned_capacity(&self, head: f64) -> Slope {
        let root = (head - 0.5).max(0.0).sqrt();
        let flow = self.orifice * root;
        if flow < self.crossing_flow {
            return Slope {
                value: self.unit_m3_s * self.crossing_flow,
                slope: 0.0,
            };
        }
        Slope {
            value: self.unit_m3_s * flow,
            slope: self.unit_m3_s * 0.5 * self.orifice / (root * self.bore_m),
        }
    }

    fn head_for(&self, flow_m3_s: f64) -> Slope {
        let flow = flow_m3_s / self.unit_m3_s;
        let film = self.film();
        if flow <= film * FILM * FILM {
            let head_m = self.bore_m * (flow / film).sqrt();
            return Slope {
                value: head_m,
                slope: 0.5 * head_m / flow_m3_s,
            };
        }
        if flow > self.crossing_flow {
            let root = flow / self.orifice;
            return Slope {
                value: self.bore_m * (0.5 + root * root),
                slope: self.bore_m * 2.0 * root / (self.orifice * self.unit_m3_s),
            };
        }
        let section = Section::at(t_for_critical_flow(flow));
        let per_log_flow = self.head_rate(&section) / section.critical_flow_rate();
        Slope {
            value: self.bore_m * self.head(&section),
            slope: self.bore_m * per_log_flow / flow_m3_s,
        }
    }
}

/// A coefficient of zero would shut the opening and break the inverse.
fn least(coefficient: f64) -> f64 {
    coefficient.max(1e-3)
}

/// Flow over a rim, m³/s, and its slope, m²/s: C·P·h^1.5; 0 for `head_m` ≤ 0. [@chow-1959]
///
/// `coefficient` in m^½/s, `perimeter_m` the length of rim that spills.
pub fn rim_spill(coefficient: f64, perimeter_m: f64, head_m: f64) -> Slope {
    if head_m.is_nan() || head_m <= 0.0 {
        return Slope::ZERO;
    }
    let scale = coefficient.max(0.0) * perimeter_m.max(0.0);
    let root = head_m.sqrt();
    Slope {
        value: scale * head_m * root,
        slope: 1.5 * scale * root,
    }
}
