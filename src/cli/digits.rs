//! Formats the numbers of results for scripts.

/// Magnitude from which a number stands for an unlimited value and means nothing in a layout.
const NO_END: f64 = 1e21;

/// Rounds to nine significant digits; none where the number is not finite or is unlimited. Negative zero loses its
/// sign.
pub(super) fn nine_digits(value: f64) -> Option<f64> {
    if value.is_nan() || value.abs() >= NO_END {
        return None;
    }
    let rounded: Option<f64> = format!("{value:.8e}").parse().ok();
    Some(rounded.unwrap_or(value) + 0.0)
}
