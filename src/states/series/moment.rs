//! One moment of an interpolated series.

use super::{InterpolatedSeries, SPILL_M3_S, SwitchPeriod};
use crate::layout::Id;
use crate::network::Node;
use crate::solve::NetworkState;
use crate::states::report::StateReport;
use crate::states::simulate::Simulated;
use crate::states::{OVER_M, pumps, report_of, vessels};

/// A moment, before it is converted to a report by part.
struct Moment<'f> {
    stand: &'f SwitchPeriod,
    point: NetworkState,
    passed_m3: Vec<f64>,
    in_runs_m3: f64,
}

impl InterpolatedSeries {
    /// The report at a moment, in the form of that at the end of a state; the moment is clamped to the series. For
    /// spilling vessels, [`StateReport::vessels`] has the volume spilled by then, and the spill at that moment.
    pub fn at(&self, time_s: f64) -> StateReport {
        let Some(moment) = self.moment(time_s) else {
            return StateReport::empty(self.state);
        };
        let lowered = &moment.stand.lowered;
        let mut way = Simulated::at(&moment.point);
        way.time_s = time_s;
        way.passed_m3 = moment.passed_m3;
        let told = self.told.iter().take_while(|told| told.time_s <= time_s);
        way.told = told.cloned().collect();
        let mut report = report_of(&self.layout, lowered, self.state, &way);
        report.in_runs_m3 = moment.in_runs_m3;
        pumps::say(&mut report.pumps, &moment.stand.stopped);
        let mut rims = lowered.origin.rims.iter().flatten();
        let spills =
            |link: &usize| way.passed_m3[*link] > OVER_M || way.end.flow_m3_s[*link] > SPILL_M3_S;
        if rims.any(spills) {
            vessels::add_spill(&mut report, lowered, &way);
        }
        report
    }

    /// Level of a vessel at a moment, metres; none where there is no such vessel.
    pub fn level_at_m(&self, vessel: &Id, time_s: f64) -> Option<f64> {
        let place = self
            .layout
            .vessels
            .iter()
            .position(|one| one.id == *vessel)?;
        let moment = self.moment(time_s)?;
        let node = *moment.stand.lowered.origin.vessels.get(place)?;
        let head_m = *moment.point.head_m.get(node)?;
        Some(vessels::read_level(&moment.stand.lowered, node, head_m))
    }

    fn moment(&self, time_s: f64) -> Option<Moment<'_>> {
        let inside = |leap: &&crate::states::simulate::ExtrapolatedCycles| {
            time_s > leap.from_s && time_s < leap.to_s
        };
        let Some(leap) = self.leaps.iter().find(inside) else {
            return self.kept(time_s);
        };
        // The moment at the same phase of the cycle before the extrapolation.
        let into_s = time_s - leap.from_s;
        let rounds = (into_s / leap.round_s).floor() + 1.0;
        let mut moment = self.kept(time_s - rounds * leap.round_s)?;
        let (began, ended) = (
            self.kept(leap.from_s - leap.round_s)?,
            self.kept(leap.from_s)?,
        );
        let moved = |now: f64, then: f64| rounds * (now - then);
        let passed = ended.passed_m3.iter().zip(&began.passed_m3);
        for (sum, (now, then)) in moment.passed_m3.iter_mut().zip(passed) {
            *sum += moved(*now, *then);
        }
        for node in moment.stand.lowered.origin.vessels.iter().copied() {
            let heads = [&began.point, &ended.point].map(|point| point.head_m[node]);
            let [then, now] = heads.map(|head_m| volume_m3(moment.stand, node, head_m));
            let stood_m = moment.point.head_m[node];
            let held_m3 = volume_m3(moment.stand, node, stood_m) + moved(now, then);
            let drift_m = moved(heads[1], heads[0]);
            // The bracket extended by its width either way, in case the vessel narrows.
            let bounds = [
                stood_m.min(stood_m + 2.0 * drift_m),
                stood_m.max(stood_m + 2.0 * drift_m),
            ];
            moment.point.head_m[node] = level_m(moment.stand, node, held_m3, bounds);
        }
        Some(moment)
    }

    /// A moment interpolated from the kept ones around it; just after a switch.
    fn kept(&self, time_s: f64) -> Option<Moment<'_>> {
        let course = &self.course;
        let last = course.points.len().checked_sub(1)?;
        let after = course.times_s.partition_point(|time| *time <= time_s);
        let at = after.saturating_sub(1).min(last);
        let scene = self.scenes.partition_point(|(first, _)| *first <= at);
        let (_, stand) = self.scenes.get(scene.saturating_sub(1))?;
        let stand = self.stands.get(*stand)?;
        // An interval that ends with a switch ends with the moment before it.
        let ends = self
            .scenes
            .get(scene)
            .map_or(last, |(first, _)| first.saturating_sub(1));
        let next = (at + 1).min(ends).max(at);
        let (from_s, to_s) = (course.times_s[at], course.times_s[next]);
        let share = match to_s > from_s {
            true => ((time_s - from_s) / (to_s - from_s)).clamp(0.0, 1.0),
            false => 0.0,
        };
        Some(self.between(stand, [at, next], share))
    }

    /// Interpolation between two kept moments.
    fn between<'f>(&self, stand: &'f SwitchPeriod, [a, b]: [usize; 2], share: f64) -> Moment<'f> {
        let points = [a, b].map(|index| &self.course.points[index]);
        let mix =
            |list: fn(&NetworkState) -> &Vec<f64>| lerp(list(points[0]), list(points[1]), share);
        let mut point = NetworkState {
            head_m: mix(|point| &point.head_m),
            flow_m3_s: mix(|point| &point.flow_m3_s),
            volume_m3: mix(|point| &point.volume_m3),
        };
        if share > 0.0 && share < 1.0 {
            for &node in &stand.lowered.origin.vessels {
                let heads = points.map(|point| point.head_m[node]);
                let [from, to] = heads.map(|head_m| volume_m3(stand, node, head_m));
                let held_m3 = from + share * (to - from);
                let bounds = [heads[0].min(heads[1]), heads[0].max(heads[1])];
                point.head_m[node] = level_m(stand, node, held_m3, bounds);
            }
        }
        let [from, to] = [a, b].map(|index| &self.course.passed_m3[index]);
        let [held_m3, holds_m3] = [a, b].map(|index| self.course.in_runs_m3[index]);
        Moment {
            stand,
            point,
            passed_m3: lerp(from, to, share),
            in_runs_m3: held_m3 + share * (holds_m3 - held_m3),
        }
    }
}

fn lerp(from: &[f64], to: &[f64], share: f64) -> Vec<f64> {
    let pairs = from.iter().zip(to);
    pairs
        .map(|(from, to)| match share {
            0.0 => *from,
            1.0 => *to,
            _ => from + share * (to - from),
        })
        .collect()
}

/// Water in a node at a level, m³; negative below the floor of a vessel.
fn volume_m3(stand: &SwitchPeriod, node: usize, level_m: f64) -> f64 {
    match stand.lowered.network.node_weight((node as u32).into()) {
        Some(Node::Vessel { storage, .. }) => storage.volume_m3(level_m),
        _ => 0.0,
    }
}

/// The level between two others at which a vessel holds a given volume: volume increases with level, so bisection
/// finds it to the last digit.
fn level_m(stand: &SwitchPeriod, node: usize, held_m3: f64, [low_m, high_m]: [f64; 2]) -> f64 {
    let (mut low_m, mut high_m) = (low_m, high_m);
    for _ in 0..60 {
        let middle_m = 0.5 * (low_m + high_m);
        if middle_m <= low_m || middle_m >= high_m {
            break;
        }
        match volume_m3(stand, node, middle_m) < held_m3 {
            true => low_m = middle_m,
            false => high_m = middle_m,
        }
    }
    0.5 * (low_m + high_m)
}
