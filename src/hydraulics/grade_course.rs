//! The grade of a gravity run: the energy line marched up its profile from the outlet.
//!
//! Limitations: steady flow, hydrostatic depth, round bore of one size; no air drawn along; a
//! leg that is too steep for the flow is held at critical depth, and what happens below that
//! depth is not followed. See `docs/method/grade.md`.

use super::circle::{Circle, critical_depth};
use super::friction::Wall;
use super::grade::{Curve, Stream, Wetted};
use super::loss::{Loss, Minor};
use super::{LEAST_BORE_M, full_area_m2};

/// A straight piece of a run; the first is that at the outlet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leg {
    /// One whose water may have a free surface.
    Sloping {
        /// Length along the pipe, m.
        length_m: f64,
        /// Invert at its end downstream, m.
        lower_m: f64,
        /// Invert at its end upstream, m.
        upper_m: f64,
    },
    /// One steeper than 1:1: taken as full, so that it passes the grade straight up.
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

/// A run as its grade sees it, for one direction of flow.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Pieces from the outlet upwards.
    pub legs: Vec<Leg>,
    /// Lip of the outlet, m: the invert of a horizontal one.
    pub outlet_m: f64,
    /// Bore of a horizontal outlet, m; none where the mouth is turned down.
    pub outlet_bore_m: Option<f64>,
    /// The pipe: bore, wall and water count, nothing else.
    pub pipe: Loss,
    /// Fittings whose loss is spread evenly along the run.
    pub spread: Loss,
    /// Entrance and exit: they count on the velocity at the upper end.
    pub top: Loss,
    /// Valves and equipment at the upper end, which run full.
    pub full: Loss,
}

/// The upper end of a march.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Top {
    /// Level of water or of the piezometric head in the pipe there, m.
    pub grade_m: f64,
    /// Head that must stand upstream of it, m.
    pub head_m: f64,
    /// No leg has a free surface anywhere.
    pub full: bool,
}

/// How far a march has come.
pub(super) struct Mark {
    /// Energy head, m: level or piezometric head, and what of the velocity head rides on it.
    pub(super) energy_m: f64,
    full: bool,
}

/// Most of K of entrance and exit that counts on the velocity in a part-full mouth; more counts as in
/// a full one. Up to this a mouth that fills asks for no less head, whatever the flow.
const MOST_PART_FULL_K: f64 = 1.5;

impl Course {
    /// Bore of the pipe, m.
    pub fn bore_m(&self) -> f64 {
        self.pipe.bore_m.max(LEAST_BORE_M)
    }

    /// Length of all legs, m.
    pub fn length_m(&self) -> f64 {
        self.legs.iter().map(Leg::length_m).sum()
    }

    /// Whether any leg may have a free surface; else the grade is that of a full run.
    pub fn may_run_part_full(&self) -> bool {
        let sloping = |leg: &Leg| matches!(leg, Leg::Sloping { .. });
        self.legs.iter().any(sloping)
    }

    /// Highest invert, m: what a trickle has to climb over; at least the outlet.
    pub fn sill_m(&self) -> f64 {
        let heights = self.legs.iter().map(|leg| match *leg {
            Leg::Sloping {
                lower_m, upper_m, ..
            } => lower_m.max(upper_m),
            Leg::Plumb { .. } => f64::NEG_INFINITY,
        });
        heights.fold(self.outlet_m, f64::max)
    }

    /// K of entrance and exit on the velocity at the upper end, as far as it counts part full.
    fn top_k(&self) -> f64 {
        let bore_m = self.bore_m();
        let on_pipe = |minor: &Minor| {
            let ratio = bore_m / minor.bore_m.max(LEAST_BORE_M);
            minor.k.max(0.0) * ratio.powi(4)
        };
        self.top.minors.iter().map(on_pipe).sum()
    }

    /// How much of the velocity head rides on the energy line: as much as entrance and exit lose
    /// of it at the upper end, at most all.
    fn velocity_share(&self) -> f64 {
        self.top_k().min(1.0)
    }

    /// Runs `then` with the curve of a flow (> 0).
    pub(super) fn with_curve<T>(&self, flow_m3_s: f64, then: impl FnOnce(&Curve<'_>) -> T) -> T {
        let bore_m = self.bore_m();
        let circle = Circle { bore_m };
        let full_m2 = full_area_m2(bore_m);
        let gravity_m_s2 = self.pipe.gravity_m_s2;
        let critical = critical_depth(bore_m, flow_m3_s, gravity_m_s2).value;
        let stream = Stream {
            section: &circle,
            flow_m3_s,
            critical_m: critical.clamp(1e-12 * bore_m, bore_m),
            velocity_share: self.velocity_share(),
            gravity_m_s2,
        };
        let length_m = self.length_m();
        let friction = |wetted: Wetted| {
            let hydraulic_m = 4.0 * wetted.area_m2 / wetted.perimeter_m;
            let wall = self
                .pipe
                .friction_slope(hydraulic_m, flow_m3_s / wetted.area_m2);
            // Fittings feel the velocity here as they would in a full run that flows faster.
            let fittings = self.spread.minor_m(flow_m3_s * full_m2 / wetted.area_m2);
            wall + fittings / length_m.max(1e-9)
        };
        then(&Curve::new(stream, friction))
    }

    /// Grade at the outlet for a level downstream, m.
    pub(super) fn tail_m(&self, flow_m3_s: f64, level_m: f64) -> f64 {
        let rise_m = self.outlet_bore_m.map_or(0.0, |bore_m| {
            critical_depth(bore_m, flow_m3_s, self.pipe.gravity_m_s2).value
        });
        level_m.max(self.outlet_m + rise_m)
    }

    /// Marches a flow (> 0, m³/s) up against a level downstream, m (−∞: a free outlet).
    pub fn march(&self, flow_m3_s: f64, level_m: f64) -> Top {
        self.with_curve(flow_m3_s, |curve| self.march_on(curve, flow_m3_s, level_m))
    }

    /// Heads upstream for one flow against several levels downstream, m; one tabulation for all.
    pub fn heads<const N: usize>(&self, flow_m3_s: f64, levels_m: [f64; N]) -> [Top; N] {
        self.with_curve(flow_m3_s, |curve| {
            levels_m.map(|level_m| self.march_on(curve, flow_m3_s, level_m))
        })
    }

    fn march_on(&self, curve: &Curve<'_>, flow_m3_s: f64, level_m: f64) -> Top {
        let mut at = self.start(curve, self.tail_m(flow_m3_s, level_m));
        for leg in &self.legs {
            at = self.climb(curve, leg, &at);
        }
        self.enter(curve, flow_m3_s, &at)
    }

    /// The energy head just inside the outlet.
    pub(super) fn start(&self, curve: &Curve<'_>, tail_m: f64) -> Mark {
        let energy_m = match self.legs.first() {
            Some(Leg::Sloping { lower_m, .. }) => lower_m + curve.energy_m(tail_m - lower_m),
            _ => tail_m + curve.full_velocity_m(),
        };
        Mark {
            energy_m,
            full: true,
        }
    }

    /// One leg upwards.
    pub(super) fn climb(&self, curve: &Curve<'_>, leg: &Leg, at: &Mark) -> Mark {
        match *leg {
            Leg::Plumb { length_m } => Mark {
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
                Mark {
                    energy_m: upper_m + end_m,
                    full: at.full && start_m >= full_m && end_m >= full_m,
                }
            }
        }
    }

    /// Head upstream of the upper end: entrance and exit on the velocity there.
    ///
    /// A mouth loses less where water stands deeper in it. It is not let to ask for less head than at
    /// critical depth: a vessel does not fall because the one behind it rises.
    fn enter(&self, curve: &Curve<'_>, flow_m3_s: f64, at: &Mark) -> Top {
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

    /// What entrance and exit lose with this depth in the mouth, m.
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

/// A loss of nothing but the tiny resistance that every run has, with the water of `pipe`.
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
