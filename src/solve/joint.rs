//! What is let in or drawn off at a joint by force.
//!
//! It may need any head, and where no run takes or brings it there would be no answer at all. So there is an end to
//! it: far beyond any run that is built the head pushes or draws no more.

use super::reach::exact;
use super::system::FlatLink;

/// How far under the lowest level a joint's head may be drawn, and over the highest be pushed, metres, and over
/// what height its draw-off or inflow then fades out. A choice, far beyond any run that is built.
pub(super) const BEYOND_M: f64 = 1000.0;
const FADES_M: f64 = 100.0;
/// What is still pushed or drawn where no run passes any, m³/s: its head goes out of sight all the same.
const SEALED_M3_S: f64 = 1e-6;

/// What is let in (> 0) or drawn off at a joint's head, m³/s, and its slope (≤ 0).
pub(super) fn source(wanted_m3_s: f64, head_m: f64, bounds_m: [f64; 2]) -> (f64, f64) {
    let beyond_m = beyond_m(wanted_m3_s, head_m, bounds_m);
    if beyond_m <= 0.0 {
        return (wanted_m3_s, 0.0);
    }
    // On in a straight line, also where nothing is left of it: no joint stands there in the end, and a search that
    // passes by must find its way back.
    let share = 1.0 - beyond_m / FADES_M;
    (wanted_m3_s * share, -wanted_m3_s.abs() / FADES_M)
}

/// How far a joint's head is beyond the bound to what is let in (> 0) or drawn off there, metres; not above 0
/// within it.
fn beyond_m(wanted_m3_s: f64, head_m: f64, [low_m, high_m]: [f64; 2]) -> f64 {
    if wanted_m3_s < 0.0 {
        low_m - head_m
    } else {
        head_m - high_m
    }
}

/// What is wanted, but no more than its runs pass with all the head that there is.
///
/// What is wanted beyond that is neither let in nor drawn anyhow. Were it to fade out as well, it would do so within
/// the last digits of the head, and no head would balance the joint.
///
/// `ways`: the joint, and the links that touch it.
pub(super) fn limited_to_directions<'l>(
    wanted_m3_s: f64,
    (joint, ways): (usize, impl Iterator<Item = &'l FlatLink<'l>>),
    [low_m, high_m]: [f64; 2],
) -> f64 {
    let sign = wanted_m3_s.signum();
    let (here_m, there_m) = if sign > 0.0 {
        (high_m + FADES_M, low_m)
    } else {
        (low_m - FADES_M, high_m)
    };
    let passes = ways.filter(|link| !link.is_ring()).map(|link| {
        if link.ends()[0] == joint {
            exact(link.law, [here_m, there_m], 0.0)
        } else {
            -exact(link.law, [there_m, here_m], 0.0)
        }
    });
    // Of a way without any loss no most is known.
    let most_m3_s: f64 = passes
        .map(|flow| {
            if flow.is_finite() {
                (sign * flow).max(0.0)
            } else {
                f64::INFINITY
            }
        })
        .sum();
    if most_m3_s.is_finite() {
        sign * wanted_m3_s.abs().min(most_m3_s.max(SEALED_M3_S))
    } else {
        wanted_m3_s
    }
}
