//! A run between two joints: under water at both ends whatever the levels, held by its losses alone.
//!
//! The same law as `network::law` and the same line as `linear`, without what cannot happen there. In a
//! large network hardly any run is another.

use super::linear::Linear;
use crate::hydraulics::loss_prepared::Prepared;
use crate::network::{Check, Held, Link, Port};

/// Flow below which a closed run stays closed, m³/s.
pub(super) const TRICKLE_M3_S: f64 = 1e-15;

/// The law of such a run, made ready.
pub(crate) struct Drowned<'n> {
    loss: Prepared<'n>,
    forward: bool,
    backward: bool,
}

impl<'n> Drowned<'n> {
    /// The law of `link` where it is that of such a run.
    pub fn of(link: &'n Link) -> Option<Drowned<'n>> {
        let Link::Run(run) = link else { return None };
        let plain = run.ends.iter().all(|end| *end == Port::closed())
            && run.loss_back.is_none()
            && run.pump.is_none()
            && run.raised.is_none()
            && run.grades.iter().all(Option::is_none);
        plain.then(|| Drowned {
            loss: Prepared::new(&run.loss),
            forward: matches!(run.check, Check::None | Check::ForwardOnly),
            backward: matches!(run.check, Check::None | Check::BackwardOnly),
        })
    }

    fn allows(&self, flow: f64) -> bool {
        (flow > 0.0 && self.forward) || (flow < 0.0 && self.backward)
    }

    /// The flow at a velocity, m³/s; 0 where it may not pass.
    pub fn at_velocity(&self, velocity_m_s: f64) -> f64 {
        if self.allows(velocity_m_s) {
            self.loss.area_m2() * velocity_m_s
        } else {
            0.0
        }
    }

    /// About the flow between these levels at source and target, m³/s: a start for the search.
    pub fn about(&self, [source_m, target_m]: [f64; 2]) -> f64 {
        let drop = source_m - target_m;
        if self.allows(drop) {
            self.loss.about(drop)
        } else {
            0.0
        }
    }

    /// The straight line about these levels and the flow `base`; see `linear::linearise`.
    pub fn line(&self, levels: [f64; 2], base: f64) -> Linear {
        let open = self.allows(base);
        let base = if open { base } else { self.about(levels) };
        if !open && base.abs() <= TRICKLE_M3_S {
            return match self.forward && self.backward {
                true => self.line_about(levels, 0.0, 1.0),
                false => Linear::default(),
            };
        }
        let mut line = self.line_about(levels, base, base.signum());
        if !open {
            // The run stands closed and should not: the law does not hold here.
            line.energy_m = f64::INFINITY;
        }
        line
    }

    fn line_about(&self, [source_m, target_m]: [f64; 2], base: f64, sign: f64) -> Linear {
        let lost = self.loss.at(base);
        let error = source_m - (target_m + lost.value);
        let slope = 1.0 / lost.slope;
        Linear {
            flow: base + error * slope,
            by_source: slope,
            by_target: -slope,
            energy_m: error * sign,
            sign,
            two_way: self.forward && self.backward,
            over_edge: false,
            held: Held::Outlet,
        }
    }
}
