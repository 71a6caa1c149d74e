//! Finds the zero of a decreasing function.

/// Most evaluations to bracket the zero, and to narrow the bracket.
const MOST_WIDENINGS: usize = 8;
const MOST_NARROWINGS: usize = 14;

/// Returns the smallest `x` from 0 to `most` with `left(x)` ≤ 0, to a tolerance of `near`; `left` must decrease with
/// `x`.
///
/// `first`: a first guess, above 0. None where `left` has no value, or is above 0 even at `most`. Evaluates `left` at
/// most 23 times. The result is on the safe side: `left` was evaluated there and was ≤ 0.
pub(super) fn least(
    left: impl Fn(f64) -> Option<f64>,
    (first, most): (f64, f64),
    near: f64,
) -> Option<f64> {
    let mut low = (0.0, left(0.0)?);
    if low.1 <= 0.0 {
        return Some(0.0);
    }
    let mut reach = first.clamp(near.min(most), most);
    let mut high = None;
    for _ in 0..MOST_WIDENINGS {
        let value = left(reach)?;
        if value <= 0.0 {
            high = Some((reach, value));
            break;
        }
        if reach >= most {
            return None;
        }
        low = (reach, value);
        reach = (2.0 * reach).min(most);
    }
    let mut high = high?;
    for round in 0..MOST_NARROWINGS {
        if high.0 - low.0 <= near || high.1 > -1e-3 * near {
            break;
        }
        let x = between(low, high, round);
        let value = left(x)?;
        if value <= 0.0 {
            high = (x, value);
        } else {
            low = (x, value);
        }
    }
    Some(high.0)
}

/// Interpolates linearly between the two, bisects every third time, and stays clear of the ends so as not to stall.
fn between(low: (f64, f64), high: (f64, f64), round: usize) -> f64 {
    let share = if round % 3 == 2 {
        0.5
    } else {
        // Slightly beyond the straight line, so that the safe side is met from time to time.
        (1.02 * low.1 / (low.1 - high.1)).clamp(0.02, 0.98)
    };
    low.0 + share * (high.0 - low.0)
}
