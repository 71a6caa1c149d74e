//! Equipment whose loss is known at one or two points of its data sheet: filters, lamps, exchangers.

/// Loss law h = a·Q + b·Q².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Equipment {
    /// a, s/m², ≥ 0.
    pub a: f64,
    /// b, s²/m⁵, ≥ 0.
    pub b: f64,
}

/// The law through one point: turbulent, so b alone. `None` unless flow > 0 and head ≥ 0.
pub fn from_one_point(flow_m3_s: f64, head_m: f64) -> Option<Equipment> {
    usable(flow_m3_s, head_m).then(|| Equipment {
        a: 0.0,
        b: head_m / (flow_m3_s * flow_m3_s),
    })
}

/// The law through two points (flow m³/s, head m), in either order.
///
/// Exact where both coefficients come out ≥ 0. Where one would be negative it is set to 0 and
/// the other fitted to both points by least squares, so that the loss still increases with flow.
/// `None` unless both points have flow > 0, head ≥ 0 and their flows differ.
pub fn from_two_points(first: (f64, f64), second: (f64, f64)) -> Option<Equipment> {
    let ((q1, h1), (q2, h2)) = (first, second);
    if !usable(q1, h1) || !usable(q2, h2) || q1 == q2 {
        return None;
    }
    let b = (h2 / q2 - h1 / q1) / (q2 - q1);
    let a = h1 / q1 - b * q1;
    let (s1, s2) = (q1 * q1, q2 * q2);
    let fitted = if b < 0.0 {
        Equipment {
            a: (q1 * h1 + q2 * h2) / (s1 + s2),
            b: 0.0,
        }
    } else if a < 0.0 {
        Equipment {
            a: 0.0,
            b: (s1 * h1 + s2 * h2) / (s1 * s1 + s2 * s2),
        }
    } else {
        Equipment { a, b }
    };
    (fitted.a.is_finite() && fitted.b.is_finite()).then_some(fitted)
}

fn usable(flow_m3_s: f64, head_m: f64) -> bool {
    flow_m3_s.is_finite() && head_m.is_finite() && flow_m3_s > 0.0 && head_m >= 0.0
}
