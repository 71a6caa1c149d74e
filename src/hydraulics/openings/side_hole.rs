//! A round hole in a wall: critical depth in its mouth, then an orifice.
//!
//! The head counts from the invert. See `docs/method/opening-side-hole.md`.

use super::coefficients::{Coefficients, least};
use super::submergence::{MouthLeadsTo, Submergence, deeper, shallower};
use crate::hydraulics::channel::circle::{Section, critical_flow_unit, t_for_critical_flow};
use crate::hydraulics::{Dual, LEAST_BORE_M};

/// The law of a round hole in a wall, in units of its bore.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideHole {
    bore_m: f64,
    /// √g·bore^2.5, m³/s; less where the orifice would never reach the critical-depth form.
    unit_m3_s: f64,
    /// 1 + entrance K.
    velocity_heads: f64,
    /// C_o·(π/4)·√2: orifice flow in units is this times √(head − ½).
    orifice: f64,
    /// Head over bore up to which the critical-depth form holds.
    crossing_head: f64,
    /// Dimensionless flow there.
    crossing_flow: f64,
    /// The law under deep submergence, where it differs.
    deep: Option<Submergence>,
    /// It leads to a pump: beyond the crossing the flow grows with the head to the 3/2, as over a weir.
    to_pump: bool,
}

/// Relative tolerance within which the critical-depth form and the orifice meet.
const MEETS: f64 = 1e-9;
/// Head over bore below which only the leading term of the law is kept (exact to rounding), so that tiny heads
/// cannot underflow.
const SHALLOW: f64 = 1e-14;

impl SideHole {
    pub(super) fn new(bore_m: f64, coefficients: &Coefficients) -> SideHole {
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
            deep: None,
            to_pump: false,
        };
        if let Some(t) = hole.crossing() {
            let section = Section::at(t);
            hole.crossing_head = hole.head(&section);
            hole.crossing_flow = section.critical_flow();
            // They only touch there, or do so once the capacity of the hole is reduced at every depth.
            let share = (-hole.excess(t)).exp();
            if share < 1.0 - MEETS {
                hole.unit_m3_s *= share;
                hole.orifice /= share;
            }
        }
        hole
    }

    pub(super) fn leading_to(self, leads: MouthLeadsTo, gravity_m_s2: f64) -> SideHole {
        match leads {
            MouthLeadsTo::ToAir => self,
            MouthLeadsTo::ToPipe => SideHole {
                deep: Some(Submergence::over_hole(self.bore_m, gravity_m_s2)),
                ..self
            },
            MouthLeadsTo::ToPump => {
                let crown = Section::at(self.t_for_head(1.0));
                SideHole {
                    crossing_head: 1.0,
                    crossing_flow: crown.critical_flow(),
                    to_pump: true,
                    ..self
                }
            }
        }
    }

    /// Head above the invert at which the hole changes from a critical section to an orifice, m;
    /// infinite if it never does.
    pub fn crossing_head_m(&self) -> f64 {
        self.crossing_head * self.bore_m
    }

    /// Head over bore at which the flow in this section is critical.
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

    /// Leading term for a film of water: flow = film·head².
    fn shallow(&self) -> f64 {
        let share = 1.0 + self.velocity_heads / 3.0;
        (32.0_f64 / 27.0).sqrt() / (share * share)
    }

    /// Ratio of the critical-depth form to the orifice, as ln; +∞ below half depth.
    fn excess(&self, t: f64) -> f64 {
        let section = Section::at(t);
        let over = self.head(&section) - 0.5;
        if over <= 0.0 {
            return f64::INFINITY;
        }
        (section.critical_flow() / (self.orifice * over.sqrt())).ln()
    }

    /// The largest t at which the critical-depth form equals the orifice.
    ///
    /// `None` if the critical-depth form always stays below. With an orifice coefficient so small
    /// that the two never meet, the t at which they come nearest.
    fn crossing(&self) -> Option<f64> {
        // The ratio tends to (1 + K)^-½ / C_o for a submerged hole; ln t from film to crown.
        let (top, bottom, steps) = (6.0_f64, -3.0_f64, 400);
        let at = |i: i32| (top + (bottom - top) * f64::from(i) / f64::from(steps)).exp();
        if self.excess(at(0)) <= 0.0 {
            return None;
        }
        let (mut nearest, mut least_excess) = (0, f64::INFINITY);
        for i in 1..=steps {
            let excess = self.excess(at(i));
            if excess <= 0.0 {
                return Some(self.bisect(at(i), at(i - 1)));
            }
            if excess < least_excess {
                (nearest, least_excess) = (i, excess);
            }
        }
        Some(self.nearest(at(nearest + 1), at(nearest - 1)))
    }

    /// The t in this range at which the critical-depth form comes nearest to the orifice.
    fn nearest(&self, below: f64, above: f64) -> f64 {
        let (mut low, mut high) = (below, above);
        for _ in 0..80 {
            let [a, b] = [1.0 / 3.0, 2.0 / 3.0].map(|share| low + share * (high - low));
            if self.excess(a) < self.excess(b) {
                high = b;
            } else {
                low = a;
            }
        }
        0.5 * (low + high)
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

    /// t = tan φ at which the critical-depth form requires this head over bore.
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

    pub(super) fn capacity(&self, head_m: f64) -> Dual {
        deeper(self.plain_capacity(head_m), self.deep, head_m)
    }

    fn plain_capacity(&self, head_m: f64) -> Dual {
        let head = head_m / self.bore_m;
        let unit = self.unit_m3_s;
        if head <= SHALLOW {
            let film = self.shallow();
            return Dual {
                value: unit * film * head * head,
                derivative: unit * 2.0 * film * head / self.bore_m,
            };
        }
        if head > self.crossing_head {
            return self.submerged_capacity(head);
        }
        let section = Section::at(self.t_for_head(head));
        let flow = unit * section.critical_flow();
        let slope = flow * section.critical_flow_rate() / (self.head_rate(&section) * self.bore_m);
        Dual {
            value: flow,
            derivative: slope,
        }
    }

    fn submerged_capacity(&self, head: f64) -> Dual {
        if self.to_pump {
            let flow = self.unit_m3_s * self.crossing_flow * head.powf(1.5);
            return Dual {
                value: flow,
                derivative: 1.5 * flow / (head * self.bore_m),
            };
        }
        let root = (head - 0.5).max(0.0).sqrt();
        Dual {
            // By rounding it could be less than at the crossing itself.
            value: self.unit_m3_s * (self.orifice * root).max(self.crossing_flow),
            derivative: self.unit_m3_s * 0.5 * self.orifice / (root * self.bore_m),
        }
    }

    pub(super) fn head_for(&self, flow_m3_s: f64) -> Dual {
        shallower(self.plain_head_for(flow_m3_s), self.deep, flow_m3_s)
    }

    /// Head that passes a flow (> 0) while air reaches it, m; 0 where it leads to a pump, which gulps none.
    pub(super) fn head_with_air_m(&self, flow_m3_s: f64) -> f64 {
        if self.to_pump {
            return 0.0;
        }
        self.plain_head_for(flow_m3_s).value
    }

    fn plain_head_for(&self, flow_m3_s: f64) -> Dual {
        let flow = flow_m3_s / self.unit_m3_s;
        let film = self.shallow();
        if flow <= film * SHALLOW * SHALLOW {
            let head_m = self.bore_m * (flow / film).sqrt();
            return Dual {
                value: head_m,
                derivative: 0.5 * head_m / flow_m3_s,
            };
        }
        if flow > self.crossing_flow && self.to_pump {
            let head_m = self.bore_m * (flow / self.crossing_flow).powf(2.0 / 3.0);
            return Dual {
                value: head_m,
                derivative: 2.0 / 3.0 * head_m / flow_m3_s,
            };
        }
        if flow > self.crossing_flow {
            let root = flow / self.orifice;
            return Dual {
                value: self.bore_m * (0.5 + root * root),
                derivative: self.bore_m * 2.0 * root / (self.orifice * self.unit_m3_s),
            };
        }
        let section = Section::at(t_for_critical_flow(flow));
        let per_log_flow = self.head_rate(&section) / section.critical_flow_rate();
        Dual {
            value: self.bore_m * self.head(&section),
            derivative: self.bore_m * per_log_flow / flow_m3_s,
        }
    }
}
