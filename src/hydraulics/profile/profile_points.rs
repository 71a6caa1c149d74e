//! Depth and velocity along a run whose grade is marched: for drawings and for sedimentation.

use super::march_profile::{Leg, MarchProfile};
use crate::hydraulics::channel::circle::Circle;
use crate::hydraulics::channel::grade::Curve;
use crate::hydraulics::full_area_m2;

/// A point along a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProfilePoint {
    /// Distance along the pipe from the outlet, m.
    pub distance_m: f64,
    /// Invert of the pipe, m; none inside a leg that is taken as full.
    pub invert_m: Option<f64>,
    /// Water level, or where the pipe is full the piezometric head, m.
    pub grade_m: f64,
    /// Velocity, m/s.
    pub velocity_m_s: f64,
}

/// Positions along a leg at which it is evaluated, as fractions of its length: close together at its lower end, where
/// the surface is steep.
const SHARES: [f64; 8] = [0.0, 0.01, 0.04, 0.12, 0.25, 0.45, 0.7, 1.0];

impl MarchProfile {
    /// Places along the run from the outlet upwards, for a flow (> 0, m³/s) against a downstream level.
    ///
    /// In a leg that is steep for the flow the depth is critical: the water is no deeper there.
    pub fn profile_points(&self, flow_m3_s: f64, level_m: f64) -> Vec<ProfilePoint> {
        self.with_curve(flow_m3_s, |curve| {
            let mut energies_m = Vec::with_capacity(self.legs.len() + 1);
            self.walk(curve, (flow_m3_s, level_m), |at| {
                energies_m.push(at.energy_m)
            });
            let mut places = Vec::new();
            let mut from_m = 0.0;
            for (leg, energy_m) in self.legs.iter().zip(energies_m) {
                let along = self.along(curve, leg, energy_m);
                places.extend(
                    along
                        .into_iter()
                        .map(|(share, invert_m, depth_m, grade_m)| ProfilePoint {
                            distance_m: from_m + share * leg.length_m(),
                            invert_m,
                            grade_m,
                            velocity_m_s: flow_m3_s / self.area_m2(depth_m),
                        }),
                );
                from_m += leg.length_m();
            }
            places
        })
    }

    fn area_m2(&self, depth_m: f64) -> f64 {
        let bore_m = self.bore_m();
        if depth_m >= bore_m {
            full_area_m2(bore_m)
        } else {
            Circle { bore_m }.area_m2(depth_m).max(1e-300)
        }
    }

    /// Fraction of the leg, invert, depth and grade at its places.
    fn along(
        &self,
        curve: &Curve<'_>,
        leg: &Leg,
        energy_m: f64,
    ) -> Vec<(f64, Option<f64>, f64, f64)> {
        match *leg {
            Leg::Plumb { length_m } => [0.0, 1.0]
                .map(|share| {
                    let here_m = energy_m + share * length_m * curve.full_slope();
                    (share, None, self.bore_m(), here_m - curve.full_velocity_m())
                })
                .to_vec(),
            Leg::Sloping {
                length_m,
                lower_m,
                upper_m,
            } => {
                let rise = (upper_m - lower_m) / length_m;
                let at = |share: f64| {
                    let along_m = share * length_m;
                    let invert_m = lower_m + share * (upper_m - lower_m);
                    let depth_m =
                        curve.depth_m(curve.upstream_m(energy_m - lower_m, along_m, rise));
                    (share, Some(invert_m), depth_m, invert_m + depth_m)
                };
                SHARES.map(at).to_vec()
            }
        }
    }
}
