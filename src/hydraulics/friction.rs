//! Wall friction: the Darcy factor in laminar, transitional and turbulent flow.
//!
//! Limitations: round pipe, fully developed flow. No published law holds between Reynolds
//! numbers 2000 and 4000; the bridge there is only smooth and monotone, not measured.

use super::Slope;

/// Reynolds number up to which flow is taken as laminar. [@white]
pub const LAMINAR_BELOW_RE: f64 = 2000.0;
/// Reynolds number from which flow is taken as turbulent. [@white]
pub const TURBULENT_ABOVE_RE: f64 = 4000.0;
/// Largest relative roughness the formula is evaluated at; rougher walls are taken as this.
/// The formula was fitted below 0.05 and loses its meaning as the roughness nears the bore.
pub const MOST_RELATIVE_ROUGHNESS: f64 = 0.5;

/// 2 / ln 10: turns 2·log10 into a natural logarithm.
const TWO_OVER_LN_10: f64 = 2.0 / std::f64::consts::LN_10;
/// Half of its inverse.
const HALF_LN_10_HALVED: f64 = 0.5 / TWO_OVER_LN_10;

/// How the wall of a run resists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wall {
    /// Darcy–Weisbach with the factor from the wall's equivalent sand roughness.
    Darcy {
        /// Equivalent sand roughness, m.
        roughness_m: f64,
    },
    /// Darcy–Weisbach with a factor that is given once for all flows.
    FixedFactor(f64),
    /// Hazen–Williams with its coefficient C.
    HazenWilliams {
        /// C, from about 60 (old iron) to 150 (plastic), no unit.
        c: f64,
    },
}

/// Darcy friction factor by the Colebrook–White formula, no unit. [@colebrook-1939]
///
/// 1/√f is solved to better than 1e-12. `re` > 0; meant for `re` > 4000 and relative
/// roughness (ε/D) from 0 to 0.05.
pub fn colebrook(re: f64, relative_roughness: f64) -> f64 {
    let x = solve_colebrook(re, relative_roughness).inverse_sqrt;
    1.0 / (x * x)
}

/// Darcy friction factor at any `re` > 0 with its slope df/dRe. [@colebrook-1939, @hagen-poiseuille]
///
/// 64/Re below 2000, Colebrook–White above 4000, and between them a cubic Hermite of f·Re²
/// against Re that meets both in value and slope.
pub fn darcy_factor(re: f64, relative_roughness: f64) -> Slope {
    let re = re.max(1e-12);
    let drag = drag_number(re, relative_roughness);
    let value = drag.value / (re * re);
    let slope = (drag.slope - 2.0 * drag.value / re) / (re * re);
    Slope { value, slope }
}

/// f·Re² and its slope with respect to Re: what the head lost is proportional to.
///
/// Unlike f itself it is finite and smooth down to rest, and rises everywhere.
pub(crate) fn drag_number(re: f64, relative_roughness: f64) -> Slope {
    if re <= LAMINAR_BELOW_RE {
        Slope {
            value: 64.0 * re,
            slope: 64.0,
        }
    } else if re >= TURBULENT_ABOVE_RE {
        turbulent_drag(re, relative_roughness)
    } else {
        transition_drag(re, turbulent_drag(TURBULENT_ABOVE_RE, relative_roughness))
    }
}

/// The Reynolds number at which f·Re² has the given value: the drag law read backwards.
pub(crate) fn reynolds_for_drag(drag: f64, relative_roughness: f64) -> f64 {
    let laminar_end = 64.0 * LAMINAR_BELOW_RE;
    if drag <= laminar_end {
        return drag.max(0.0) / 64.0;
    }
    let top = turbulent_drag(TURBULENT_ABOVE_RE, relative_roughness);
    if drag >= top.value {
        return turbulent_reynolds(drag, relative_roughness);
    }
    let (mut low, mut high) = (LAMINAR_BELOW_RE, TURBULENT_ABOVE_RE);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if transition_drag(middle, top).value < drag {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// About the same in a tenth of the time: exact in laminar and in turbulent flow, within some ten percent between.
pub(crate) fn about_reynolds_for_drag(drag: f64, relative_roughness: f64) -> f64 {
    if drag <= 64.0 * LAMINAR_BELOW_RE {
        return drag.max(0.0) / 64.0;
    }
    turbulent_reynolds(drag, relative_roughness).max(LAMINAR_BELOW_RE)
}

/// Colebrook–White read backwards needs no search: f·Re² holds Re·√f.
fn turbulent_reynolds(drag: f64, relative_roughness: f64) -> f64 {
    let root = drag.sqrt();
    -TWO_OVER_LN_10 * (wall_term(relative_roughness) + 2.51 / root).ln() * root
}

struct Colebrook {
    /// 1/√f.
    inverse_sqrt: f64,
    /// (2/ln 10)·(2.51/Re) / (ε/3.7D + 2.51/(Re√f)): how much the factor still depends on Re.
    smoothness: f64,
}

fn wall_term(relative_roughness: f64) -> f64 {
    relative_roughness.clamp(0.0, MOST_RELATIVE_ROUGHNESS) / 3.7
}

/// Halley's iteration on x = 1/√f: x + 2·log10(a + b·x) = 0, one logarithm per step.
///
/// A step leaves an error of less than a thousandth of its cube, so after a step below 1e-4 there is
/// nothing left to do; from where it starts that is the second.
fn solve_colebrook(re: f64, relative_roughness: f64) -> Colebrook {
    let a = wall_term(relative_roughness);
    let b = 2.51 / re.max(1.0);
    // 7 is f = 0.02, the middle of what pipes show.
    let mut x = (-TWO_OVER_LN_10 * rough_ln(a + 7.0 * b)).max(0.1);
    for _ in 0..30 {
        let sum = a + b * x;
        let rate = TWO_OVER_LN_10 * b / sum;
        let residual = x + TWO_OVER_LN_10 * sum.ln();
        let first = 1.0 + rate;
        // Halley's step with the second derivative −rate·b/sum = −rate²/(2/ln 10).
        let step = residual * first / (first * first + HALF_LN_10_HALVED * residual * rate * rate);
        x = (x - step).max(0.1);
        if step.abs() < 1e-4 * x {
            break;
        }
    }
    Colebrook {
        inverse_sqrt: x,
        smoothness: TWO_OVER_LN_10 * b / (a + b * x),
    }
}

/// ln of a positive number to 0.03, from the bits of its exponent read as a fraction; a start only.
fn rough_ln(x: f64) -> f64 {
    const PER_BIT: f64 = 1.0 / (1u64 << 52) as f64;
    // 1023 is the bias of the exponent; 0.043 halves the largest error of the chords between powers of 2.
    (x.to_bits() as f64 * PER_BIT - (1023.0 - 0.043)) * std::f64::consts::LN_2
}

fn turbulent_drag(re: f64, relative_roughness: f64) -> Slope {
    let solved = solve_colebrook(re, relative_roughness);
    let factor = 1.0 / (solved.inverse_sqrt * solved.inverse_sqrt);
    Slope {
        value: factor * re * re,
        slope: 2.0 * factor * re / (1.0 + solved.smoothness),
    }
}

/// Cubic Hermite from the end of laminar flow to `top`, the drag at the start of turbulence.
fn transition_drag(re: f64, top: Slope) -> Slope {
    let width = TURBULENT_ABOVE_RE - LAMINAR_BELOW_RE;
    let s = (re - LAMINAR_BELOW_RE) / width;
    let (from, from_slope) = (64.0 * LAMINAR_BELOW_RE, 64.0 * width);
    let (to, to_slope) = (top.value, top.slope * width);
    let rise = to - from;
    let c2 = 3.0 * rise - 2.0 * from_slope - to_slope;
    let c3 = from_slope + to_slope - 2.0 * rise;
    Slope {
        value: from + s * (from_slope + s * (c2 + s * c3)),
        slope: (from_slope + s * (2.0 * c2 + 3.0 * s * c3)) / width,
    }
}
