//! An upstand whose level swings between two: its weir, which lets air in, and its full pipe.

use super::seen::{Piped, Seen};
use super::tell::{finding, height, held_to, when};
use crate::finding::{Code, Finding, Severity};
use crate::units::Quantity;

pub(super) fn find(seen: &Seen<'_>) -> Vec<Finding> {
    seen.runs
        .iter()
        .filter_map(|run| of_run(seen, run))
        .collect()
}

fn of_run(seen: &Seen<'_>, run: &Piped<'_>) -> Option<Finding> {
    let (low_m, high_m) = run.here.surge_m?;
    let (id, vessel) = (&run.drawn.id, run.source());
    let text = vec![
        "The upstand of ".into(),
        id.into(),
        " surges".into(),
        when(seen.report.state).into(),
        ": the level of ".into(),
        vessel.into(),
        " swings between ".into(),
        height(low_m),
        ", where it draws full, and ".into(),
        height(high_m),
        ", where it gulps air.".into(),
    ];
    let found = finding(seen, (Code::Surges, Severity::Warning), &[vessel, id], text);
    Some(held_to(found, Quantity::Height, (high_m, low_m)))
}
