//! The loss of a run with all flow-independent terms precomputed: for a solver that evaluates it often.

use super::friction::{Wall, about_reynolds_for_drag, drag_number};
use super::loss::{LEAST_RESISTANCE_S_M2, Loss};
use crate::hydraulics::Dual;

/// A [`Loss`] prepared for evaluation at many flows; the same law.
///
/// The loss itself is passed with each call: only a few numbers are stored, many of them side by side.
#[derive(Clone, Copy, Debug, Default)]
pub struct Prepared {
    /// Reynolds number per flow, s/m³; 0 where wall friction is proportional to Q² or follows Hazen–Williams.
    pub(super) re_per_flow: f64,
    /// ε/3.7D.
    pub(super) wall_term: f64,
    /// Head per f·Re², m.
    pub(super) scale: f64,
    /// Coefficient of Q, s/m².
    pub(super) linear: f64,
    /// Coefficient of Q², s²/m⁵.
    pub(super) square: f64,
    /// Coefficient of Q² of the fittings alone.
    pub(super) fittings: f64,
    /// The flow below which one of them is proportional to Q, m³/s; infinite for Hazen–Williams walls,
    /// so that the loss itself is evaluated below it.
    pub(super) plain_from: f64,
}

impl Prepared {
    /// Prepares `loss`.
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

    /// Head loss, m, and its derivative, s/m², at a flow of either sign; equals [`Loss::at`] of the prepared `loss`
    /// to rounding.
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

    /// The head proportional to f·Re².
    #[inline(always)]
    fn wall(&self, drag: Dual) -> Dual {
        Dual {
            value: self.scale * drag.value,
            derivative: self.scale * drag.derivative * self.re_per_flow,
        }
    }

    /// Approximate flow with a head loss of either sign, m³/s: within some ten percent, by Hazen–Williams within a
    /// power of ten. A starting value for a search.
    pub fn about(&self, loss: &Loss, head_m: f64) -> f64 {
        let head = head_m.abs();
        if head == 0.0 {
            return 0.0;
        }
        // Each part of the loss as if proportional to Q²: the values of 1/Q² of each alone add up.
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
