//! Reports a mouth whose vessel surges between two levels: one where it draws air, one where it draws full.

use super::state_view::{PipedRun, StateView};
use super::wording::{finding, height, volume, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Opening;
use crate::states::report::Surge;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    seen.runs
        .iter()
        .filter_map(|run| of_run(seen, run))
        .collect()
}

fn of_run(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Finding> {
    let surge = run.here.surge?;
    let (id, vessel) = (&run.drawn.id, run.source());
    let opening = [&run.drawn.from, &run.drawn.to].map(|end| (&end.at, &end.opening));
    let opening = opening.into_iter().find(|(at, _)| *at == vessel);
    let upstand = matches!(opening, Some((_, Some(Opening::Upstand { .. }))));
    let mut text = vec![
        if upstand {
            "The upstand of "
        } else {
            "The mouth of "
        }
        .into(),
        id.into(),
        " surges".into(),
        when(seen.report.state).into(),
        ": the level of ".into(),
        vessel.into(),
        " swings between ".into(),
        height(surge.low_m),
        ", where it draws full, and ".into(),
        height(surge.high_m),
        ", where it draws air.".into(),
    ];
    if surge.high_m - surge.likely_m > SAME_LEVEL_M {
        text.extend([
            " Most likely it stands at ".into(),
            height(surge.likely_m),
            ".".into(),
        ]);
    }
    text.extend(over_rim(seen, run, &surge));
    text.extend(gulp(run, &surge));
    let found = finding(seen, (Code::Surges, Severity::Warning), &[vessel, id], text);
    Some(with_limit(
        found,
        Quantity::Height,
        (surge.high_m, surge.low_m),
    ))
}

/// Levels closer than this are the same, metres. A choice.
const SAME_LEVEL_M: f64 = 0.005;

/// Returns a sentence where the rim is between the likely level and the highest.
fn over_rim(seen: &StateView<'_>, run: &PipedRun<'_>, surge: &Surge) -> Vec<Piece> {
    let Some(held) = seen.vessel(run.source()) else {
        return Vec::new();
    };
    let rim_m = held.here.rim_m;
    if !held.can_spill() || rim_m < surge.likely_m || rim_m >= surge.high_m {
        return Vec::new();
    }
    vec![
        " Its rim at ".into(),
        height(rim_m),
        " lies below the highest of these.".into(),
    ]
}

/// Returns a sentence where the vessel below has no room for one surge.
fn gulp(run: &PipedRun<'_>, surge: &Surge) -> Vec<Piece> {
    let Some(room_m3) = surge.room_m3.filter(|room_m3| *room_m3 < surge.gulp_m3) else {
        return Vec::new();
    };
    vec![
        " One surge is ".into(),
        volume(surge.gulp_m3),
        ", and ".into(),
        run.target().into(),
        " has room for ".into(),
        volume(room_m3.max(0.0)),
        ".".into(),
    ]
}
