//! Durations as people write them.

use super::convert::{DAY_S, HOUR_S, MINUTE_S};
use super::{NOT_KNOWN, Quantity, UnitSystem, unit_for};

/// Duration from which days are rounded to significant figures, s.
const MOST_S: f64 = 1e5 * DAY_S;

/// Formats a duration (s) in its two largest units: `4.2 s`, `12 s`, `2 min 10 s`, `3 h 5 min`, `2 days 4 h`.
pub fn span(time_s: f64) -> String {
    if !time_s.is_finite() {
        return NOT_KNOWN.to_owned();
    }
    if time_s <= -0.05 {
        return format!("-{}", span(-time_s));
    }
    if time_s < 0.05 {
        return "0 s".to_owned();
    }
    if time_s >= MOST_S {
        return unit_for(Quantity::Time, time_s, UnitSystem::Metric).write(time_s);
    }
    if time_s < 9.95 {
        return format!("{time_s:.1} s");
    }
    // Rounded first, so that 59.6 s becomes 1 min and not 60 s.
    let seconds = time_s.round();
    if seconds < MINUTE_S {
        format!("{seconds} s")
    } else if seconds < HOUR_S {
        two((seconds / MINUTE_S).floor(), "min", seconds % MINUTE_S, "s")
    } else if seconds < DAY_S - 0.5 * MINUTE_S {
        let minutes = (seconds / MINUTE_S).round();
        two((minutes / 60.0).floor(), "h", minutes % 60.0, "min")
    } else {
        let hours = (seconds / HOUR_S).round();
        let days = (hours / 24.0).floor();
        two(
            days,
            if days == 1.0 { "day" } else { "days" },
            hours % 24.0,
            "h",
        )
    }
}

fn two(large: f64, large_unit: &str, small: f64, small_unit: &str) -> String {
    if small == 0.0 {
        format!("{large} {large_unit}")
    } else {
        format!("{large} {large_unit} {small} {small_unit}")
    }
}
