//! The loss of a run with all reckoned out that does not depend on the flow: for a solver that asks often.

use super::Dual;
use super::friction::{Wall, about_reynolds_for_drag, drag_number};
use super::loss::{LEAST_RESISTANCE_S_M2, Loss};

/// A [`Loss`] made ready to be asked at many flows; the same law.
///
/// Each question brings the loss along: small numbers, of which many stand side by side, are all that is kept.
#[derive(Clone, Copy, Debug, Default)]
pub struct Prepared {
    /// Reynolds number to a flow, s/m³; 0 where the wall goes with Q² or by Hazen–Williams.
    pub(super) re_per_flow: f64,
    /// ε/3.7D.
    pub(super) wall_term: f64,
    /// Head to f·Re², m.
    pub(super) scale: f64,
    /// Factor of Q, s/m².
    pub(super) linear: f64,
    /// Factor of Q², s²/m⁵.
    pub(super) square: f64,
    /// Factor of Q² of the fittings alone.
    pub(super) fittings: f64,
    /// The flow below which one of them goes with Q, m³/s; never reached where the wall goes by Hazen–Williams,
    /// so that below it the loss itself is asked.
    pub(super) plain_from: f64,
}

impl Prepared {
    /// Makes `loss` ready.
    pub fn new(loss: &Loss) -> Prepared {
        let mut ready = Prepared {
            linear: loss.equipment_a.max(0.0) + LEAST_RESISTANCE_S_M2,
            square: loss.equipment_b.max(0.0),
            ..Prepared::default()
        };
        for minor in &loss.minors {
            let terms = loss.fitting(minor);
            ready.fittings += terms.scale;
            ready.plain_from = ready.plain_from.max(terms.laminar_to);
        }
        match loss.wall {
            Wall::Darcy { roughness_m } => {
                let terms = loss.darcy(roughness_m);
                ready.re_per_flow = terms.re_per_flow;
                ready.wall_term = terms.wall_term;
                ready.scale = terms.scale;
            }
            Wall::HazenWilliams { .. } => ready.plain_from = f64::INFINITY,
            Wall::FixedFactor(factor) => ready.square += loss.fixed_factor(factor),
        }
        ready
    }

    /// Head lost, m, and its slope, s/m², at a flow of either sign; as [`Loss::at`] of the `loss` that was made
    /// ready, to rounding.
    pub fn at(&self, loss: &Loss, flow_m3_s: f64) -> Dual {
        let q = flow_m3_s.abs();
        let wall = match loss.wall {
            Wall::HazenWilliams { .. } => loss.wall(q),
            _ => self.wall(drag_number(q * self.re_per_flow, self.wall_term)),
        };
        let (mut square, mut rest) = (self.square, Dual::ZERO);
        if q >= self.plain_from {
            square += self.fittings;
        } else {
            rest = loss.minor(q);
        }
        let by_flow = self.linear + square * q;
        Dual {
            value: (wall.value + rest.value + by_flow * q).copysign(flow_m3_s),
            derivative: wall.derivative + rest.derivative + by_flow + square * q,
        }
    }

    /// The head that goes with f·Re².
    #[inline(always)]
    fn wall(&self, drag: Dual) -> Dual {
        Dual {
            value: self.scale * drag.value,
            derivative: self.scale * drag.derivative * self.re_per_flow,
        }
    }

    /// About the flow that loses a head of either sign, m³/s: within some
    /// ten percent, by Hazen–Williams within a power of ten. A start for a search.
    pub fn about(&self, loss: &Loss, head_m: f64) -> f64 {
        let head = head_m.abs();
        if head == 0.0 {
            return 0.0;
        }
        // Each part of the loss as if it went with Q²: 1/Q² of each alone adds up.
        let wall = match loss.wall {
            Wall::FixedFactor(_) => 0.0,
            Wall::Darcy { .. } => {
                let re = about_reynolds_for_drag(head / self.scale, self.wall_term);
                let alone = re / self.re_per_flow;
                1.0 / (alone * alone)
            }
            Wall::HazenWilliams { .. } => {
                let brisk = loss.area_m2();
                loss.wall(brisk).value / (head * brisk * brisk)
            }
        };
        let rest = (self.square + self.fittings) / head;
        let linear = self.linear / head;
        let flow = 1.0 / (wall + rest + linear * linear).sqrt();
        flow.copysign(head_m)
    }
}
