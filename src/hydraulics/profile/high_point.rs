//! High points of a run, where air gathers: the head they hold back, and the flow that clears them.
//!
//! See `docs/method/high-points.md`.

use crate::hydraulics::channel::circle::full_bore_froude;

/// Steepest slope for which the clearing velocity was measured, degrees; a steeper leg counts as this.
/// [@escarameia-2007]
const STEEPEST_DEG: f64 = 22.5;
/// V/√(gD) that clears air from a falling leg is `BY_SLOPE`·√(sin θ) + `LEVEL`. [@escarameia-2007]
const BY_SLOPE: f64 = 0.56;
const LEVEL: f64 = 0.61;
/// Fraction of the bore to which water must stand at a high point before it primes by itself. A choice, no source.
pub const PRIMES_AT_SHARE: f64 = 0.8;
/// V/√(gD) of the full bore below which a falling leg that ends in air vents itself. [@simpson-1968, @hills-1983]
pub const SELF_VENTING_FROUDE: f64 = 0.3;
/// Range of depth over bore in which a pipe counts as filling, so that air is shut in gradually. A choice: it avoids a
/// step in the law that a solver could not handle.
const FILLING: std::ops::Range<f64> = 0.9..1.0;

/// Where the falling leg behind a high point ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Foot {
    /// At the outlet of the run.
    Outlet,
    /// At a low point, which fills and shuts in the air.
    LowPoint {
        /// Legs between it and the outlet of the run.
        boundary: usize,
        /// Invert there, m.
        invert_m: f64,
    },
}

/// A local maximum of the invert of a run, for one direction of flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HighPoint {
    /// Legs between it and the outlet of the run.
    pub boundary: usize,
    /// Invert there, m.
    pub invert_m: f64,
    /// Where the falling leg behind it ends.
    pub foot: Foot,
    /// Lowest invert between it and the high point or the surface upstream, m; −∞ where the pipe certainly fills
    /// there.
    pub upstream_m: f64,
    /// Sine of the steepest slope of the falling leg, 0 to 1.
    pub sine: f64,
    /// Air can enter and leave there.
    pub vented: bool,
}

impl HighPoint {
    /// V/√(gD) of the full bore that carries air down its falling leg and out of it. [@escarameia-2007]
    pub fn clearing_froude(&self) -> f64 {
        clearing_froude(self.sine)
    }

    /// Head that shut-in air adds to the required head of a flow here, m: the falling leg is full of air at worst,
    /// and the air is under the pressure of the low point. 0 where air can leave.
    ///
    /// `critical_m`: critical depth of the flow. `at_foot`: energy head at a boundary, m; it also determines how far
    /// the low point fills, since the depth there falls where the flow grows against a constant head.
    pub(super) fn trapped_air_m(
        &self,
        bore_m: f64,
        critical_m: f64,
        at_foot: impl Fn(usize) -> f64,
    ) -> f64 {
        let Foot::LowPoint { boundary, invert_m } = self.foot else {
            return 0.0;
        };
        if self.vented {
            return 0.0;
        }
        let over_m = at_foot(boundary) - invert_m;
        let above = filled((self.invert_m + critical_m - self.upstream_m) / bore_m);
        above * filled(over_m / bore_m) * over_m.max(0.0)
    }

    /// Whether the pipe fills upstream of it, so that no air comes from there; `critical_m` as before.
    pub(super) fn fills_upstream(&self, bore_m: f64, critical_m: f64) -> bool {
        self.invert_m + critical_m >= self.upstream_m + bore_m
    }

    /// Margin by which a flow clears its falling leg of air, dimensionless; negative where it does not.
    pub(super) fn clears_by(&self, flow_m3_s: f64, bore_m: f64, gravity_m_s2: f64) -> f64 {
        full_bore_froude(flow_m3_s, bore_m, gravity_m_s2) - self.clearing_froude()
    }
}

/// V/√(gD) of the full bore that carries air down a leg and out of it, by the sine of its slope. [@escarameia-2007]
///
/// For large pockets, without the safety factor of its source.
fn clearing_froude(sine: f64) -> f64 {
    let most = STEEPEST_DEG.to_radians().sin();
    BY_SLOPE * sine.clamp(0.0, most).sqrt() + LEVEL
}

/// The same for a vertical leg.
pub(crate) fn steep_clearing_froude() -> f64 {
    clearing_froude(1.0)
}

/// 0 where air passes over the water, 1 where the bore is full, by depth over bore.
fn filled(depth_share: f64) -> f64 {
    ((depth_share - FILLING.start) / (FILLING.end - FILLING.start)).clamp(0.0, 1.0)
}

/// The position of a march, with the energy heads at all earlier boundaries.
#[derive(Clone, Debug)]
pub(super) struct MarchBoundary {
    passed_m: Vec<f64>,
    /// Energy head here, m.
    pub energy_m: f64,
}

impl MarchBoundary {
    /// At the outlet.
    pub fn new(energy_m: f64) -> MarchBoundary {
        MarchBoundary {
            passed_m: Vec::new(),
            energy_m,
        }
    }

    /// Legs passed so far.
    pub fn boundary(&self) -> usize {
        self.passed_m.len()
    }

    /// Advances one leg upstream, to this energy head.
    pub fn climbed(&mut self, energy_m: f64) {
        self.passed_m.push(self.energy_m);
        self.energy_m = energy_m;
    }

    /// Energy head at an earlier boundary, or here, m.
    pub fn energy_at(&self, boundary: usize) -> f64 {
        self.passed_m
            .get(boundary)
            .copied()
            .unwrap_or(self.energy_m)
    }
}
