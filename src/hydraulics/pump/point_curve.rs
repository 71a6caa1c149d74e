//! A monotonic curve through the points of a pump data sheet.
//!
//! PCHIP with Fritsch–Butland derivatives, linear beyond the last point. [@fritsch-butland-1984]

use crate::hydraulics::Dual;

/// A monotonic cubic through points: PCHIP on their non-increasing envelope.
#[derive(Clone, Debug, PartialEq)]
pub struct PointCurve {
    knots: Vec<Knot>,
    rises: bool,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Knot {
    flow: f64,
    head: f64,
    slope: f64,
}

impl Knot {
    fn with_speed(&self, ratio: f64) -> Knot {
        Knot {
            flow: self.flow * ratio,
            head: self.head * ratio * ratio,
            slope: self.slope * ratio,
        }
    }
}

impl PointCurve {
    /// The curve through validated points: finite, of increasing flow.
    pub(super) fn through(points: &[(f64, f64)]) -> PointCurve {
        let mut knots: Vec<Knot> = points
            .iter()
            .map(|&(flow, head)| Knot {
                flow,
                head,
                slope: 0.0,
            })
            .collect();
        let mut highest = f64::NEG_INFINITY;
        for knot in knots.iter_mut().rev() {
            highest = highest.max(knot.head);
            knot.head = highest;
        }
        set_slopes(&mut knots);
        let rises = points.windows(2).any(|w| matches!(w, [a, b] if b.1 > a.1));
        PointCurve { knots, rises }
    }

    pub(super) fn rises(&self) -> bool {
        self.rises
    }

    pub(super) fn with_speed(&self, ratio: f64) -> PointCurve {
        PointCurve {
            knots: self.knots.iter().map(|k| k.with_speed(ratio)).collect(),
            rises: self.rises,
        }
    }

    pub(super) fn end_m3_s(&self) -> Option<f64> {
        self.knots.last().map(|knot| knot.flow)
    }

    pub(super) fn head(&self, flow_m3_s: f64) -> Dual {
        let after = self.knots.partition_point(|knot| knot.flow < flow_m3_s);
        let before = after.checked_sub(1).and_then(|i| self.knots.get(i));
        match (before, self.knots.get(after)) {
            (Some(a), Some(b)) => hermite(a, b, flow_m3_s),
            (None, Some(first)) => Dual {
                value: first.head,
                derivative: 0.0,
            },
            (Some(last), None) => Dual {
                value: last.head + last.slope * (flow_m3_s - last.flow),
                derivative: last.slope,
            },
            (None, None) => Dual::ZERO,
        }
    }
}

/// Cubic between two knots; the clamp on the derivative only removes rounding.
fn hermite(a: &Knot, b: &Knot, flow: f64) -> Dual {
    let width = b.flow - a.flow;
    let s = (flow - a.flow) / width;
    let rise = b.head - a.head;
    let (from, to) = (a.slope * width, b.slope * width);
    let c2 = 3.0 * rise - 2.0 * from - to;
    let c3 = from + to - 2.0 * rise;
    Dual {
        value: a.head + s * (from + s * (c2 + s * c3)),
        derivative: ((from + s * (2.0 * c2 + 3.0 * s * c3)) / width).min(0.0),
    }
}

/// Derivatives at the knots by Fritsch & Butland: a weighted harmonic mean, 0 at a level stretch.
fn set_slopes(knots: &mut [Knot]) {
    let chords: Vec<(f64, f64)> = knots
        .windows(2)
        .filter_map(|w| match w {
            [a, b] => Some((b.flow - a.flow, (b.head - a.head) / (b.flow - a.flow))),
            _ => None,
        })
        .collect();
    let slopes = std::iter::once(end_slope(chords.first(), chords.get(1)))
        .chain(chords.windows(2).map(|w| match w {
            [left, right] => inner_slope(*left, *right),
            _ => 0.0,
        }))
        .chain(std::iter::once(end_slope(
            chords.last(),
            chords.iter().rev().nth(1),
        )));
    for (knot, slope) in knots.iter_mut().zip(slopes) {
        knot.slope = slope;
    }
}

fn inner_slope((width0, chord0): (f64, f64), (width1, chord1): (f64, f64)) -> f64 {
    if chord0 >= 0.0 || chord1 >= 0.0 {
        return 0.0;
    }
    let weight0 = 2.0 * width1 + width0;
    let weight1 = width1 + 2.0 * width0;
    (weight0 + weight1) / (weight0 / chord0 + weight1 / chord1)
}

/// One-sided three-point derivative, limited to between level and three chords so that the curve cannot rise.
fn end_slope(own: Option<&(f64, f64)>, next: Option<&(f64, f64)>) -> f64 {
    match (own, next) {
        (Some(&(_, chord)), None) => chord,
        (Some(&(width0, chord0)), Some(&(width1, chord1))) => {
            let slope = ((2.0 * width0 + width1) * chord0 - width0 * chord1) / (width0 + width1);
            slope.clamp(3.0 * chord0.min(0.0), 0.0)
        }
        _ => 0.0,
    }
}
