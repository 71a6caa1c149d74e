//! Air in a run with high points: whether a flow clears it, and where it stands.
//!
//! See `docs/method/high-points.md` and `docs/method/air-shut-in.md`.

use super::high_point::{Foot, HighPoint, PRIMES_AT_SHARE};
use super::march_profile::{MarchProfile, Outfall};

/// Air in a run at one flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Margin by which the flow primes the run, m: negative while air stays. Froude numbers are converted to bores.
    pub primes_by_m: f64,
    /// The high point that restricts the flow most.
    pub at: HighPoint,
    /// Air can neither leave nor enter there.
    pub shut_in: bool,
    /// Head added there by shut-in air, m.
    pub trapped_m: f64,
}

/// Fraction of the bore above which a low point counts as full of water; for reporting only.
const FULL_SHARE: f64 = 0.95;

impl MarchProfile {
    /// Whether air can be cleared from the run at all: whether it has a high point without a vent.
    pub fn can_prime(&self) -> bool {
        self.high_points.iter().any(|point| !point.vented)
    }

    /// The effect of a flow (≥ 0, m³/s) on the air at the high points, against a downstream level, m; none where
    /// every high point has a vent.
    ///
    /// A run primes where water stands to 0.8 of the bore at every high point and every falling leg is cleared; shut-in
    /// air leaves by the second condition alone.  [@escarameia-2007]
    pub fn air(&self, flow_m3_s: f64, level_m: f64) -> Option<Air> {
        if !self.can_prime() {
            return None;
        }
        let energies_m = self.energies_m(flow_m3_s, level_m);
        let all = self.high_points.iter().filter(|point| !point.vented);
        let all = all.map(|point| self.air_at(point, (flow_m3_s, level_m), &energies_m));
        all.reduce(|worst, next| {
            let primes_by_m = worst.primes_by_m.min(next.primes_by_m);
            let heavier = next.trapped_m > worst.trapped_m
                || next.trapped_m == worst.trapped_m && next.at.invert_m > worst.at.invert_m;
            Air {
                primes_by_m,
                ..if heavier { next } else { worst }
            }
        })
    }

    /// Energy head and water level at every boundary, m, and the critical depth.
    fn energies_m(&self, flow_m3_s: f64, level_m: f64) -> Energies {
        if flow_m3_s <= 0.0 {
            return self.energies_at_rest(level_m);
        }
        self.with_curve(flow_m3_s, |curve| {
            let mut at = Energies::default();
            self.walk(curve, (flow_m3_s, level_m), |here| {
                at.energies_m.push(here.energy_m)
            });
            let depth = |point: &HighPoint| {
                let energy_m = at.energies_m.get(point.boundary).copied();
                curve.depth_m(energy_m.unwrap_or(point.invert_m) - point.invert_m)
            };
            at.depths_m = self.high_points.iter().map(depth).collect();
            at.critical_m = curve.critical_m();
            at
        })
    }

    fn energies_at_rest(&self, level_m: f64) -> Energies {
        let mut at = Energies::default();
        self.walk_still(level_m, |here| at.energies_m.push(here.energy_m));
        let depth = |point: &HighPoint| {
            let energy_m = at.energies_m.get(point.boundary).copied();
            (energy_m.unwrap_or(point.invert_m) - point.invert_m).max(0.0)
        };
        at.depths_m = self.high_points.iter().map(depth).collect();
        at
    }

    fn air_at(&self, point: &HighPoint, (flow_m3_s, level_m): (f64, f64), at: &Energies) -> Air {
        let bore_m = self.bore_m();
        let below = match point.foot {
            Foot::Outlet => self.is_submerged(level_m),
            Foot::LowPoint { boundary, invert_m } => {
                let energy_m = at.energies_m.get(boundary).copied();
                energy_m.unwrap_or(invert_m) - invert_m >= FULL_SHARE * bore_m
            }
        };
        let shut_in = below && point.fills_upstream(bore_m, at.critical_m);
        let clears_by_m = bore_m * point.clears_by(flow_m3_s, bore_m, self.pipe.gravity_m_s2);
        let place = self.high_points.iter().position(|one| one == point);
        let depth_m = place.and_then(|place| at.depths_m.get(place)).copied();
        let fills_by_m = depth_m.unwrap_or(0.0).min(bore_m) - PRIMES_AT_SHARE * bore_m;
        Air {
            primes_by_m: if shut_in {
                clears_by_m
            } else {
                clears_by_m.min(fills_by_m)
            },
            at: *point,
            shut_in,
            trapped_m: point.trapped_air_m(bore_m, at.critical_m, |boundary| {
                let energy_m = at.energies_m.get(boundary).copied();
                energy_m.unwrap_or(point.invert_m)
            }),
        }
    }

    /// Whether no air enters at the outlet.
    fn is_submerged(&self, level_m: f64) -> bool {
        match self.outfall {
            Outfall::Joint => level_m >= self.outlet_m + self.bore_m(),
            Outfall::Lip => level_m > self.outlet_m,
            Outfall::Critical { bore_m } | Outfall::Full { bore_m } => {
                level_m >= self.outlet_m + bore_m
            }
        }
    }
}

/// The results of a march at its boundaries.
#[derive(Default)]
struct Energies {
    /// Energy head at every boundary, m.
    energies_m: Vec<f64>,
    /// Depth at every high point, m.
    depths_m: Vec<f64>,
    /// Critical depth, m; 0 without flow.
    critical_m: f64,
}
