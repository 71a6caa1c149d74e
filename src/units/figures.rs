//! Rounding of numbers to meaningful digits.

/// Size from which a number is written with a power of ten.
const MOST_PLAIN: f64 = 1e6;
/// Size, in the unit shown, below which nothing can be measured and 0 is written.
const LEAST_SHOWN: f64 = 5e-4;

/// Formats `value` to `figures` significant figures (1 to 6), without a power of ten for ordinary sizes.
///
/// `None` for NaN and the infinities.
pub(super) fn significant(value: f64, figures: i32) -> Option<String> {
    if !value.is_finite() {
        return None;
    }
    if value.abs() < LEAST_SHOWN {
        return Some("0".to_owned());
    }
    // Rounded before its magnitude is taken, so that 9.996 becomes 10.0 and not 10.00.
    let decimals = usize::try_from(figures - 1).unwrap_or(0);
    let text = format!("{value:.decimals$e}");
    let rounded: f64 = text.parse().ok()?;
    if rounded.abs() >= MOST_PLAIN {
        // The text is returned, since the largest numbers round up to infinity.
        return Some(text);
    }
    // Truncation is intended: the exponent is between -4 and 6.
    let size = rounded.abs().log10().floor() as i32;
    let decimals = usize::try_from(figures - 1 - size).unwrap_or(0);
    Some(format!("{rounded:.decimals$}"))
}

/// Formats `value` to three significant figures, but with at most `decimals` decimals.
///
/// `None` for NaN and the infinities.
pub(super) fn at_most(value: f64, decimals: usize) -> Option<String> {
    let least = 100.0 / 10_f64.powi(i32::try_from(decimals).unwrap_or(i32::MAX));
    if value.abs() < least {
        let text = fixed(value, decimals)?;
        let is_nought = text.parse() == Ok(0.0);
        return Some(if is_nought { "0".to_owned() } else { text });
    }
    significant(value, 3)
}

/// Formats `value` with a fixed number of decimals; very large values to three figures with a power of ten.
///
/// `None` for NaN and the infinities.
pub(super) fn fixed(value: f64, decimals: usize) -> Option<String> {
    if !value.is_finite() {
        return None;
    }
    if value.abs() >= MOST_PLAIN {
        return significant(value, 3);
    }
    let text = format!("{value:.decimals$}");
    let only_zeros = text.chars().all(|letter| !('1'..='9').contains(&letter));
    Some(if only_zeros {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    })
}

/// Formats a whole number without decimals, any other to three significant figures.
pub(super) fn ratio(value: f64) -> Option<String> {
    if value.fract() == 0.0 {
        fixed(value, 0)
    } else {
        significant(value, 3)
    }
}
