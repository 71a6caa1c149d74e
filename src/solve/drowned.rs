//! A run between two joints: under water at both ends whatever the levels, held by its losses alone.
//!
//! The same law as `network::law` and the same line as `linear`, without what cannot happen there. In a
//! large network hardly any run is another.

use super::linear::{Linear, linearise};
use super::system::{Point, System};
use crate::hydraulics::Slope;
use crate::hydraulics::friction::{AT_A_TIME, turbulent_drags};
use crate::hydraulics::loss_prepared::Prepared;
use crate::network::{Check, Held, Link, Port, Sense};

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

    /// Without a branch: which way a run flows is not foreseen by any processor.
    fn allows(&self, flow: f64) -> bool {
        ((flow > 0.0) & self.forward) | ((flow < 0.0) & self.backward)
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

    /// The flow that the line of such a run goes about, and whether it is the one that stands; none where
    /// the run is closed.
    fn base(&self, levels: [f64; 2], flow: f64) -> (f64, bool) {
        if self.allows(flow) {
            return (flow, true);
        }
        let flow = self.about(levels);
        if flow.abs() <= TRICKLE_M3_S {
            return (0.0, true);
        }
        (flow, false)
    }

    /// The straight line about these levels and a flow; see `linear::linearise`.
    #[inline(always)]
    fn line(
        &self,
        [source_m, target_m]: [f64; 2],
        (base, stands): (f64, bool),
        lost: Slope,
    ) -> Linear {
        let two_way = self.forward && self.backward;
        if base == 0.0 && !two_way {
            return Linear::default();
        }
        let error = source_m - (target_m + lost.value);
        let slope = 1.0 / lost.slope;
        let sense = if base < 0.0 {
            Sense::Backward
        } else {
            Sense::Forward
        };
        Linear {
            flow: base + error * slope,
            by_source: slope,
            by_target: -slope,
            // Where the run stands closed and should not, the law does not hold.
            energy_m: if stands {
                error * sense.sign()
            } else {
                f64::INFINITY
            },
            sense: Some(sense),
            two_way,
            over_edge: false,
            last_digit: 0.0,
            held: Held::Outlet,
        }
    }
}

/// The lines of up to [`AT_A_TIME`] links about `point`, the first of them number `first`.
///
/// What takes longest, the friction of the runs between joints, is reckoned for all of them at once.
pub(super) fn lines(system: &System, point: &Point, first: usize, lines: &mut [Linear]) {
    let range = first..first + lines.len();
    let (links, ready) = (&system.links[range.clone()], &system.drowned[range]);
    let mut bases = [(0.0, true); AT_A_TIME];
    let (mut re, mut wall_terms) = ([0.0; AT_A_TIME], [0.0; AT_A_TIME]);
    for (index, (link, ready)) in links.iter().zip(ready).enumerate() {
        if let Some(drowned) = ready {
            let levels = link.levels(&point.head_m);
            bases[index] = drowned.base(levels, point.flow_m3_s[first + index]);
            if let Some(asked) = drowned.loss.turbulence(bases[index].0) {
                (re[index], wall_terms[index]) = asked;
            }
        }
    }
    // A layout of vessels and their drains has no such run, and no need of any of it.
    let (values, slopes) = match re.iter().any(|re| *re > 0.0) {
        true => turbulent_drags(&re, &wall_terms),
        false => ([0.0; AT_A_TIME], [0.0; AT_A_TIME]),
    };
    for (index, ((link, ready), line)) in links.iter().zip(ready).zip(lines).enumerate() {
        let levels = link.levels(&point.head_m);
        let drag = Slope {
            value: values[index],
            slope: slopes[index],
        };
        // Each written where it stays: built first and then moved, the line would take as long again.
        if let Some(drowned) = ready {
            let lost = drowned.loss.at_drag(bases[index].0, drag);
            *line = drowned.line(levels, bases[index], lost);
        } else {
            *line = linearise(link.law, levels, point.flow_m3_s[first + index]);
        }
    }
}
