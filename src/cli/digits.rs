//! Numbers of results, as scripts get them.

/// From here on a number says nothing of a layout: it stands for one that has no end.
const NO_END: f64 = 1e21;

/// A number to nine significant digits; none where it is not finite or has no end. A negative nought loses its sign.
pub(super) fn nine_digits(value: f64) -> Option<f64> {
    if value.is_nan() || value.abs() >= NO_END {
        return None;
    }
    let rounded: Option<f64> = format!("{value:.8e}").parse().ok();
    Some(rounded.unwrap_or(value) + 0.0)
}
