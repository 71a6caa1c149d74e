//! Runs that fill: the water that would leave them stays inside until they are full.
//!
//! Their flows are those of full runs all the same; only the vessel at the far end does not receive the water yet.

use super::system::System;
use std::cell::Cell;

/// Tolerance on the end of a fill, as a fraction of its volume; it keeps the volume that it took.
const CLOSE: f64 = 1e-5;
/// The same in m³, where that is more: a millilitre.
const CLOSE_M3: f64 = 1e-6;

/// Runs that fill together: water that would leave at one of the ends stays in them.
#[derive(Clone, Debug, PartialEq)]
pub struct LineFill {
    /// Links, and the end at which nothing leaves yet: 0 the source, 1 the target.
    pub ends: Vec<(usize, usize)>,
    /// Remaining volume to fill, m³.
    pub left_m3: f64,
}

/// The ends of a link that retain the water arriving there: one bit each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct RetainedEnds(u8);

impl RetainedEnds {
    /// Whether water that flows this way stays in the run at that end: 0 the source, 1 the target.
    #[inline]
    pub fn at(self, end: usize, flow: f64) -> bool {
        self.0 != 0 && (self.0 >> end) & 1 == 1 && (flow > 0.0) == (end == 1) && flow != 0.0
    }
}

/// The fills of a system, and which link ends they keep closed.
#[derive(Default)]
pub(super) struct LineFills {
    fills: Vec<LineFill>,
    keeps: Vec<Cell<RetainedEnds>>,
}

impl LineFills {
    pub fn new(fills: Vec<LineFill>, links: usize) -> LineFills {
        if fills.is_empty() {
            return LineFills::default();
        }
        // A simulation closes the ends as it begins.
        let keeps = vec![Cell::default(); links];
        LineFills { fills, keeps }
    }

    /// What the ends of a link retain.
    #[inline]
    pub fn of(&self, link: usize) -> RetainedEnds {
        self.keeps
            .get(link)
            .map_or(RetainedEnds::default(), Cell::get)
    }

    fn set(&self, fill: &LineFill, shut: bool) {
        for &(link, end) in &fill.ends {
            if let Some(keeps) = self.keeps.get(link) {
                let RetainedEnds(bits) = keeps.get();
                let bit = 1 << end;
                keeps.set(RetainedEnds(if shut { bits | bit } else { bits & !bit }));
            }
        }
    }
}

impl System<'_> {
    /// The runs that fill.
    pub(super) fn fills(&self) -> &[LineFill] {
        &self.line_fills.fills
    }

    /// Rate at which each fill takes up water at these flows, m³/s.
    pub(super) fn taken_m3_s<'a>(&'a self, flow_m3_s: &'a [f64]) -> impl Iterator<Item = f64> + 'a {
        self.fills().iter().map(|fill| {
            let arrives = |&(link, end): &(usize, usize)| {
                let flow = flow_m3_s.get(link).copied().unwrap_or(0.0);
                if end == 1 { flow } else { -flow }.max(0.0)
            };
            fill.ends.iter().map(arrives).sum()
        })
    }
}

/// Progress of the fills of a simulation.
pub(super) struct Filling {
    /// Volume that each fill has taken up, m³.
    pub taken_m3: Vec<f64>,
    open: Vec<bool>,
}

impl Filling {
    /// The start of all fills.
    pub fn begin(system: &System) -> Filling {
        for fill in system.fills() {
            system.line_fills.set(fill, true);
        }
        Filling {
            taken_m3: vec![0.0; system.fills().len()],
            open: vec![true; system.fills().len()],
        }
    }

    /// Whether some run still fills.
    pub fn goes_on(&self) -> bool {
        self.open.contains(&true)
    }

    /// The fraction of a step, in which the fills take up `step_m3`, that the first to be full allows; none where the
    /// whole step is allowed.
    pub fn share_of_step(&self, system: &System, step_m3: &[f64]) -> Option<f64> {
        let mut least: Option<f64> = None;
        for (index, more_m3) in step_m3.iter().enumerate() {
            let left_m3 = self.left_m3(system, index);
            if self.open[index] && *more_m3 > left_m3 + close_m3(&system.fills()[index]) {
                let share = left_m3 / more_m3;
                least = Some(least.map_or(share, |least| least.min(share)));
            }
        }
        least
    }

    /// Records a step, and opens the ends of the fills that are now complete.
    pub fn take(&mut self, system: &System, step_m3: &[f64]) {
        for (index, more_m3) in step_m3.iter().enumerate() {
            if !self.open[index] {
                continue;
            }
            self.taken_m3[index] += more_m3;
            let fill = &system.fills()[index];
            if self.left_m3(system, index) <= close_m3(fill) {
                self.open[index] = false;
                system.line_fills.set(fill, false);
            }
        }
    }

    fn left_m3(&self, system: &System, index: usize) -> f64 {
        system.fills()[index].left_m3 - self.taken_m3[index]
    }
}

fn close_m3(fill: &LineFill) -> f64 {
    (CLOSE * fill.left_m3).max(CLOSE_M3)
}
