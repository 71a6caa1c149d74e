//! How the pipe of a run rises and falls along a flow, and where air gathers in it.

use super::SAME_HEIGHT_M;
use super::chains::Beyond;
use crate::geometry::{Corner, route_length_m};
use crate::hydraulics::profile::high_point::{Foot, HighPoint};

/// Length below which a piece has no slope, metres.
pub(super) const SHORTEST_M: f64 = 1e-6;

/// A straight piece of a run, in the direction of the flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    /// Length used in computation, metres.
    pub length_m: f64,
    /// Invert at its upstream end, metres.
    pub upper_m: f64,
    /// Invert at its downstream end, metres.
    pub lower_m: f64,
    /// Steeper than 1:1 as drawn.
    pub plumb: bool,
    /// Sine of its slope as drawn.
    pub sine: f64,
    /// The corner at its upstream end is vented.
    pub vented: bool,
}

impl Stretch {
    /// Between two heights over a length, as straight as possible.
    pub fn straight(length_m: f64, [upper_m, lower_m]: [f64; 2]) -> Stretch {
        let fall_m = (upper_m - lower_m).abs();
        Stretch {
            length_m,
            upper_m,
            lower_m,
            plumb: is_steep(fall_m, length_m),
            sine: sine(fall_m, length_m),
            vented: false,
        }
    }

    /// Straight down.
    pub fn down(length_m: f64, [upper_m, lower_m]: [f64; 2]) -> Stretch {
        Stretch {
            plumb: true,
            sine: 1.0,
            ..Stretch::straight(length_m, [upper_m, lower_m])
        }
    }

    /// Split at a fraction of its length.
    pub fn cut(self, share: f64) -> [Stretch; 2] {
        let middle_m = self.upper_m + share * (self.lower_m - self.upper_m);
        [
            Stretch {
                length_m: share * self.length_m,
                lower_m: middle_m,
                ..self
            },
            Stretch {
                length_m: (1.0 - share) * self.length_m,
                upper_m: middle_m,
                vented: false,
                ..self
            },
        ]
    }
}

/// Steeper than 1:1: the fall exceeds the horizontal distance.
fn is_steep(fall_m: f64, length_m: f64) -> bool {
    fall_m.abs() > length_m * std::f64::consts::FRAC_1_SQRT_2
}

fn sine(fall_m: f64, length_m: f64) -> f64 {
    if length_m > 0.0 {
        (fall_m / length_m).min(1.0)
    } else {
        1.0
    }
}

/// The pieces between corners; their lengths scaled to a total of `length_m`. Coincident corners count
/// as one.
pub(super) fn between(corners: &[Corner], length_m: f64) -> Vec<Stretch> {
    let drawn_m = route_length_m(corners);
    let stretch = if drawn_m > SHORTEST_M {
        length_m / drawn_m
    } else {
        1.0
    };
    let piece = |pair: &[Corner]| {
        let [from, to] = pair else { return None };
        let drawn_m = from.distance_m(*to);
        let plain = Stretch::straight(drawn_m, [from.z_m, to.z_m]);
        let counts = plain.plumb || drawn_m * stretch > SHORTEST_M;
        (counts && drawn_m > 0.0).then_some(Stretch {
            length_m: drawn_m * stretch,
            vented: from.vented,
            ..plain
        })
    };
    corners.windows(2).filter_map(piece).collect()
}

/// What lies upstream and downstream of a run, as far as its air is concerned.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ends {
    /// Beyond the joint at the upstream end, vented or not; none at a surface.
    pub upper: Option<(Beyond, bool)>,
    /// Beyond the joint at the downstream end; none at a surface.
    pub lower: Option<Beyond>,
    /// No air enters with the flow: a pump pushes it, or the end is permanently submerged.
    pub fills: bool,
    /// The pipe has risen to its upstream end.
    pub risen: bool,
}

/// The high points of a run along a flow, from its outlet upwards.
pub(super) fn high_points(stretches: &[Stretch], ends: &Ends) -> Vec<HighPoint> {
    let mut found = Vec::new();
    let mut risen = ends.risen || ends.upper.is_some_and(|(beyond, _)| beyond.is_high());
    let mut lowest_m = lowest_upstream_m(stretches, ends);
    for (index, piece) in stretches.iter().enumerate() {
        let fall_m = piece.upper_m - piece.lower_m;
        lowest_m = lowest_m.min(piece.upper_m);
        if fall_m < -SAME_HEIGHT_M {
            risen = true;
        } else if fall_m > SAME_HEIGHT_M && risen {
            let falling = falling_leg(stretches, index, ends);
            let at_joint = index == 0 && ends.upper.is_some_and(|(_, vented)| vented);
            found.push(HighPoint {
                boundary: stretches.len() - index,
                invert_m: piece.upper_m,
                foot: falling.0,
                upstream_m: lowest_m,
                sine: falling.1,
                vented: at_joint || vented_reach(stretches, index, piece.upper_m),
            });
            risen = false;
            lowest_m = f64::INFINITY;
        }
    }
    found.reverse();
    found
}

fn lowest_upstream_m(stretches: &[Stretch], ends: &Ends) -> f64 {
    if ends.fills {
        return f64::NEG_INFINITY;
    }
    let joint_m = ends.upper.map(|(beyond, _)| beyond.lowest_m);
    let first_m = stretches.first().map(|piece| piece.upper_m);
    joint_m.or(first_m).unwrap_or(f64::INFINITY)
}

/// Whether there is a vent anywhere on the level reach up to the fall at `index`.
fn vented_reach(stretches: &[Stretch], index: usize, top_m: f64) -> bool {
    let up_to = stretches.get(..=index).unwrap_or_default();
    let reach = up_to
        .iter()
        .rev()
        .take_while(|piece| (piece.upper_m - top_m).abs() <= SAME_HEIGHT_M);
    reach.into_iter().any(|piece| piece.vented)
}

/// Whether the pipe falls to its outlet, or runs level throughout.
pub(super) fn falls_at_last(stretches: &[Stretch]) -> bool {
    let falls_m = stretches
        .iter()
        .rev()
        .map(|piece| piece.upper_m - piece.lower_m);
    let mut turned = falls_m.filter(|fall_m| fall_m.abs() > SAME_HEIGHT_M);
    turned.next().is_none_or(|fall_m| fall_m > 0.0)
}

/// The foot of the leg that falls from the upstream end of the piece at `start`, and the sine of its steepest slope.
fn falling_leg(stretches: &[Stretch], start: usize, ends: &Ends) -> (Foot, f64) {
    let mut steepest = 0.0_f64;
    let mut end = start;
    for (index, piece) in stretches.iter().enumerate().skip(start) {
        let fall_m = piece.upper_m - piece.lower_m;
        if fall_m < -SAME_HEIGHT_M {
            return (low_point(stretches, end), steepest);
        }
        if fall_m > SAME_HEIGHT_M {
            steepest = steepest.max(piece.sine);
            end = index;
        }
    }
    if ends.lower.is_some_and(|beyond| beyond.is_low()) {
        return (low_point(stretches, end), steepest);
    }
    (Foot::Outlet, steepest)
}

/// The downstream end of a piece as a low point.
fn low_point(stretches: &[Stretch], index: usize) -> Foot {
    let invert_m = stretches.get(index).map_or(0.0, |piece| piece.lower_m);
    Foot::LowPoint {
        boundary: stretches.len() - index - 1,
        invert_m,
    }
}
