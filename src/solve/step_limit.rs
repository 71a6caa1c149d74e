//! Step limits: a step may not pass an edge unnoticed, nor fall below a lip over which it draws.

use super::link_tangents::AllowedFlow;
use super::reach::{share_before_opening, tamed};
use super::system::NetworkState;
use super::tangent::LEVEL_ROUNDING;
use super::work::StepState;
use crate::network::{Link, RimLaw};

/// Limit on the change of a level in one undamped step, metres.
pub(super) const FARTHEST_M: f64 = 1e4;
/// Step limit in trial solves, or the height of the layout where that is more: far-off heads make the searches for
/// single-link flows slow, and the way back is as long.
pub(super) const FARTHEST_IN_A_TRY_M: f64 = 7.0;
/// Maximum fraction of the head over the lip of an open run that one step may remove.
const CLOSE_TO_LIP: f64 = 0.9;
/// Minimum fraction of a step that is taken.
const LEAST_SHARE: f64 = 0.05;

/// Flow over a rim after a step, m³/s: by its law, or by its linearisation where the two differ by no more than the
/// last digit of the level is worth. On a long rim, or far from the datum, that digit is more water in a step of
/// years than the mass balance allows.
fn over_rim(rim: &RimLaw, level_m: f64, linear: f64) -> f64 {
    let exact = rim.flow(level_m);
    let last_digit = exact.derivative * LEVEL_ROUNDING * level_m.abs();
    if (linear - exact.value).abs() <= last_digit {
        linear
    } else {
        exact.value
    }
}

impl StepState<'_, '_> {
    /// Moves levels by the step and flows along their linearisations.
    ///
    /// Flows change by the step itself, not by the difference of the rounded levels: on a run of
    /// almost no resistance, and over a long rim, that difference is coarser than the balance allows.
    pub(super) fn advance(&mut self, point: &mut NetworkState, most: f64) {
        let farthest_m = if self.thorough {
            FARTHEST_M
        } else {
            self.system.farthest_in_a_try_m
        };
        for step in &mut self.step {
            *step = step.clamp(-farthest_m, farthest_m);
        }
        let share = self.share_before_edges(point).min(most);
        self.stay_over_lips(point);
        for (row, &node) in self.system.node_of.iter().enumerate() {
            self.moved[node] = self.step[row] * share;
            point.head_m[node] += self.moved[node];
        }
        for (index, link) in self.system.links.iter().enumerate() {
            let lines = &self.lines;
            let [by_source, by_target] = link.ends().map(|node| self.moved[node]);
            let flow = &mut point.flow_m3_s[index];
            let linear = *flow
                + share * (lines.flow[index] - *flow)
                + lines.by_source[index] * by_source
                + lines.by_target[index] * by_target;
            let levels = || link.levels(&point.head_m);
            *flow = match lines.passes[index] {
                AllowedFlow::Rim => linear,
                passes if !passes.lets(linear) => 0.0,
                _ => tamed(self.system, index, levels, linear, *flow),
            };
        }
        for &index in &self.system.with_lips {
            let link = &self.system.links[index];
            if let Link::Rim(rim) = link.law {
                let flow = &mut point.flow_m3_s[index];
                *flow = over_rim(rim, link.levels(&point.head_m)[0], *flow);
            }
        }
    }

    /// Limits the fall of a node to the lip of an open run that draws from it: below that lip a
    /// different balance holds.
    fn stay_over_lips(&mut self, point: &NetworkState) {
        for (&index, line) in self.system.with_lips.iter().zip(&self.lines.with_lips) {
            let link = &self.system.links[index];
            let Link::Run(run) = link.law else { continue };
            // Limited there, a run that flows both ways takes many more iterations than a trial solve has.
            let both_ways = line.two_way && !self.thorough;
            let Some(sense) = line.sense.filter(|_| !line.over_edge && !both_ways) else {
                continue;
            };
            let node = sense.along(link.ends())[0];
            let over = point.head_m[node] - run.intake_m(sense);
            if let Some(row) = self.system.row[node]
                && over > 0.0
            {
                self.step[row] = self.step[row].max(-CLOSE_TO_LIP * over);
            }
        }
    }

    /// The fraction of the step that passes no edge unnoticed: not far above the level at which a closed
    /// link opens. Past it the balances differ from those that the step was computed from.
    fn share_before_edges(&self, point: &NetworkState) -> f64 {
        let mut share = 1.0_f64;
        for &index in &self.sums.closed {
            let link = &self.system.links[index];
            let before = link.levels(&point.head_m);
            let after = link.ends().map(|node| {
                point.head_m[node] + self.system.row[node].map_or(0.0, |row| self.step[row])
            });
            share = share.min(share_before_opening(link.law, before, after));
        }
        share.clamp(LEAST_SHARE, 1.0)
    }
}
