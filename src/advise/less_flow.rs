//! Cures a high level by less flow into the vessel.

use super::advice;
use super::bench::{Bench, level_of};
use super::search::least;
use super::spill::TooHigh;
use crate::finding::{Cure, Piece};
use crate::layout::{Id, Layout};
use crate::states::report::StateReport;
use crate::units::Quantity;

/// Tolerance of the search, as a share of pump speed and make-up.
const NEAR: f64 = 2e-3;
/// Largest reduction that counts as a cure, as a share of pump speed and make-up.
const MOST: f64 = 0.9;

/// Finds the largest flow at which the level is where it may be, by slowing all pumps and make-up together.
pub(super) fn less(bench: &Bench<'_>, high: &TooHigh<'_>) -> Option<Cure> {
    let id = &high.vessel.id;
    let now_m3_s = inflow(bench.report(high.found)?, id)?;
    let left = |share: f64| {
        let report = bench.preview(&slowed(bench.layout, 1.0 - share))?;
        Some(level_of(&report, id)? - high.goal_m)
    };
    let share = least(left, (0.1, MOST), NEAR)?;
    let slow = bench.preview(&slowed(bench.layout, 1.0 - share))?;
    let then_m3_s = inflow(&slow, id)?;
    let number = |value| Piece::Number(Quantity::Flow, value);
    (then_m3_s < now_m3_s).then(|| {
        advice(vec![
            "Send ".into(),
            id.into(),
            " at most ".into(),
            number(then_m3_s),
            " in place of ".into(),
            number(now_m3_s),
            ".".into(),
        ])
    })
}

fn inflow(report: &StateReport, vessel: &Id) -> Option<f64> {
    let mut vessels = report.vessels.iter();
    Some(vessels.find(|one| one.id == *vessel)?.inflow_m3_s)
}

/// Returns the layout with the speed of every pump, and the make-up of every vessel, multiplied by `share`.
fn slowed(layout: &Layout, share: f64) -> Layout {
    let mut slow = layout.clone();
    for pump in slow.runs.iter_mut().filter_map(|run| run.pump.as_mut()) {
        pump.speed *= share;
    }
    for vessel in &mut slow.vessels {
        vessel.make_up_m3_s *= share;
    }
    slow
}
