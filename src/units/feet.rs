//! Feet and inches to the sixteenth, as read off a tape.

use super::convert::INCH_M;
use super::figures;

/// Sixteenths in an inch and in a foot.
const IN_AN_INCH: i64 = 16;
const IN_A_FOOT: i64 = 12 * IN_AN_INCH;
/// Length from which a value is written in decimal feet, in sixteenths: a million feet.
const LONGEST: f64 = 1e6 * 192.0;

/// Formats `value_m` in feet and inches: `3 ft 4 1/16 in`, `-4 1/16 in`, `0 in`. `None` for NaN and the infinities.
pub(super) fn feet_and_inches(value_m: f64) -> Option<String> {
    let sixteenths = (value_m / INCH_M * 16.0).round();
    if !sixteenths.is_finite() {
        return None;
    }
    if sixteenths.abs() >= LONGEST {
        let feet = figures::significant(value_m / INCH_M / 12.0, 3)?;
        return Some(format!("{feet} ft"));
    }
    // Whole and under LONGEST, so the cast is exact.
    let whole = sixteenths as i64;
    let sign = if whole < 0 { "-" } else { "" };
    let rest = whole.abs();
    let feet = rest / IN_A_FOOT;
    let inches = inches(rest % IN_A_FOOT, feet > 0);
    Some(if feet > 0 {
        format!("{sign}{feet} ft {inches} in")
    } else {
        format!("{sign}{inches} in")
    })
}

/// Formats inches under a foot, from sixteenths; after feet, a bare fraction gets a leading 0.
fn inches(sixteenths: i64, after_feet: bool) -> String {
    let (whole, mut over, mut under) = (sixteenths / IN_AN_INCH, sixteenths % IN_AN_INCH, 16);
    if over == 0 {
        return whole.to_string();
    }
    while over % 2 == 0 {
        (over, under) = (over / 2, under / 2);
    }
    if whole == 0 && !after_feet {
        format!("{over}/{under}")
    } else {
        format!("{whole} {over}/{under}")
    }
}
