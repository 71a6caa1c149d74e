//! Root finding in time: when a gauge crosses 0.

use super::step::SolvedStep;
use super::system::{NetworkState, System};
use super::watch::Watch;

/// Distance from 0 at which the crossing counts as found, metres.
const FOUND_M: f64 = 1e-7;
/// Bracket length at which the time of a crossing counts as found, s.
const FOUND_S: f64 = 1e-4;
/// Maximum number of shorter steps tried for one crossing.
const MOST_TRIES: usize = 40;

/// The gauges of a simulation as they stood at the last accepted state.
pub(super) struct Gauges<'a> {
    watches: &'a [Watch],
    values_m: Vec<f64>,
    up: Vec<bool>,
}

impl<'a> Gauges<'a> {
    pub fn new(watches: &'a [Watch], system: &System, point: &NetworkState) -> Gauges<'a> {
        let values_m = read(watches, system, point);
        Gauges {
            watches,
            up: values_m.iter().map(|value| *value > 0.0).collect(),
            values_m,
        }
    }

    /// The step shortened to end just past the first crossing in it; the step itself where there is none.
    ///
    /// `shorter` solves the step again with another length; where that fails, the current bracket is accepted.
    pub fn first_crossing(
        &self,
        system: &System,
        whole: (SolvedStep, f64),
        mut shorter: impl FnMut(f64) -> Option<SolvedStep>,
    ) -> (SolvedStep, f64) {
        if self.watches.is_empty() {
            return whole;
        }
        let (mut step, mut high_s) = whole;
        let mut at_high = read(self.watches, system, &step.end);
        let (mut low_s, mut at_low) = (0.0, self.values_m.clone());
        for turn in 0..MOST_TRIES {
            let Some((guess, miss_m)) = self.first_of(&at_low, &at_high) else {
                break;
            };
            let width_s = high_s - low_s;
            if miss_m <= FOUND_M || width_s <= FOUND_S {
                break;
            }
            // Every third iteration bisects, so that a curved gauge cannot hold one end of the bracket for ever.
            let share = if turn % 3 == 2 { 0.5 } else { guess };
            let length_s = low_s + width_s * share.clamp(1e-3, 0.999);
            let Some(tried) = shorter(length_s) else {
                break;
            };
            let values = read(self.watches, system, &tried.end);
            if self.first_of(&at_low, &values).is_some() {
                (step, high_s, at_high) = (tried, length_s, values);
            } else {
                (low_s, at_low) = (length_s, values);
            }
        }
        (step, high_s)
    }

    /// Of the gauges that have changed sign at the end of a bracket: where the first of them crosses, as a
    /// fraction of the bracket, and how far past 0 it is at the end.
    fn first_of(&self, low: &[f64], high: &[f64]) -> Option<(f64, f64)> {
        let crossed = (0..self.up.len()).filter(|&one| (high[one] > 0.0) != self.up[one]);
        let places = crossed.map(|one| {
            // Aims slightly past 0, so that the end of the bracket soon lies there.
            let beyond = 0.5 * FOUND_M;
            let aim = if high[one] > 0.0 { beyond } else { -beyond };
            let share = (aim - low[one]) / (high[one] - low[one]);
            (if share.is_finite() { share } else { 0.5 }, high[one].abs())
        });
        places.min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Advances to a new state and returns which gauges changed sign on the way.
    pub fn take(&mut self, system: &System, point: &NetworkState) -> Vec<(usize, bool)> {
        self.values_m = read(self.watches, system, point);
        let mut crossed = Vec::new();
        for (index, value) in self.values_m.iter().enumerate() {
            let up = *value > 0.0;
            if up != self.up[index] {
                self.up[index] = up;
                crossed.push((index, up));
            }
        }
        crossed
    }
}

fn read(watches: &[Watch], system: &System, point: &NetworkState) -> Vec<f64> {
    watches
        .iter()
        .map(|watch| watch.gauge.read(system, point))
        .collect()
}
