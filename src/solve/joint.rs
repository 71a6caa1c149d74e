//! A prescribed inflow or draw-off at a joint.
//!
//! It may require any head, and where no run carries it there would be no solution at all. So it is bounded: far
//! beyond any head that is ever built, no more is supplied or drawn.

use super::reach::exact;
use super::system::FlatLink;

/// How far below the lowest level the head of a joint may be drawn, and above the highest pushed, metres; and the
/// height over which its draw-off or inflow then fades out. A choice, far beyond any run that is ever built.
pub(super) const BEYOND_M: f64 = 1000.0;
const FADES_M: f64 = 100.0;
/// Flow that is still prescribed where no run passes any, m³/s: the head leaves every plausible range all the same.
const SEALED_M3_S: f64 = 1e-6;

/// Inflow (> 0) or draw-off at the head of a joint, m³/s, and its derivative (≤ 0).
pub(super) fn source(wanted_m3_s: f64, head_m: f64, bounds_m: [f64; 2]) -> (f64, f64) {
    let beyond_m = beyond_m(wanted_m3_s, head_m, bounds_m);
    if beyond_m <= 0.0 {
        return (wanted_m3_s, 0.0);
    }
    // Continued linearly, also where nothing is left of it: no joint ends there, but a search that passes through must
    // find its way back.
    let share = 1.0 - beyond_m / FADES_M;
    (wanted_m3_s * share, -wanted_m3_s.abs() / FADES_M)
}

/// How far the head of a joint is beyond the bound of its inflow (> 0) or draw-off, metres; not above 0
/// within it.
fn beyond_m(wanted_m3_s: f64, head_m: f64, [low_m, high_m]: [f64; 2]) -> f64 {
    if wanted_m3_s < 0.0 {
        low_m - head_m
    } else {
        head_m - high_m
    }
}

/// The prescribed flow, limited to what the runs of the joint pass with all the available head.
///
/// The excess is never supplied or drawn anyway. If it faded out as well, it would do so within the last digits of
/// the head, and no head would balance the joint.
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
    // A path without any loss has no known maximum.
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
