//! The part-full circular section and its critical depth.
//!
//! Everything is expressed in t = tan φ, where φ is a quarter of the central angle of the water surface: depth/bore
//! = sin²φ = t²/(1 + t²). In ln t the laws are nearly straight lines from a film on the invert to a full bore, so
//! Newton's method converges from any start.

use super::grade::{Section as AnySection, Wetted};
use crate::hydraulics::{Dual, LEAST_BORE_M, full_area_m2};

/// A circular bore, part full to some depth above its invert.
///
/// Depths below 0 count as 0 and depths above the bore as full.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circle {
    /// Bore, m.
    pub bore_m: f64,
}

impl Circle {
    /// Wetted area, m². [@chow-1959]
    pub fn area_m2(&self, depth_m: f64) -> f64 {
        self.bore_m * self.bore_m * segment_area(4.0 * self.quarter_angle(depth_m))
    }

    /// Width of the water surface, m; 0 when full.
    pub fn top_width_m(&self, depth_m: f64) -> f64 {
        let depth_m = depth_m.clamp(0.0, self.bore_m);
        2.0 * (depth_m * (self.bore_m - depth_m)).sqrt()
    }

    /// Wetted perimeter, m.
    pub fn wetted_perimeter_m(&self, depth_m: f64) -> f64 {
        2.0 * self.bore_m * self.quarter_angle(depth_m)
    }

    /// Hydraulic radius, area over wetted perimeter, m; 0 when dry, a quarter of the bore when full.
    pub fn hydraulic_radius_m(&self, depth_m: f64) -> f64 {
        let wetted_m = self.wetted_perimeter_m(depth_m);
        if wetted_m > 0.0 {
            self.area_m2(depth_m) / wetted_m
        } else {
            0.0
        }
    }

    fn quarter_angle(&self, depth_m: f64) -> f64 {
        let ratio = depth_m / self.bore_m.max(LEAST_BORE_M);
        ratio.clamp(0.0, 1.0).sqrt().asin()
    }
}

impl AnySection for Circle {
    fn wetted(&self, depth_m: f64) -> Wetted {
        let quarter_angle = self.quarter_angle(depth_m);
        Wetted {
            area_m2: self.bore_m * self.bore_m * segment_area(4.0 * quarter_angle),
            perimeter_m: 2.0 * self.bore_m * quarter_angle,
        }
    }

    fn crown_m(&self) -> f64 {
        self.bore_m
    }
}

/// Area over bore² of the segment of central angle `angle`: (θ − sin θ)/8, without cancellation.
fn segment_area(angle: f64) -> f64 {
    if angle < 0.4 {
        let square = angle * angle;
        let tail = 1.0 - square / 20.0 * (1.0 - square / 42.0 * (1.0 - square / 72.0));
        angle * square / 48.0 * tail
    } else {
        (angle - angle.sin()) / 8.0
    }
}

/// The section at a given t = tan φ, in units of the bore.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Section {
    /// Depth over bore.
    pub depth: f64,
    /// Area over bore².
    pub area: f64,
    /// Surface width over bore, sin 2φ.
    pub width: f64,
    /// cos 2φ: positive below half depth.
    pub cosine: f64,
}

impl Section {
    pub(crate) fn at(t: f64) -> Section {
        let square = t * t;
        let below = 1.0 / (1.0 + square);
        let width = 2.0 * t * below;
        let cosine = (1.0 - square) * below;
        let angle = 4.0 * t.atan();
        let area = if angle < 0.4 {
            segment_area(angle)
        } else {
            (angle - 2.0 * width * cosine) / 8.0
        };
        // Above half depth the depth is computed from the crown: near full, only that keeps its digits.
        let depth = if square > 1.0 {
            1.0 - below
        } else {
            square * below
        };
        Section {
            depth,
            area,
            width,
            cosine,
        }
    }

    /// Critical flow over √g·bore^2.5: Q²T = gA³. [@chow-1959]
    pub(crate) fn critical_flow(&self) -> f64 {
        self.area * (self.area / self.width).sqrt()
    }

    /// d ln(critical flow) / d ln t; from 4 when shallow to ½ when full.
    pub(crate) fn critical_flow_rate(&self) -> f64 {
        0.75 * self.width * self.width * self.width / self.area - 0.5 * self.cosine
    }

    /// d(depth) / d ln t, in bores.
    pub(crate) fn depth_rate(&self) -> f64 {
        0.5 * self.width * self.width
    }
}

/// t = tan φ at which the critical flow over √g·bore^2.5 is `flow` (> 0).
pub(crate) fn t_for_critical_flow(flow: f64) -> f64 {
    let mut t = first_guess(flow);
    for _ in 0..40 {
        let section = Section::at(t);
        let miss = (section.critical_flow() / flow).ln();
        let step = miss / section.critical_flow_rate();
        t *= (-step).exp();
        // The error after a Newton step is about the square of the step.
        if step.abs() < 1e-7 {
            break;
        }
    }
    t
}

/// Depth ≈ 1.01·√flow when shallow, the limit of a nearly full bore when deep.
fn first_guess(flow: f64) -> f64 {
    let depth = 1.01 * flow.sqrt();
    if depth < 0.85 {
        (depth / (1.0 - depth)).sqrt()
    } else {
        let full = std::f64::consts::FRAC_PI_4;
        2.0 * flow * flow / (full * full * full)
    }
}

/// Flow over √g·bore^2.5 below which the depth is linear down to zero.
///
/// The law itself leaves zero with an infinite derivative (depth ∝ √Q); the line is within a ten-thousandth of the
/// bore of it.
const STRAIGHT_BELOW: f64 = 1e-8;

/// Critical depth in a circular bore, m, and its derivative, s/m². [@chow-1959]
///
/// Where Q²T = gA³; always below the bore, which it approaches as Q grows without limit.
/// `flow_m3_s` ≥ 0; a negative flow counts as 0. The derivative is finite and not negative.
///
/// Limitations: still water upstream, horizontal bed, no entrained air.
pub fn critical_depth(bore_m: f64, flow_m3_s: f64, gravity_m_s2: f64) -> Dual {
    let bore_m = bore_m.max(LEAST_BORE_M);
    let unit_m3_s = critical_flow_unit(bore_m, gravity_m_s2);
    let flow = (flow_m3_s / unit_m3_s).max(0.0);
    let section = Section::at(t_for_critical_flow(flow.max(STRAIGHT_BELOW)));
    let depth_m = bore_m * section.depth;
    if flow < STRAIGHT_BELOW {
        let slope = depth_m / (STRAIGHT_BELOW * unit_m3_s);
        return Dual {
            value: slope * flow * unit_m3_s,
            derivative: slope,
        };
    }
    let per_log_flow = bore_m * section.depth_rate() / section.critical_flow_rate();
    Dual {
        value: depth_m.min(bore_m),
        derivative: per_log_flow / (flow * unit_m3_s),
    }
}

/// √g·bore^2.5, m³/s: the unit in which critical flow is the same for every bore.
pub(crate) fn critical_flow_unit(bore_m: f64, gravity_m_s2: f64) -> f64 {
    (gravity_m_s2 * bore_m).sqrt() * bore_m * bore_m
}

/// Froude number of a full bore, V/√(gD), dimensionless.
pub(crate) fn full_bore_froude(flow_m3_s: f64, bore_m: f64, gravity_m_s2: f64) -> f64 {
    let bore_m = bore_m.max(LEAST_BORE_M);
    flow_m3_s.abs() / full_area_m2(bore_m) / (gravity_m_s2 * bore_m).sqrt()
}
