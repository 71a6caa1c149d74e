//! Cures a high level by a higher rim.

use super::bench::Bench;
use super::spill::TooHigh;
use super::step::up;
use crate::finding::{Change, Cure, Piece, Sentence};
use crate::layout::VesselField;
use crate::units::Quantity;

/// Raises the rim by what is missing; none where the vessel is already built, or where that does not cure the finding.
pub(super) fn higher(bench: &Bench<'_>, high: &TooHigh<'_>) -> Option<Cure> {
    let vessel = high.vessel;
    if vessel.already_built {
        return None;
    }
    let missing_m = high.level_m - high.goal_m;
    let to = up(vessel.rim_m + missing_m, bench.layout.units);
    let changes = vec![Change {
        part: vessel.id.clone(),
        field: VesselField::Rim.into(),
        from: vessel.rim_m,
        to,
        quantity: Quantity::Height,
    }];
    let solved = bench.solve(&changes)?;
    if !bench.cures(&solved, high.found) {
        return None;
    }
    let text = vec![
        "Raise the rim of ".into(),
        (&vessel.id).into(),
        " from ".into(),
        Piece::Number(Quantity::Height, vessel.rim_m),
        " to ".into(),
        Piece::Number(Quantity::Height, to),
        ".".into(),
    ];
    Some(Cure {
        text: Sentence(text),
        changes,
    })
}
