//! Thins out the moments of a trajectory that has more than are of use.

use super::InterpolatedSeries;
use crate::states::simulate::Simulated;
use std::collections::HashSet;

impl Simulated {
    /// Removes moments until at most so many are left: every second one between two that must stay. The first, the
    /// last, and those of switches and other events stay.
    pub(in crate::states) fn thin(&mut self, most: usize) {
        while self.course.points.len() > most {
            let keep = self.worth_keeping();
            if keep.iter().all(|kept| *kept) {
                return;
            }
            self.keep(&keep);
        }
    }

    fn worth_keeping(&self) -> Vec<bool> {
        let told: HashSet<u64> = self.told.iter().map(|told| told.time_s.to_bits()).collect();
        let count = self.course.times_s.len();
        let mut must = vec![false; count];
        for (first, _) in &self.scenes {
            for index in [first.saturating_sub(1), *first] {
                if let Some(one) = must.get_mut(index) {
                    *one = true;
                }
            }
        }
        if let Some(last) = must.last_mut() {
            *last = true;
        }
        for (one, time_s) in must.iter_mut().zip(&self.course.times_s) {
            *one |= told.contains(&time_s.to_bits());
        }
        let mut skipped = false;
        for one in &mut must {
            let kept = *one || skipped;
            skipped = !kept;
            *one = kept;
        }
        must
    }

    fn keep(&mut self, keep: &[bool]) {
        // New start index of each interval after the removal.
        let mut before = Vec::with_capacity(keep.len() + 1);
        let mut count = 0;
        for kept in keep {
            before.push(count);
            count += usize::from(*kept);
        }
        before.push(count);
        for (first, _) in &mut self.scenes {
            *first = before.get(*first).copied().unwrap_or(count);
        }
        only(&mut self.course.times_s, keep);
        only(&mut self.course.points, keep);
        only(&mut self.course.passed_m3, keep);
        only(&mut self.course.in_runs_m3, keep);
    }
}

fn only<T>(list: &mut Vec<T>, keep: &[bool]) {
    let mut kept = keep.iter();
    list.retain(|_| kept.next().copied().unwrap_or(true));
}

impl InterpolatedSeries {
    /// Removes everything before the moment of a switch, s, and shifts time to start there.
    pub(super) fn cut_before(&mut self, began_s: f64) {
        let scene = self.scenes.iter().position(|(first, _)| {
            let time_s = self.course.times_s.get(*first);
            time_s.is_some_and(|time_s| *time_s >= began_s)
        });
        let scene = scene.unwrap_or(0);
        let first = self.scenes.get(scene).map_or(0, |(first, _)| *first);
        self.scenes.drain(..scene);
        for (start, _) in &mut self.scenes {
            *start -= first;
        }
        self.course.times_s.drain(..first);
        self.course.points.drain(..first);
        self.course.in_runs_m3.drain(..first);
        let passed = self.course.passed_m3.drain(..first).count();
        debug_assert_eq!(passed, first);
        let origin_s = self.course.times_s.first().copied().unwrap_or(0.0);
        for time_s in &mut self.course.times_s {
            *time_s -= origin_s;
        }
        self.told.retain(|told| told.time_s > began_s);
        for told in &mut self.told {
            told.time_s -= origin_s;
        }
        self.leaps.clear();
        if let Some((began, _)) = &mut self.round {
            *began = 0.0;
        }
    }
}
