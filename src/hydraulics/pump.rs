//! Pumps: head against flow, speed, power, net positive suction head.

use super::Dual;
pub use super::point_curve::PointCurve;
use super::water::Water;
use thiserror::Error;

/// Lowest speed ratio at which the affinity laws are used; a lower one counts as this.
pub const LEAST_SPEED_RATIO: f64 = 1e-3;
/// Exponent of a curve known only from its label: h0·(1 − (Q/Qmax)ⁿ). A parabola is what most hand
/// calculations use. Common practice, no source; a guess.
pub const LABEL_EXPONENT: f64 = 2.0;
/// Range of the exponent of such a curve. Data sheets of small pumps for ponds and tanks come out at 1.3 to 1.5
/// and those of larger ones at 2 and more, from memory. No source; a guess.
pub const LABEL_EXPONENTS: std::ops::RangeInclusive<f64> = 1.25..=3.0;

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

    /// The curve guessed from the two numbers of a label: largest head (m, above 0) at no flow, and largest flow
    /// (m³/s, above 0) at no head, with an exponent `n` of [`LABEL_EXPONENTS`].
    ///
    /// None where one of them is not above 0, or is not a number.
    pub fn of_label(head_m: f64, flow_m3_s: f64, n: f64) -> Option<Curve> {
        let n = n.max(1.0);
        let c = head_m / flow_m3_s.powf(n);
        let sound =
            head_m > 0.0 && head_m.is_finite() && flow_m3_s > 0.0 && c.is_finite() && c > 0.0;
        sound.then_some(Curve::Power { h0_m: head_m, c, n })
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

/// Power drawn, W: ρ·g·Q·H/η. `efficiency` from 0.01 to 1, outside it is clamped.
pub fn power_w(
    density_kg_m3: f64,
    gravity_m_s2: f64,
    flow_m3_s: f64,
    head_m: f64,
    efficiency: f64,
) -> f64 {
    density_kg_m3 * gravity_m_s2 * flow_m3_s * head_m / efficiency.clamp(0.01, 1.0)
}

/// The suction side of a pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Suction {
    /// Absolute pressure on the water it draws from, Pa.
    pub surface_pressure_pa: f64,
    /// Water level above the pump's datum, m; negative if the pump stands above the water.
    pub static_head_m: f64,
    /// Head loss up to the pump, m.
    pub loss_m: f64,
}

/// Net positive suction head available, m: (p − p_v)/(ρg) + static − loss. [@hi-9.6.1]
pub fn npsh_available_m(suction: &Suction, water: &Water, gravity_m_s2: f64) -> f64 {
    let over_vapour_pa = suction.surface_pressure_pa - water.vapour_pressure_pa;
    over_vapour_pa / (water.density_kg_m3 * gravity_m_s2) + suction.static_head_m - suction.loss_m
}

/// Net positive suction head required by a pump at `flow_m3_s`, m, from (flow, head) points with increasing
/// flow: linear between them, constant before the first, extrapolated beyond the last; none without points.
/// [@hi-9.6.1]
pub fn npsh_required_m(points: &[(f64, f64)], flow_m3_s: f64) -> Option<f64> {
    let first = points.first()?;
    if flow_m3_s <= first.0 || points.len() == 1 {
        return Some(first.1);
    }
    let on = points.windows(2).find(|pair| flow_m3_s <= pair[1].0);
    let &[low, high] = on.or_else(|| points.windows(2).next_back())? else {
        return None;
    };
    let share = (flow_m3_s - low.0) / (high.0 - low.0).max(f64::MIN_POSITIVE);
    Some((low.1 + share * (high.1 - low.1)).max(0.0))
}
