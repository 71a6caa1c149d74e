//! Where a time stands on the axis of a course.

use crate::evaluate::InterpolatedSeries;
use crate::finding::State;
use crate::units::span;

/// The bend of the axis is at this share of the course: up to there time goes evenly, beyond ever faster, since
/// most happens at first. A choice.
const BEND: f64 = 1.0 / 200.0;
/// A course is shown so much longer than until all is still. A choice.
const AFTER_STILL: f64 = 1.25;
/// Shortest course that has an axis, s.
const LEAST_S: f64 = 1e-3;

const MINUTE_S: f64 = 60.0;
const HOUR_S: f64 = 3600.0;
const DAY_S: f64 = 86_400.0;
/// Times that people count in, s.
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

/// The axis of a course: times to shares of its length, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeScale {
    /// Where it ends, s.
    pub end_s: f64,
    /// Where it bends, s; none: time goes evenly.
    bend_s: Option<f64>,
}

impl TimeScale {
    /// The axis of a film: even for a round, else bent, so that the first minute is seen of a day.
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

    /// Time goes evenly to `end_s`.
    pub fn even(end_s: f64) -> TimeScale {
        TimeScale {
            end_s: end_s.max(LEAST_S),
            bend_s: None,
        }
    }

    /// Most of the axis is for what happens at first.
    pub fn bent(end_s: f64) -> TimeScale {
        let end_s = end_s.max(LEAST_S);
        TimeScale {
            end_s,
            bend_s: Some(BEND * end_s),
        }
    }

    /// Share of the axis up to a time, 0 to 1.
    pub fn share(self, time_s: f64) -> f64 {
        let share = match self.bend_s {
            None => time_s / self.end_s,
            Some(bend_s) => (time_s / bend_s).ln_1p() / (self.end_s / bend_s).ln_1p(),
        };
        share.clamp(0.0, 1.0)
    }

    /// The time at a share of the axis, s.
    pub fn time_at(self, share: f64) -> f64 {
        let share = share.clamp(0.0, 1.0);
        let time_s = match self.bend_s {
            None => share * self.end_s,
            Some(bend_s) => bend_s * (share * (self.end_s / bend_s).ln_1p()).exp_m1(),
        };
        time_s.clamp(0.0, self.end_s)
    }

    /// Round times that stand at least `apart` (a share of the axis) from each other, with their words.
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

    /// The next round time that is not longer, s: `2 min` for 137 s.
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
        // A count of ticks: small, and never below 0.
        let count = (self.end_s / step).clamp(0.0, 1000.0) as u32;
        (1..=count).map(|index| f64::from(index) * step).collect()
    }
}

/// A round time in one unit: `5 s`, not `5.0 s`.
pub fn written(time_s: f64) -> String {
    if time_s < 1.0 {
        format!("{time_s:.1} s")
    } else if time_s < 10.0 && time_s.fract() == 0.0 {
        format!("{time_s:.0} s")
    } else {
        span(time_s)
    }
}
