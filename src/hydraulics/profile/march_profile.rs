//! The grade of a run: the energy line marched up its profile from the outlet.
//!
//! Limitations: steady flow, hydrostatic depth, round bore of one size; no entrained air; a leg that is steep for
//! the flow is set to critical depth, and supercritical flow below that depth is not computed. See
//! `docs/method/grade.md` and, for high points, `docs/method/high-points.md`.

use super::high_point::{HighPoint, MarchBoundary};
use crate::hydraulics::channel::circle::{Circle, critical_depth};
use crate::hydraulics::channel::grade::{Curve, Stream, Tabulated, Wetted};
use crate::hydraulics::losses::friction::Wall;
use crate::hydraulics::losses::loss::{Loss, Minor};
use crate::hydraulics::{LEAST_BORE_M, full_area_m2};

/// A straight piece of a run; the first is that at the outlet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leg {
    /// A leg whose water may have a free surface.
    Sloping {
        /// Length along the pipe, m.
        length_m: f64,
        /// Invert at its downstream end, m.
        lower_m: f64,
        /// Invert at its upstream end, m.
        upper_m: f64,
    },
    /// A leg steeper than 1:1: taken as full, so that it passes the grade straight up.
    Plumb {
        /// Length along the pipe, m.
        length_m: f64,
    },
}

impl Leg {
    /// Length along the pipe, m.
    pub fn length_m(&self) -> f64 {
        match *self {
            Leg::Sloping { length_m, .. } | Leg::Plumb { length_m } => length_m,
        }
    }
}

/// How the water leaves the lower end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outfall {
    /// Over or under a lip: the grade is the level, or the lip where that is in air.
    Lip,
    /// At critical depth over the invert of a horizontal end.
    Critical {
        /// Bore of the end, m.
        bore_m: f64,
    },
    /// Full-bore discharge from a horizontal end: (y_c + D)/2 over its invert.
    Full {
        /// Bore of the end, m.
        bore_m: f64,
    },
    /// Into a joint, whose head is that of the energy line.
    Joint,
}

/// The loss of a valve, a filter or a fitting at its position; it runs full there.
#[derive(Clone, Debug, PartialEq)]
pub struct LocalLoss {
    /// Legs between it and the outlet.
    pub boundary: usize,
    /// Invert there, m; the march continues at no less than critical depth over it.
    pub invert_m: f64,
    /// Its loss.
    pub loss: Loss,
}

/// The profile of a run for its grade computation, for one direction of flow.
///
/// A *boundary* is the number of legs between a place and the outlet: 0 is the outlet, the number of all legs the
/// upper end.
#[derive(Clone, Debug, PartialEq)]
pub struct MarchProfile {
    /// Legs from the outlet upwards.
    pub legs: Vec<Leg>,
    /// Lip of the outlet, m: the invert of a horizontal one, or of the pipe at a joint.
    pub outlet_m: f64,
    /// How the water leaves there.
    pub outfall: Outfall,
    /// The pipe falls to its outlet, or runs level: air can enter from there.
    pub falls_to_outlet: bool,
    /// Where air gathers, from the outlet upwards.
    pub high_points: Vec<HighPoint>,
    /// Valves and the like with a given position along the run, from the outlet upwards.
    pub local: Vec<LocalLoss>,
    /// The pipe: only its bore, wall and water matter.
    pub pipe: Loss,
    /// Fittings whose loss is spread evenly along the run.
    pub spread: Loss,
    /// Entrance and exit: based on the velocity at the upper end.
    pub top: Loss,
    /// Valves and equipment at the upper end, which run full.
    pub full: Loss,
}

/// The upper end of a march.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Top {
    /// Water level, or piezometric head in the pipe there, m.
    pub grade_m: f64,
    /// Required upstream head, m.
    pub head_m: f64,
    /// No leg has a free surface anywhere.
    pub full: bool,
}

/// The progress of a march.
#[derive(Clone, Copy, Debug)]
pub(super) struct MarchState {
    /// Energy head, m: level or piezometric head, plus the velocity head included in the energy line.
    pub(super) energy_m: f64,
    pub(super) full: bool,
}

/// Largest K of entrance and exit that is based on the velocity in a part-full mouth; the excess is based on
/// the full bore. Up to this value a mouth that fills requires no less head, whatever the flow.
const MOST_PART_FULL_K: f64 = 1.5;

impl MarchProfile {
    /// Bore of the pipe, m.
    pub fn bore_m(&self) -> f64 {
        self.pipe.bore_m.max(LEAST_BORE_M)
    }

    /// Length of all legs, m.
    pub fn length_m(&self) -> f64 {
        self.legs.iter().map(Leg::length_m).sum()
    }

    /// Length of the legs between the outlet and a boundary, m.
    pub fn length_to_m(&self, boundary: usize) -> f64 {
        self.legs.iter().take(boundary).map(Leg::length_m).sum()
    }

    /// Whether any leg may have a free surface, or air may stand in it; else the grade is that of a full run.
    pub fn may_run_part_full(&self) -> bool {
        let sloping = |leg: &Leg| matches!(leg, Leg::Sloping { .. });
        self.legs.iter().any(sloping) || !self.high_points.is_empty() || !self.local.is_empty()
    }

    /// Highest invert, m, which a trickle has to climb over; at least that of the outlet.
    pub fn sill_m(&self) -> f64 {
        let legs = self.legs.iter().map(|leg| match *leg {
            Leg::Sloping {
                lower_m, upper_m, ..
            } => lower_m.max(upper_m),
            Leg::Plumb { .. } => f64::NEG_INFINITY,
        });
        let crests = self.high_points.iter().map(|point| point.invert_m);
        let local = self.local.iter().map(|loss| loss.invert_m);
        let heights = legs.chain(crests).chain(local);
        heights.fold(self.outlet_m, f64::max)
    }

    /// Required upstream head of a trickle against a downstream level, m (−∞: a free outlet), and whether
    /// it is that level itself.
    pub fn at_rest(&self, level_m: f64) -> (f64, bool) {
        let head_m = self.walk_still(level_m, |_| {});
        (head_m, head_m == level_m)
    }

    /// The same, with a callback at every boundary on the way.
    pub(super) fn walk_still(&self, level_m: f64, mut told: impl FnMut(&MarchBoundary)) -> f64 {
        let rise_m = match self.outfall {
            Outfall::Full { bore_m } => 0.5 * bore_m,
            _ => 0.0,
        };
        let mut at = MarchBoundary::new(self.over_outlet_m(level_m, rise_m));
        self.pass_still(&mut at);
        told(&at);
        for leg in &self.legs {
            let mut energy_m = at.energy_m;
            if let Leg::Sloping {
                lower_m, upper_m, ..
            } = *leg
            {
                energy_m = energy_m.max(lower_m).max(upper_m);
            }
            at.climbed(energy_m);
            self.pass_still(&mut at);
            told(&at);
        }
        at.energy_m
    }

    /// Head that a trickle requires at the boundary just reached.
    fn pass_still(&self, at: &mut MarchBoundary) {
        let here = at.boundary();
        let sills = self.local.iter().filter(|loss| loss.boundary == here);
        at.energy_m = sills.fold(at.energy_m, |sum_m, loss| sum_m.max(loss.invert_m));
        for point in self.high_points.iter().filter(|one| one.boundary == here) {
            let held_m = point.trapped_air_m(self.bore_m(), 0.0, |foot| at.energy_at(foot));
            at.energy_m = at.energy_m.max(point.invert_m + held_m);
        }
    }

    /// K of entrance and exit on the velocity at the upper end: the part that counts part full.
    fn top_k(&self) -> f64 {
        let bore_m = self.bore_m();
        let on_pipe = |minor: &Minor| {
            let ratio = bore_m / minor.bore_m.max(LEAST_BORE_M);
            minor.k.max(0.0) * ratio.powi(4)
        };
        self.top.minors.iter().map(on_pipe).sum()
    }

    /// Fraction of the velocity head that the energy line includes: the fraction lost at entrance and exit
    /// of the upper end, at most all of it.
    fn velocity_share(&self) -> f64 {
        self.top_k().min(1.0)
    }

    /// A flow (> 0, m³/s) in the bore.
    fn stream<'a>(&self, circle: &'a Circle, flow_m3_s: f64) -> Stream<'a> {
        let bore_m = circle.bore_m;
        let gravity_m_s2 = self.pipe.gravity_m_s2;
        let critical = critical_depth(bore_m, flow_m3_s, gravity_m_s2).value;
        Stream {
            section: circle,
            flow_m3_s,
            critical_m: critical.clamp(1e-12 * bore_m, bore_m),
            velocity_share: self.velocity_share(),
            gravity_m_s2,
        }
    }

    /// Calls `then` with the curve of a flow (> 0).
    pub(super) fn with_curve<T>(&self, flow_m3_s: f64, then: impl FnOnce(&Curve<'_>) -> T) -> T {
        let bore_m = self.bore_m();
        let circle = Circle { bore_m };
        let full_m2 = full_area_m2(bore_m);
        let length_m = self.length_m();
        let friction = |wetted: Wetted| {
            let hydraulic_m = 4.0 * wetted.area_m2 / wetted.perimeter_m;
            let wall = self
                .pipe
                .friction_slope(hydraulic_m, flow_m3_s / wetted.area_m2);
            // The loss at fittings follows the local velocity, as in a full run with a larger flow.
            let fittings = self.spread.minor_m(flow_m3_s * full_m2 / wetted.area_m2);
            wall + fittings / length_m.max(1e-9)
        };
        then(&Curve::new(self.stream(&circle, flow_m3_s), friction))
    }

    /// The same with a curve that was tabulated before.
    pub(super) fn with_tabulated<T>(
        &self,
        (flow_m3_s, tabulated): (f64, &Tabulated),
        then: impl FnOnce(&Curve<'_>) -> T,
    ) -> T {
        let circle = Circle {
            bore_m: self.bore_m(),
        };
        then(&Curve::of(self.stream(&circle, flow_m3_s), tabulated))
    }

    /// Grade at the outlet for a downstream level, m; the head of a joint.
    pub(super) fn tail_m(&self, flow_m3_s: f64, level_m: f64) -> f64 {
        let critical_m =
            |bore_m: f64| critical_depth(bore_m, flow_m3_s, self.pipe.gravity_m_s2).value;
        let rise_m = match self.outfall {
            Outfall::Lip | Outfall::Joint => 0.0,
            Outfall::Critical { bore_m } => critical_m(bore_m),
            Outfall::Full { bore_m } => 0.5 * (critical_m(bore_m) + bore_m),
        };
        self.over_outlet_m(level_m, rise_m)
    }

    /// The downstream level, or the grade over the outlet in air, m. The head of a joint may lie below a pipe that
    /// is full, or that falls into it.
    fn over_outlet_m(&self, level_m: f64, rise_m: f64) -> f64 {
        if self.depends_on_joint() && level_m.is_finite() {
            level_m
        } else {
            level_m.max(self.outlet_m + rise_m)
        }
    }

    /// Whether it ends at a joint whose head it follows, however low.
    pub(super) fn depends_on_joint(&self) -> bool {
        self.outfall == Outfall::Joint && !matches!(self.legs.first(), Some(Leg::Sloping { .. }))
    }

    /// Marches a flow (> 0, m³/s) up against a downstream level, m (−∞: a free outlet).
    pub fn march(&self, flow_m3_s: f64, level_m: f64) -> Top {
        self.with_curve(flow_m3_s, |curve| self.march_on(curve, flow_m3_s, level_m))
    }

    /// Upstream heads for one flow against several downstream levels, m; one tabulation for all.
    pub fn heads<const N: usize>(&self, flow_m3_s: f64, levels_m: [f64; N]) -> [Top; N] {
        self.with_curve(flow_m3_s, |curve| {
            levels_m.map(|level_m| self.march_on(curve, flow_m3_s, level_m))
        })
    }

    pub(super) fn march_on(&self, curve: &Curve<'_>, flow_m3_s: f64, level_m: f64) -> Top {
        let end = self.walk(curve, (flow_m3_s, level_m), |_| {});
        self.enter(curve, flow_m3_s, &end)
    }

    /// Marches from the outlet to the upper end, with a callback at every boundary on the way.
    pub(super) fn walk(
        &self,
        curve: &Curve<'_>,
        (flow_m3_s, level_m): (f64, f64),
        mut told: impl FnMut(&MarchBoundary),
    ) -> MarchState {
        let start = self.start(curve, self.tail_m(flow_m3_s, level_m));
        let mut at = MarchBoundary::new(start.energy_m);
        let mut full = start.full;
        full &= self.pass(curve, flow_m3_s, &mut at);
        told(&at);
        for leg in &self.legs {
            let energy_m = at.energy_m;
            let next = self.climb(curve, leg, &MarchState { energy_m, full });
            at.climbed(next.energy_m);
            full = next.full;
            full &= self.pass(curve, flow_m3_s, &mut at);
            told(&at);
        }
        MarchState {
            energy_m: at.energy_m,
            full,
        }
    }

    /// Adds the losses, and the head held back by air, at the boundary just reached. False where the run is not full
    /// there.
    fn pass(&self, curve: &Curve<'_>, flow_m3_s: f64, at: &mut MarchBoundary) -> bool {
        let here = at.boundary();
        let mut full = true;
        for local in self.local.iter().filter(|loss| loss.boundary == here) {
            let least_m = local.invert_m + curve.critical_energy_m();
            at.energy_m += local.loss.at(flow_m3_s).value;
            full &= at.energy_m >= least_m;
            at.energy_m = at.energy_m.max(least_m);
        }
        for point in self.high_points.iter().filter(|one| one.boundary == here) {
            let held_m =
                point.trapped_air_m(self.bore_m(), curve.critical_m(), |foot| at.energy_at(foot));
            let least_m = point.invert_m + curve.critical_energy_m() + held_m;
            full &= at.energy_m >= least_m;
            at.energy_m = at.energy_m.max(least_m);
        }
        full
    }

    /// The energy head just inside the outlet.
    pub(super) fn start(&self, curve: &Curve<'_>, tail_m: f64) -> MarchState {
        let energy_m = match (self.legs.first(), self.outfall) {
            (Some(Leg::Sloping { lower_m, .. }), Outfall::Joint) => {
                tail_m.max(lower_m + curve.critical_energy_m())
            }
            (_, Outfall::Joint) => tail_m,
            (Some(Leg::Sloping { lower_m, .. }), _) => lower_m + curve.energy_m(tail_m - lower_m),
            _ => tail_m + curve.full_velocity_m(),
        };
        MarchState {
            energy_m,
            full: true,
        }
    }

    /// One leg upwards.
    pub(super) fn climb(&self, curve: &Curve<'_>, leg: &Leg, at: &MarchState) -> MarchState {
        match *leg {
            Leg::Plumb { length_m } => MarchState {
                energy_m: at.energy_m + curve.full_slope() * length_m,
                full: at.full,
            },
            Leg::Sloping {
                length_m,
                lower_m,
                upper_m,
            } => {
                let start_m = at.energy_m - lower_m;
                let rise = (upper_m - lower_m) / length_m;
                let end_m = curve.upstream_m(start_m, length_m, rise);
                let full_m = curve.full_energy_m() - 1e-12;
                MarchState {
                    energy_m: upper_m + end_m,
                    full: at.full && start_m >= full_m && end_m >= full_m,
                }
            }
        }
    }

    /// Head upstream of the upper end: entrance and exit losses on the velocity there.
    ///
    /// A mouth loses less where the water in it is deeper. Its required head is not allowed to fall below that at
    /// critical depth: a vessel does not fall because the one downstream rises.
    fn enter(&self, curve: &Curve<'_>, flow_m3_s: f64, at: &MarchState) -> Top {
        let full_m = self.full.at(flow_m3_s).value;
        let (grade_m, head_m) = match self.legs.last() {
            Some(Leg::Sloping { upper_m, .. }) => {
                let depth_m = curve.depth_m(at.energy_m - upper_m);
                let least_m = curve.critical_m();
                let heads =
                    [depth_m, least_m].map(|depth_m| depth_m + self.mouth_m(flow_m3_s, depth_m));
                (upper_m + depth_m, upper_m + heads[0].max(heads[1]))
            }
            _ => {
                let grade_m = at.energy_m - curve.full_velocity_m();
                (grade_m, grade_m + self.mouth_m(flow_m3_s, self.bore_m()))
            }
        };
        Top {
            grade_m,
            head_m: head_m + full_m,
            full: at.full,
        }
    }

    /// Entrance and exit loss with this depth in the mouth, m.
    fn mouth_m(&self, flow_m3_s: f64, depth_m: f64) -> f64 {
        let circle = Circle {
            bore_m: self.bore_m(),
        };
        let full_m2 = full_area_m2(self.bore_m());
        let as_full_m3_s = flow_m3_s * full_m2 / circle.area_m2(depth_m).max(1e-300);
        let part = (MOST_PART_FULL_K / self.top_k().max(1e-300)).min(1.0);
        let rest = 1.0 - part;
        let mut lost_m = part * self.top.minor_m(as_full_m3_s);
        if rest > 0.0 {
            lost_m += rest * self.top.minor_m(flow_m3_s);
        }
        lost_m
    }
}

/// A loss with nothing but the minimum resistance that every run has, with the water of `pipe`.
pub fn lossless(pipe: &Loss) -> Loss {
    Loss {
        length_m: 0.0,
        wall: Wall::FixedFactor(0.0),
        minors: Vec::new(),
        equipment_a: 0.0,
        equipment_b: 0.0,
        ..*pipe
    }
}
