//! Reports an air gap whose mouth is under water.

use super::state_view::{SAME_HEIGHT_M, StateView};
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::layout::Opening;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let ends = seen
        .layout
        .runs
        .iter()
        .flat_map(|run| [(run, &run.from), (run, &run.to)]);
    let mut found = Vec::new();
    for (run, end) in ends {
        let Some(Opening::Mouth {
            lip_m,
            air_gap: true,
            ..
        }) = end.opening
        else {
            continue;
        };
        let Some(level_m) = seen
            .head_m(&end.at)
            .filter(|level_m| *level_m > lip_m + SAME_HEIGHT_M)
        else {
            continue;
        };
        let text = vec![
            "The air gap of ".into(),
            (&run.id).into(),
            " in ".into(),
            (&end.at).into(),
            " is under water".into(),
            when(seen.report.state).into(),
            ": its mouth is at ".into(),
            height(lip_m),
            " and the level at ".into(),
            height(level_m),
            ". Where drinking water feeds it, dirty water can be drawn back: local code decides what must keep them apart.".into(),
        ];
        let kind = (Code::AirGapDrowned, Severity::Problem);
        let one = finding(seen, kind, &[&end.at, &run.id], text);
        found.push(with_limit(one, Quantity::Height, (level_m, lip_m)));
    }
    found
}
