//! Wall friction: the Darcy factor in laminar, transitional and turbulent flow.
//!
//! Limitations: round pipe, fully developed flow. No published law holds between Reynolds
//! numbers 2000 and 4000; the transition there is only smooth and monotonic, not measured.

use crate::hydraulics::Dual;

/// Reynolds number below which flow is taken as laminar. [@white]
pub const LAMINAR_BELOW_RE: f64 = 2000.0;
/// Reynolds number above which flow is taken as turbulent. [@white]
pub const TURBULENT_ABOVE_RE: f64 = 4000.0;
/// Largest relative roughness at which the formula is evaluated; rougher walls are taken as this.
/// The formula was fitted below 0.05 and loses its meaning as the roughness approaches the bore.
pub const MOST_RELATIVE_ROUGHNESS: f64 = 0.5;

/// 2 / ln 10: converts 2·log10 to a natural logarithm.
const TWO_OVER_LN_10: f64 = 2.0 / std::f64::consts::LN_10;
/// Half of its inverse.
const HALF_LN_10_HALVED: f64 = 0.5 / TWO_OVER_LN_10;

/// Friction law of a wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wall {
    /// Darcy–Weisbach with the factor from the equivalent sand roughness of the wall.
    Darcy {
        /// Equivalent sand roughness, m.
        roughness_m: f64,
    },
    /// Darcy–Weisbach with one given factor for all flows.
    FixedFactor(f64),
    /// Hazen–Williams with its coefficient C.
    HazenWilliams {
        /// C, from about 60 (old iron) to 150 (plastic), dimensionless.
        c: f64,
    },
}

/// Darcy friction factor by the Colebrook–White formula, dimensionless. [@colebrook-1939]
///
/// 1/√f is solved to better than 1e-12. `re` > 0; intended for `re` > 4000 and relative
/// roughness (ε/D) from 0 to 0.05.
pub fn colebrook(re: f64, relative_roughness: f64) -> f64 {
    let [[x], _] = solve_colebrook::<12, 1>(&[re], &[wall_term(relative_roughness)]);
    1.0 / (x * x)
}

/// Darcy friction factor at any `re` > 0 with its derivative df/dRe. [@colebrook-1939, @hagen-poiseuille]
///
/// 64/Re below 2000, Colebrook–White above 4000, and between them a cubic Hermite interpolation of
/// f·Re² against Re that matches both in value and derivative.
pub fn darcy_factor(re: f64, relative_roughness: f64) -> Dual {
    let re = re.max(1e-12);
    let drag = drag_number(re, wall_term(relative_roughness));
    let value = drag.value / (re * re);
    let slope = (drag.derivative - 2.0 * drag.value / re) / (re * re);
    Dual {
        value,
        derivative: slope,
    }
}

/// f·Re² and its derivative with respect to Re, at a given ε/3.7D: the head loss is proportional to it.
///
/// Unlike f itself it is finite and smooth down to zero flow, and increases everywhere.
pub(crate) fn drag_number(re: f64, wall_term: f64) -> Dual {
    if re <= LAMINAR_BELOW_RE {
        return laminar_drag(re);
    }
    let [value, slope] = drag_numbers(&[re], &[wall_term]).map(|[one]| one);
    Dual {
        value,
        derivative: slope,
    }
}

/// The same for several runs at once: values and derivatives. The result for one does not depend on the others.
#[inline(always)]
pub(super) fn drag_numbers<const N: usize>(re: &[f64; N], wall_term: &[f64; N]) -> [[f64; N]; 2] {
    let at_least = re.map(|re| re.max(TURBULENT_ABOVE_RE));
    let [mut values, mut slopes] = turbulent_drags(&at_least, wall_term);
    for run in 0..N {
        let re = re[run];
        let turbulent = Dual {
            value: values[run],
            derivative: slopes[run],
        };
        let laminar = laminar_drag(re);
        let between = transition_drag(re, turbulent);
        let of = |laminar, between, turbulent| {
            if re <= LAMINAR_BELOW_RE {
                laminar
            } else if re >= TURBULENT_ABOVE_RE {
                turbulent
            } else {
                between
            }
        };
        values[run] = of(laminar.value, between.value, turbulent.value);
        slopes[run] = of(laminar.derivative, between.derivative, turbulent.derivative);
    }
    [values, slopes]
}

#[inline(always)]
fn laminar_drag(re: f64) -> Dual {
    Dual {
        value: 64.0 * re,
        derivative: 64.0,
    }
}

/// The Reynolds number at which f·Re² has the given value: the inverse of the drag law.
pub(crate) fn reynolds_for_drag(drag: f64, relative_roughness: f64) -> f64 {
    let wall_term = wall_term(relative_roughness);
    let laminar_end = 64.0 * LAMINAR_BELOW_RE;
    if drag <= laminar_end {
        return drag.max(0.0) / 64.0;
    }
    let [value, slope] =
        turbulent_drags(&[TURBULENT_ABOVE_RE], &[wall_term]).map(|[number]| number);
    let top = Dual {
        value,
        derivative: slope,
    };
    if drag >= top.value {
        return turbulent_reynolds(drag, wall_term);
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

/// An approximation of the same in a tenth of the time: exact in laminar and in turbulent flow, within some ten
/// percent between.
pub(crate) fn about_reynolds_for_drag(drag: f64, wall_term: f64) -> f64 {
    if drag <= 64.0 * LAMINAR_BELOW_RE {
        return drag.max(0.0) / 64.0;
    }
    turbulent_reynolds(drag, wall_term).max(LAMINAR_BELOW_RE)
}

/// The inverse of Colebrook–White needs no iteration: f·Re² determines Re·√f.
fn turbulent_reynolds(drag: f64, wall_term: f64) -> f64 {
    let root = drag.sqrt();
    -TWO_OVER_LN_10 * (wall_term + 2.51 / root).ln() * root
}

/// ε/3.7D of Colebrook's formula, dimensionless, from the relative roughness ε/D.
pub fn wall_term(relative_roughness: f64) -> f64 {
    relative_roughness.clamp(0.0, MOST_RELATIVE_ROUGHNESS) / 3.7
}

/// 1/√f of several runs, and (2/ln 10)·(2.51/Re) / (ε/3.7D + 2.51/(Re√f)): how much the factor still depends on Re.
///
/// Halley's iteration on x = 1/√f: x + 2·log10(a + b·x) = 0, with one logarithm per step. A step leaves an error of
/// less than a thousandth of its cube. The starting value is good to 1 from Re 1000 up, the first step then to
/// 1e-4, and the second leaves only rounding; below that more steps are needed.
///
/// There is no branch and no call in it, and each stage is done for all runs before the next: the processor then
/// works on several at a time without waiting.
#[inline(always)]
fn solve_colebrook<const STEPS: usize, const N: usize>(
    re: &[f64; N],
    wall_term: &[f64; N],
) -> [[f64; N]; 2] {
    let (mut b, mut x, mut sum, mut log) = ([0.0; N], [0.0; N], [0.0; N], [0.0; N]);
    for run in 0..N {
        b[run] = 2.51 / re[run].max(1.0);
        // 7 is f = 0.02, a typical value for pipes.
        x[run] = (-TWO_OVER_LN_10 * rough_ln(wall_term[run] + 7.0 * b[run])).max(0.1);
    }
    for _ in 0..STEPS {
        for run in 0..N {
            sum[run] = wall_term[run] + b[run] * x[run];
        }
        for run in 0..N {
            log[run] = ln(sum[run]);
        }
        for run in 0..N {
            let rate = TWO_OVER_LN_10 * b[run] / sum[run];
            let residual = x[run] + TWO_OVER_LN_10 * log[run];
            let first = 1.0 + rate;
            // The second derivative is −rate·b/sum = −rate²/(2/ln 10).
            let second = HALF_LN_10_HALVED * residual * rate * rate;
            x[run] = (x[run] - residual * first / (first * first + second)).max(0.1);
        }
    }
    for run in 0..N {
        b[run] = TWO_OVER_LN_10 * b[run] / (wall_term[run] + b[run] * x[run]);
    }
    [x, b]
}

/// A positive number as m·2^e with m from √½ to √2: e and m.
#[inline(always)]
fn split(x: f64) -> (f64, f64) {
    const BIAS: u64 = 1023 << 52;
    const SQRT_HALF: u64 = 0x3FE6_A09E_667F_3BCD;
    // A small integer in the lowest bits of 2^52 is 2^52 plus that integer.
    const TWO_52: f64 = 4_503_599_627_370_496.0;
    let bits = x.to_bits();
    let biased = bits.wrapping_sub(SQRT_HALF).wrapping_add(BIAS) >> 52;
    let power = f64::from_bits(biased | TWO_52.to_bits()) - (TWO_52 + 1023.0);
    let rest = bits.wrapping_sub(biased << 52).wrapping_add(BIAS);
    (power, f64::from_bits(rest))
}

/// ln of a positive number to 1e-15, relative or absolute, by the series of the inverse hyperbolic tangent.
#[inline(always)]
fn ln(x: f64) -> f64 {
    let (power, m) = split(x);
    let s = (m - 1.0) / (m + 1.0);
    let z = s * s;
    let mut series = 1.0 / 19.0;
    for odd in [17.0, 15.0, 13.0, 11.0, 9.0, 7.0, 5.0, 3.0, 1.0] {
        series = series * z + 1.0 / odd;
    }
    power * std::f64::consts::LN_2 + 2.0 * s * series
}

/// ln of a positive number to 0.02: a starting value only.
#[inline(always)]
fn rough_ln(x: f64) -> f64 {
    let (power, m) = split(x);
    power * std::f64::consts::LN_2 + (m - 1.0) * (1.42 - 0.42 * m)
}

/// f·Re² and its derivative with respect to Re for several runs in turbulent flow.
#[inline(always)]
fn turbulent_drags<const N: usize>(re: &[f64; N], wall_term: &[f64; N]) -> [[f64; N]; 2] {
    let [inverse_sqrt, smoothness] = solve_colebrook::<2, N>(re, wall_term);
    let (mut values, mut slopes) = ([0.0; N], [0.0; N]);
    for run in 0..N {
        let factor = 1.0 / (inverse_sqrt[run] * inverse_sqrt[run]);
        values[run] = factor * re[run] * re[run];
        slopes[run] = 2.0 * factor * re[run] / (1.0 + smoothness[run]);
    }
    [values, slopes]
}

/// Cubic Hermite interpolation from the end of laminar flow to `top`, the drag at the start of turbulence.
#[inline(always)]
fn transition_drag(re: f64, top: Dual) -> Dual {
    let width = TURBULENT_ABOVE_RE - LAMINAR_BELOW_RE;
    let s = (re - LAMINAR_BELOW_RE) / width;
    let (from, from_slope) = (64.0 * LAMINAR_BELOW_RE, 64.0 * width);
    let (to, to_slope) = (top.value, top.derivative * width);
    let rise = to - from;
    let c2 = 3.0 * rise - 2.0 * from_slope - to_slope;
    let c3 = from_slope + to_slope - 2.0 * rise;
    Dual {
        value: from + s * (from_slope + s * (c2 + s * c3)),
        derivative: (from_slope + s * (2.0 * c2 + 3.0 * s * c3)) / width,
    }
}
