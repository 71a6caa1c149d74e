//! A sloping drain that runs part full: velocity, flow, capacity, normal depth.
//!
//! Limitations: steady uniform flow; no air drag; the slope is rise over length.

use super::circle::Circle;
use crate::hydraulics::losses::friction::reynolds_for_drag;
use crate::hydraulics::{LEAST_VISCOSITY_M2_S, STANDARD_GRAVITY_M_S2};

/// Depths over bore between which the largest flow lies: 0.938 by Manning, 0.950 with a constant
/// factor [@chow-1959], near 0.89 in laminar flow.
const FULLEST: (f64, f64) = (0.8, 0.96);

/// The velocity formula.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Formula {
    /// V = R^⅔·√S/n. [@manning]
    Manning {
        /// n, s/m^⅓; near 0.009 for plastic, 0.013 for old concrete.
        n: f64,
    },
    /// The Darcy law of full pipes on a bore of four hydraulic radii. [@colebrook-1939]
    Colebrook {
        /// Equivalent sand roughness, m.
        roughness_m: f64,
        /// Kinematic viscosity, m²/s.
        kinematic_viscosity_m2_s: f64,
    },
}

/// A straight drain of constant fall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drain {
    /// Section.
    pub circle: Circle,
    /// Fall over length, dimensionless; a rising drain counts as level.
    pub slope: f64,
    /// Formula.
    pub formula: Formula,
}

impl Drain {
    /// Velocity of uniform flow at this depth, m/s.
    pub fn velocity_m_s(&self, depth_m: f64) -> f64 {
        let radius_m = self.circle.hydraulic_radius_m(depth_m);
        let slope = self.slope.max(0.0);
        if radius_m <= 0.0 {
            return 0.0;
        }
        match self.formula {
            Formula::Manning { n } => radius_m.cbrt().powi(2) * slope.sqrt() / n.max(1e-4),
            Formula::Colebrook {
                roughness_m,
                kinematic_viscosity_m2_s,
            } => {
                let bore_m = 4.0 * radius_m;
                let viscosity = kinematic_viscosity_m2_s.max(LEAST_VISCOSITY_M2_S);
                let pull = 2.0 * STANDARD_GRAVITY_M_S2 * slope * bore_m / (viscosity * viscosity);
                let re = reynolds_for_drag(pull * bore_m * bore_m, roughness_m / bore_m);
                re * viscosity / bore_m
            }
        }
    }

    /// Flow at this depth, m³/s.
    pub fn flow_m3_s(&self, depth_m: f64) -> f64 {
        self.velocity_m_s(depth_m) * self.circle.area_m2(depth_m)
    }

    /// Flow when full, m³/s.
    pub fn full_flow_m3_s(&self) -> f64 {
        self.flow_m3_s(self.circle.bore_m)
    }

    /// Depth at which the drain carries most, m: above it the wetted perimeter grows faster than the area.
    pub fn fullest_depth_m(&self) -> f64 {
        let bore_m = self.circle.bore_m;
        let (mut low, mut high) = (FULLEST.0 * bore_m, FULLEST.1 * bore_m);
        for _ in 0..60 {
            let third = (high - low) / 3.0;
            if self.flow_m3_s(low + third) < self.flow_m3_s(high - third) {
                low += third;
            } else {
                high -= third;
            }
        }
        0.5 * (low + high)
    }

    /// Maximum free-surface flow of the drain, m³/s: a little more than full.
    pub fn capacity_m3_s(&self) -> f64 {
        self.flow_m3_s(self.fullest_depth_m())
    }

    /// Normal depth of a flow, m; `None` if the drain cannot carry the flow part full.
    pub fn normal_depth_m(&self, flow_m3_s: f64) -> Option<f64> {
        if flow_m3_s <= 0.0 {
            return Some(0.0);
        }
        let (mut low, mut high) = (0.0, self.fullest_depth_m());
        if flow_m3_s.is_nan() || flow_m3_s > self.flow_m3_s(high) {
            return None;
        }
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if self.flow_m3_s(middle) < flow_m3_s {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(0.5 * (low + high))
    }
}
