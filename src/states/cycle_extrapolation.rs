//! Cycle extrapolation: many cycles at once, where levels drift from one to the next, as in a cistern that a pump
//! empties by hundreds of strokes.
//!
//! The volumes that one cycle moved are repeated, for as many cycles as the last two in a row justify. Water is carried
//! over by volume, together with all that passed the links, so that the mass balance stays closed.

use super::cycle::Moment;
use super::simulate::{ExtrapolatedCycles, Simulated};
use crate::solve::{Gauge, System, Watch};

/// Permitted error of a level in an extrapolation, from the change of the drift, metres.
const EXTRAPOLATION_ERROR_M: f64 = 2e-3;
/// Maximum change of a level in an extrapolation, metres, and the same for one that rises above everything watched.
const EXTRAPOLATION_M: f64 = 0.1;
const EXTRAPOLATION_BEYOND_M: f64 = 20.0;
/// Maximum fraction of the water in a vessel that an extrapolation may remove.
const EXTRAPOLATION_OUT: f64 = 0.5;
/// Maximum fraction of the way to a watched height: whatever happens there is met in a simulated cycle.
const EXTRAPOLATION_TOWARDS: f64 = 0.8;
/// Number of cycles below which an extrapolation is not worth it.
const MIN_CYCLES: f64 = 4.0;

/// A cycle extrapolation: the number of cycles, and the two moments between which one cycle ran.
pub(super) struct CycleExtrapolation<'a> {
    rounds: f64,
    before: &'a Moment,
    now: &'a Moment,
}

impl<'a> CycleExtrapolation<'a> {
    /// From three moments with the same modes; `nodes`: the vessels, `watches`: the watched gauges.
    /// None where it is not worth it.
    pub fn of(
        [first, before, now]: [&'a Moment; 3],
        nodes: &[usize],
        system: &System,
        watches: &[Watch],
    ) -> Option<CycleExtrapolation<'a>> {
        let drift_m = |node: usize| now.levels_m[node] - before.levels_m[node];
        let heights = |node: usize| {
            watches.iter().filter_map(move |watch| match watch.gauge {
                Gauge::Level { node: of, height_m } if of == node => Some(height_m),
                _ => None,
            })
        };
        let mut rounds = f64::INFINITY;
        for &node in nodes {
            let change_m = drift_m(node) - (before.levels_m[node] - first.levels_m[node]);
            let out_m3 = before.volumes_m3[node] - now.volumes_m3[node];
            let ahead =
                heights(node).map(|height_m| (height_m - now.levels_m[node]) / drift_m(node));
            let next = ahead
                .filter(|away| *away > 0.0)
                .fold(f64::INFINITY, f64::min);
            let most_m = match next.is_finite() || drift_m(node) < 0.0 {
                true => EXTRAPOLATION_M,
                false => EXTRAPOLATION_BEYOND_M,
            };
            rounds = rounds
                .min((2.0 * EXTRAPOLATION_ERROR_M / change_m.abs()).sqrt())
                .min(most_m / drift_m(node).abs())
                .min(EXTRAPOLATION_TOWARDS * next);
            if out_m3 > 0.0 {
                let in_it_m3 = system.volume(node, now.levels_m[node]).max(0.0);
                rounds = rounds.min(EXTRAPOLATION_OUT * in_it_m3 / out_m3);
            }
        }
        let rounds = rounds.floor();
        let worth = rounds.is_finite() && rounds >= MIN_CYCLES && now.time_s > before.time_s;
        worth.then_some(CycleExtrapolation {
            rounds,
            before,
            now,
        })
    }

    /// Applies the extrapolation.
    pub fn make(&self, nodes: &[usize], system: &System, way: &mut Simulated) {
        let round_s = self.now.time_s - self.before.time_s;
        let from_s = way.time_s;
        way.time_s += self.rounds * round_s;
        way.leaps.push(ExtrapolatedCycles {
            from_s,
            to_s: way.time_s,
            round_s,
        });
        for &node in nodes {
            let volume_m3 = way.end.volume_m3[node]
                + self.rounds * (self.now.volumes_m3[node] - self.before.volumes_m3[node]);
            let near_m = way.end.head_m[node]
                + self.rounds * (self.now.levels_m[node] - self.before.levels_m[node]);
            way.end.volume_m3[node] = volume_m3;
            way.end.head_m[node] = system.level_of(node, volume_m3, near_m);
        }
        let sums = [
            (
                &mut way.passed_m3,
                &self.now.passed_m3,
                &self.before.passed_m3,
            ),
            (&mut way.back_m3, &self.now.back_m3, &self.before.back_m3),
        ];
        for (sums, now, before) in sums {
            for (sum, (now, before)) in sums.iter_mut().zip(now.iter().zip(before)) {
                *sum += self.rounds * (now - before);
            }
        }
    }
}
