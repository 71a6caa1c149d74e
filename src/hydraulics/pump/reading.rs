//! A pump curve from the numbers that describe it: points of a data sheet, a power law, a label.

use super::curve::Curve;

/// Exponent of a curve known only from its label: h0·(1 − (Q/Qmax)ⁿ). A parabola is what most hand
/// calculations use. Common practice, no source; a guess.
pub const LABEL_EXPONENT: f64 = 2.0;
/// Range of the exponent of such a curve. Data sheets of small pumps for ponds and tanks come out at 1.3 to 1.5
/// and those of larger ones at 2 and more, from memory. No source; a guess.
pub const LABEL_EXPONENTS: std::ops::RangeInclusive<f64> = 1.25..=3.0;

/// A curve that was read, as its law needs it.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadCurve {
    /// The curve at full speed; it never rises.
    pub curve: Curve,
    /// As entered it rises somewhere: two duties are then possible.
    pub rises: bool,
}

/// The curve through points (flow m³/s, head m); none where they form no curve.
pub fn through_points(points: &[(f64, f64)]) -> Option<ReadCurve> {
    let curve = Curve::points(points).ok()?;
    let rises = curve.rises();
    Some(ReadCurve { curve, rises })
}

/// h0 − c·Qⁿ, with `c` of at least 0 and `n` of at least 1; none where one of them is not a number.
pub fn by_power_law(h0_m: f64, c: f64, n: f64) -> Option<ReadCurve> {
    let curve = Curve::Power {
        h0_m,
        c: c.max(0.0),
        n: n.max(1.0),
    };
    let sound = h0_m.is_finite() && c.is_finite() && n.is_finite();
    sound.then_some(ReadCurve {
        curve,
        rises: c < 0.0,
    })
}

/// The middle curve of those that a label allows.
pub fn guessed_from_label(head_m: f64, flow_m3_s: f64) -> Option<ReadCurve> {
    let curve = Curve::of_label(head_m, flow_m3_s, LABEL_EXPONENT)?;
    Some(ReadCurve {
        curve,
        rises: false,
    })
}

/// The curves of least and of greatest head that a label allows.
pub fn bounds_of_label(head_m: f64, flow_m3_s: f64) -> Option<[Curve; 2]> {
    let bound = |n: f64| Curve::of_label(head_m, flow_m3_s, n);
    Some([
        bound(*LABEL_EXPONENTS.start())?,
        bound(*LABEL_EXPONENTS.end())?,
    ])
}

impl Curve {
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
}
