//! Runs that meet at joints: one chain between free surfaces, pumped or not, with one state of its air.

use super::SAME_HEIGHT_M;
use super::pipe::Bore;
use super::pump::Drive;
use super::{LoweringContext, valves};
use crate::layout::{Id, Layout, Opening, Run, RunEnd};
use crate::network::Check;
use std::collections::{HashMap, HashSet};

/// The chains of a layout.
pub(super) struct Chains<'a> {
    /// The chain of every run, in the order of the layout.
    of_run: Vec<usize>,
    /// By chain: whether a running pump pushes its water.
    pumped: Vec<bool>,
    /// Inverts of every run from `from` to `to`, metres.
    inverts_m: Vec<Vec<f64>>,
    /// The runs at every joint, each with the end that is there.
    at_joint: HashMap<&'a Id, Vec<(usize, RunEnd)>>,
}

/// What lies beyond an end of a run at a joint.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Beyond {
    /// Some other run rises from there.
    pub rises: bool,
    /// Some other run falls from there.
    pub falls: bool,
    /// Lowest invert of those that fall, metres.
    pub lowest_m: f64,
}

impl Beyond {
    /// The joint is a local maximum of the invert, as seen from the run that falls from it.
    pub fn is_high(&self) -> bool {
        self.falls && !self.rises
    }

    /// The joint is a local minimum of the invert, as seen from the run that falls to it.
    pub fn is_low(&self) -> bool {
        self.rises && !self.falls
    }
}

impl<'a> Chains<'a> {
    /// The chains of the layout of `context`. A shut run separates them. `pipes`: pipe and pump of every run.
    pub fn new(context: &LoweringContext<'a>, pipes: &[(Bore, Drive)]) -> Chains<'a> {
        let layout = context.layout;
        let mut at_joint: HashMap<&Id, Vec<(usize, RunEnd)>> = HashMap::new();
        for joint in &layout.joints {
            at_joint.insert(&joint.id, Vec::new());
        }
        let open = |run: &Run| valves::check(context, run) != Check::Shut;
        for (index, run) in layout.runs.iter().enumerate().filter(|(_, run)| open(run)) {
            for end in RunEnd::BOTH {
                if let Some(runs) = at_joint.get_mut(&run.end(end).at) {
                    runs.push((index, end));
                }
            }
        }
        let of_run = parted(layout, &at_joint);
        let mut pumped = vec![false; layout.runs.len()];
        let mut inverts_m = Vec::with_capacity(layout.runs.len());
        for ((run, chain), (bore, drive)) in layout.runs.iter().zip(&of_run).zip(pipes) {
            pumped[*chain] |= drive.on;
            inverts_m.push(inverts(layout, run, bore.new_m));
        }
        Chains {
            of_run,
            pumped,
            inverts_m,
            at_joint,
        }
    }

    /// The chain that a run is part of: the same number for all runs of one.
    pub fn of(&self, run: usize) -> usize {
        self.of_run.get(run).copied().unwrap_or(run)
    }

    /// Whether a running pump pushes the water of a run, itself or through joints.
    pub fn is_pumped(&self, run: usize) -> bool {
        self.pumped.get(self.of(run)).copied().unwrap_or(false)
    }

    /// How the other runs continue from the joint at an end of a run; empty where it ends at no joint. A level reach
    /// counts as part of the joint that it leads to.
    pub fn beyond(&self, layout: &'a Layout, run: usize, end: RunEnd) -> Beyond {
        let mut beyond = Beyond {
            lowest_m: f64::INFINITY,
            ..Beyond::default()
        };
        let Some(start) = layout.runs.get(run).map(|run| &run.end(end).at) else {
            return beyond;
        };
        let mut seen = HashSet::from([run]);
        let mut open = vec![start];
        while let Some(joint) = open.pop() {
            for &(next, at) in self.at_joint.get(joint).into_iter().flatten() {
                if !seen.insert(next) {
                    continue;
                }
                match self.first_turn(next, at) {
                    Turn::Up => beyond.rises = true,
                    Turn::Down(lowest_m) => {
                        beyond.falls = true;
                        beyond.lowest_m = beyond.lowest_m.min(lowest_m);
                    }
                    Turn::Level => {
                        let there = layout.runs.get(next).map(|run| &run.end(at.other()).at);
                        open.extend(there);
                    }
                }
            }
        }
        beyond
    }

    /// The first rise or fall of the pipe of a run, away from an end.
    fn first_turn(&self, run: usize, end: RunEnd) -> Turn {
        let Some(inverts_m) = self.inverts_m.get(run) else {
            return Turn::Level;
        };
        let mut away: Vec<f64> = inverts_m.clone();
        if end == RunEnd::To {
            away.reverse();
        }
        let Some(&start_m) = away.first() else {
            return Turn::Level;
        };
        let mut turned = away
            .iter()
            .skip_while(|z_m| (*z_m - start_m).abs() <= SAME_HEIGHT_M);
        match turned.next() {
            None => Turn::Level,
            Some(next_m) if *next_m > start_m => Turn::Up,
            Some(next_m) => {
                let falling = turned.scan(*next_m, |before_m, z_m| {
                    let falls = *z_m <= *before_m + SAME_HEIGHT_M;
                    *before_m = *z_m;
                    falls.then_some(*z_m)
                });
                Turn::Down(falling.fold(*next_m, f64::min))
            }
        }
    }
}

enum Turn {
    Up,
    /// To this invert, metres.
    Down(f64),
    Level,
}

/// The chain of every run: the smallest index of the runs that it meets through joints.
fn parted(layout: &Layout, at_joint: &HashMap<&Id, Vec<(usize, RunEnd)>>) -> Vec<usize> {
    let mut chain: Vec<Option<usize>> = vec![None; layout.runs.len()];
    for first in 0..layout.runs.len() {
        if chain[first].is_some() {
            continue;
        }
        let mut open = vec![first];
        while let Some(run) = open.pop() {
            if chain[run].replace(first).is_some() {
                continue;
            }
            let ends = layout.runs.get(run).into_iter();
            let joints = ends.flat_map(|run| RunEnd::BOTH.map(|end| &run.end(end).at));
            let beside = joints.filter_map(|joint| at_joint.get(joint));
            let met = |runs: &Vec<(usize, RunEnd)>| runs.iter().any(|(one, _)| *one == run);
            let beside = beside.filter(|runs| met(runs)).flatten();
            open.extend(
                beside
                    .map(|(next, _)| *next)
                    .filter(|next| chain[*next].is_none()),
            );
        }
    }
    let known = chain.into_iter().enumerate();
    known.map(|(run, chain)| chain.unwrap_or(run)).collect()
}

/// Inverts of a run from `from` to `to`, metres; at a joint that of its pipe, because the height of a joint is that of
/// the centre.
fn inverts(layout: &Layout, run: &Run, bore_m: f64) -> Vec<f64> {
    let mut inverts_m: Vec<f64> = layout.corners_of(run).iter().map(|at| at.z_m).collect();
    let last = inverts_m.len().saturating_sub(1);
    for (end, place, next) in [
        (RunEnd::From, 0, 1),
        (RunEnd::To, last, last.wrapping_sub(1)),
    ] {
        let is_joint = layout
            .joints
            .iter()
            .any(|joint| joint.id == run.end(end).at);
        let is_open = matches!(
            run.end(end).opening,
            Some(Opening::Submerged { lip_m: None, .. })
        );
        let beside_m = inverts_m.get(next).copied();
        if let Some(z_m) = inverts_m.get_mut(place) {
            if is_joint {
                *z_m -= 0.5 * bore_m;
            } else if let Some(beside_m) = beside_m.filter(|_| is_open && !run.route.is_empty()) {
                *z_m = beside_m;
            }
        }
    }
    inverts_m
}
