//! Time axis of a time plot.

use crate::state::State;
use crate::states::InterpolatedSeries;
use crate::units::span;

/// Share of the duration up to which the axis is nearly linear; beyond, it is logarithmic, since most happens at first.
/// A choice.
const BEND: f64 = 1.0 / 200.0;
/// Ratio of the plotted duration to the time until all is at rest. A choice.
const AFTER_STILL: f64 = 1.25;
/// Shortest duration of an axis, s.
const LEAST_S: f64 = 1e-3;

const MINUTE_S: f64 = 60.0;
const HOUR_S: f64 = 3600.0;
const DAY_S: f64 = 86_400.0;
/// Round times for ticks, s.
const ROUND_S: [f64; 32] = [
    0.1,
    0.2,
    0.5,
    1.0,
    2.0,
    5.0,
    10.0,
    20.0,
    30.0,
    MINUTE_S,
    2.0 * MINUTE_S,
    5.0 * MINUTE_S,
    10.0 * MINUTE_S,
    20.0 * MINUTE_S,
    30.0 * MINUTE_S,
    HOUR_S,
    2.0 * HOUR_S,
    4.0 * HOUR_S,
    8.0 * HOUR_S,
    12.0 * HOUR_S,
    DAY_S,
    2.0 * DAY_S,
    4.0 * DAY_S,
    7.0 * DAY_S,
    14.0 * DAY_S,
    30.0 * DAY_S,
    60.0 * DAY_S,
    120.0 * DAY_S,
    365.0 * DAY_S,
    730.0 * DAY_S,
    1825.0 * DAY_S,
    3650.0 * DAY_S,
];

/// A time axis, which maps times to shares of its length, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeScale {
    /// End of the axis, s.
    pub end_s: f64,
    /// Time from which the axis is logarithmic, s; `None`: the axis is linear.
    bend_s: Option<f64>,
}

impl TimeScale {
    /// Returns the axis for a simulation: linear for the running state, else logarithmic, so that the first minute of a
    /// day is visible.
    pub fn of(film: &InterpolatedSeries) -> TimeScale {
        let last_told = film.events().last().map_or(0.0, |told| told.time_s);
        let end_s = match film.still_since_s() {
            Some(still_s) => film.end_s().min((AFTER_STILL * still_s).max(last_told)),
            None => film.end_s(),
        };
        match film.state() {
            State::Running => TimeScale::even(end_s),
            _ => TimeScale::bent(end_s),
        }
    }

    /// Makes a linear axis up to `end_s`.
    pub fn even(end_s: f64) -> TimeScale {
        TimeScale {
            end_s: end_s.max(LEAST_S),
            bend_s: None,
        }
    }

    /// Makes a logarithmic axis up to `end_s`, most of which is for the first events.
    pub fn bent(end_s: f64) -> TimeScale {
        let end_s = end_s.max(LEAST_S);
        TimeScale {
            end_s,
            bend_s: Some(BEND * end_s),
        }
    }

    /// Returns the share of the axis up to a time, 0 to 1.
    pub fn share(self, time_s: f64) -> f64 {
        let share = match self.bend_s {
            None => time_s / self.end_s,
            Some(bend_s) => (time_s / bend_s).ln_1p() / (self.end_s / bend_s).ln_1p(),
        };
        share.clamp(0.0, 1.0)
    }

    /// Returns the time at a share of the axis, s.
    pub fn time_at(self, share: f64) -> f64 {
        let share = share.clamp(0.0, 1.0);
        let time_s = match self.bend_s {
            None => share * self.end_s,
            Some(bend_s) => bend_s * (share * (self.end_s / bend_s).ln_1p()).exp_m1(),
        };
        time_s.clamp(0.0, self.end_s)
    }

    /// Returns round times at least `apart` (a share of the axis) from each other, with their labels.
    pub fn ticks(self, apart: f64) -> Vec<(f64, String)> {
        let mut ticks = vec![(0.0, "0".to_owned())];
        let mut last = 0.0;
        for time_s in self.round_times(apart) {
            let share = self.share(time_s);
            if time_s <= self.end_s && share - last >= apart {
                ticks.push((time_s, written(time_s)));
                last = share;
            }
        }
        ticks
    }

    /// Returns the largest round time that is not longer, s: `2 min` for 137 s; the shortest if there is none.
    pub fn rounded(time_s: f64) -> f64 {
        let mut shorter = ROUND_S.iter().rev();
        let found = shorter.find(|round_s| **round_s <= time_s);
        found.copied().unwrap_or(ROUND_S[0])
    }

    fn round_times(self, apart: f64) -> Vec<f64> {
        if self.bend_s.is_some() {
            return ROUND_S.to_vec();
        }
        let wide = |step: &&f64| **step >= apart * self.end_s;
        let step = ROUND_S.iter().find(wide).copied().unwrap_or(self.end_s);
        // A count of ticks: small and not negative.
        let count = (self.end_s / step).clamp(0.0, 1000.0) as u32;
        (1..=count).map(|index| f64::from(index) * step).collect()
    }
}

/// Formats a round time in one unit: `5 s`, not `5.0 s`.
pub fn written(time_s: f64) -> String {
    if time_s < 1.0 {
        format!("{time_s:.1} s")
    } else if time_s < 10.0 && time_s.fract() == 0.0 {
        format!("{time_s:.0} s")
    } else {
        span(time_s)
    }
}
