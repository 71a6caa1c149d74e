//! The loss of a run with all reckoned out that does not depend on the flow: for a solver that asks often.

use super::Slope;
use super::friction::{Wall, about_reynolds_for_drag, drag_by, wall_term};
use super::loss::{DarcyTerms, LEAST_RESISTANCE_S_M2, Loss};

/// A [`Loss`] made ready to be asked at many flows; the same law.
#[derive(Clone, Copy, Debug)]
pub struct Prepared<'a> {
    loss: &'a Loss,
    /// The wall, where it goes neither with Q nor with Q².
    wall: ByWall,
    /// Factor of Q, s/m².
    linear: f64,
    /// Factor of Q², s²/m⁵.
    square: f64,
    /// Factor of Q² of the fittings alone, and the flow below which one of them goes with Q, m³/s.
    fittings: (f64, f64),
}

#[derive(Clone, Copy, Debug)]
enum ByWall {
    Nothing,
    Darcy(DarcyTerms, f64),
    AsLost,
}

impl<'a> Prepared<'a> {
    /// Makes `loss` ready.
    pub fn new(loss: &'a Loss) -> Prepared<'a> {
        let mut square = loss.equipment_b.max(0.0);
        let wall = match loss.wall {
            Wall::Darcy { roughness_m } => {
                let terms = loss.darcy(roughness_m);
                ByWall::Darcy(terms, wall_term(terms.relative_roughness))
            }
            Wall::HazenWilliams { .. } => ByWall::AsLost,
            Wall::FixedFactor(factor) => {
                square += loss.fixed_factor(factor);
                ByWall::Nothing
            }
        };
        let mut fittings = (0.0, 0.0_f64);
        for minor in &loss.minors {
            let terms = loss.fitting(minor);
            fittings = (fittings.0 + terms.scale, fittings.1.max(terms.laminar_to));
        }
        Prepared {
            loss,
            wall,
            linear: loss.equipment_a.max(0.0) + LEAST_RESISTANCE_S_M2,
            square,
            fittings,
        }
    }

    /// Head lost, m, and its slope, s/m², at a flow of either sign; as [`Loss::at`], to rounding.
    pub fn at(&self, flow_m3_s: f64) -> Slope {
        let q = flow_m3_s.abs();
        let wall = match &self.wall {
            ByWall::Nothing => Slope::ZERO,
            ByWall::Darcy(terms, _) => terms.at(q),
            ByWall::AsLost => self.loss.wall(q),
        };
        self.with_wall(flow_m3_s, wall)
    }

    /// Reynolds number at a flow and ε/3.7D, where the wall goes by Darcy: what f·Re² depends on.
    pub(crate) fn turbulence(&self, flow_m3_s: f64) -> Option<(f64, f64)> {
        match &self.wall {
            ByWall::Darcy(terms, wall_term) => {
                Some((flow_m3_s.abs() * terms.re_per_flow, *wall_term))
            }
            _ => None,
        }
    }

    /// The same as [`Prepared::at`] where the drag in turbulent flow is known already; see `friction::drag_by`.
    #[inline(always)]
    pub(crate) fn at_drag(&self, flow_m3_s: f64, turbulent: Slope) -> Slope {
        let ByWall::Darcy(terms, _) = &self.wall else {
            return self.at(flow_m3_s);
        };
        let drag = drag_by(flow_m3_s.abs() * terms.re_per_flow, turbulent);
        self.with_wall(flow_m3_s, terms.of_drag(drag))
    }

    #[inline(always)]
    fn with_wall(&self, flow_m3_s: f64, wall: Slope) -> Slope {
        let q = flow_m3_s.abs();
        let (mut square, mut rest) = (self.square, Slope::ZERO);
        if q >= self.fittings.1 {
            square += self.fittings.0;
        } else {
            rest = self.loss.minor(q);
        }
        let by_flow = self.linear + square * q;
        Slope {
            value: (wall.value + rest.value + by_flow * q).copysign(flow_m3_s),
            slope: wall.slope + rest.slope + by_flow + square * q,
        }
    }

    /// Area of the bore, m².
    pub fn area_m2(&self) -> f64 {
        self.loss.area_m2()
    }

    /// About the flow that loses a head of either sign, m³/s: within some
    /// ten percent, by Hazen–Williams within a power of ten. A start for a search.
    pub fn about(&self, head_m: f64) -> f64 {
        let head = head_m.abs();
        if head == 0.0 {
            return 0.0;
        }
        // Each part of the loss as if it went with Q²: 1/Q² of each alone adds up.
        let wall = match &self.wall {
            ByWall::Nothing => 0.0,
            ByWall::Darcy(terms, _) => {
                let re = about_reynolds_for_drag(head / terms.scale, terms.relative_roughness);
                let alone = re / terms.re_per_flow;
                1.0 / (alone * alone)
            }
            ByWall::AsLost => {
                let brisk = self.loss.area_m2();
                self.loss.wall(brisk).value / (head * brisk * brisk)
            }
        };
        let rest = (self.square + self.fittings.0) / head;
        let linear = self.linear / head;
        let flow = 1.0 / (wall + rest + linear * linear).sqrt();
        flow.copysign(head_m)
    }
}
