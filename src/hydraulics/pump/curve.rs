//! Head of a pump against flow, at any speed.

use super::point_curve::PointCurve;
use crate::hydraulics::Dual;
use thiserror::Error;

/// Lowest speed ratio at which the affinity laws are used; a lower one counts as this.
pub const LEAST_SPEED_RATIO: f64 = 1e-3;
/// Number of line segments in which a curve is drawn.
const PIECES: u32 = 80;

/// Why points do not form a pump curve.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum CurveError {
    /// Fewer points than the curve needs.
    #[error("a pump curve needs at least {needed} points, not {given}")]
    TooFewPoints {
        /// Points needed.
        needed: usize,
        /// Points given.
        given: usize,
    },
    /// A flow or a head is not a number.
    #[error("point {index} of the pump curve is not a finite number")]
    NotFinite {
        /// Counted from 0.
        index: usize,
    },
    /// A flow is negative.
    #[error("point {index} of the pump curve has a negative flow")]
    NegativeFlow {
        /// Counted from 0.
        index: usize,
    },
    /// A flow is not larger than the one before.
    #[error("the flow of point {index} of the pump curve is not larger than the one before")]
    FlowNotIncreasing {
        /// Counted from 0.
        index: usize,
    },
}

/// Head of a pump against flow; never increases with flow.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// h0 − c·Qⁿ.
    Power {
        /// Shut-off head, m.
        h0_m: f64,
        /// c, m per (m³/s)ⁿ, ≥ 0.
        c: f64,
        /// n, at least 1.
        n: f64,
    },
    /// A smooth curve through points.
    Points(PointCurve),
}

impl Curve {
    /// A curve through points (flow m³/s, head m) of increasing flow. [@fritsch-butland-1984]
    ///
    /// Cubic Hermite with Fritsch–Butland derivatives and one-sided three-point ends. Where the points rise, the
    /// curve is laid on their non-increasing envelope from above (each head is the largest at its own or any larger
    /// flow): that keeps the falling branch as entered, the one on which a pump settles. Three points are joined
    /// like any others; h0 − c·Qⁿ is used only where it is entered as such.
    pub fn points(points: &[(f64, f64)]) -> Result<Curve, CurveError> {
        check(points, 2)?;
        Ok(Curve::Points(PointCurve::through(points)))
    }

    /// Whether the points, as entered, rise somewhere: two duties are then possible.
    pub fn rises(&self) -> bool {
        match self {
            Curve::Power { .. } => false,
            Curve::Points(curve) => curve.rises(),
        }
    }

    /// Head, m, and its derivative, s/m², at a flow.
    ///
    /// Constant up to the first point (and for reverse flow), linear with the end derivative beyond the last, where
    /// it may turn negative. The derivative is never positive.
    pub fn head(&self, flow_m3_s: f64) -> Dual {
        match self {
            Curve::Power { h0_m, c, n } => power_head(*h0_m, *c, *n, flow_m3_s),
            Curve::Points(curve) => curve.head(flow_m3_s),
        }
    }

    /// The same pump at `ratio` of its speed: Q ∝ n, H ∝ n². [@affinity]
    pub fn with_speed(&self, ratio: f64) -> Curve {
        let ratio = ratio.max(LEAST_SPEED_RATIO);
        match self {
            Curve::Power { h0_m, c, n } => Curve::Power {
                h0_m: h0_m * ratio * ratio,
                c: c * ratio.powf(2.0 - n),
                n: *n,
            },
            Curve::Points(curve) => Curve::Points(curve.with_speed(ratio)),
        }
    }

    /// Head at no flow, m (that of the first point if none was given at no flow).
    pub fn shut_off_head_m(&self) -> f64 {
        self.head(0.0).value
    }

    /// The curve as a polyline: flow (m³/s) and head (m), from no flow to its end; none where it has no end.
    pub fn polyline(&self) -> Option<Vec<(f64, f64)>> {
        let end_m3_s = self.end_of_curve_m3_s()?;
        let places = (0..=PIECES).map(|piece| end_m3_s * f64::from(piece) / f64::from(PIECES));
        Some(
            places
                .map(|flow_m3_s| (flow_m3_s, self.head(flow_m3_s).value))
                .collect(),
        )
    }

    /// Largest flow covered by the curve, m³/s: its last point, or where h0 − c·Qⁿ is 0.
    pub fn end_of_curve_m3_s(&self) -> Option<f64> {
        match self {
            Curve::Power { h0_m, c, n } => {
                (*h0_m > 0.0 && *c > 0.0).then(|| (h0_m / c).powf(1.0 / n))
            }
            Curve::Points(curve) => curve.end_m3_s(),
        }
    }
}

fn power_head(h0_m: f64, c: f64, n: f64, flow_m3_s: f64) -> Dual {
    if flow_m3_s <= 0.0 {
        return Dual {
            value: h0_m,
            derivative: 0.0,
        };
    }
    let per_flow = c.max(0.0) * flow_m3_s.powf(n - 1.0);
    Dual {
        value: h0_m - per_flow * flow_m3_s,
        derivative: -n * per_flow,
    }
}

fn check(points: &[(f64, f64)], needed: usize) -> Result<(), CurveError> {
    let given = points.len();
    if given < needed {
        return Err(CurveError::TooFewPoints { needed, given });
    }
    let mut before = f64::NEG_INFINITY;
    for (index, &(flow, head)) in points.iter().enumerate() {
        if !flow.is_finite() || !head.is_finite() {
            return Err(CurveError::NotFinite { index });
        }
        if flow < 0.0 {
            return Err(CurveError::NegativeFlow { index });
        }
        if flow <= before {
            return Err(CurveError::FlowNotIncreasing { index });
        }
        before = flow;
    }
    Ok(())
}
