//! Reports an end of a run that was drawn as under water and is above it.

use super::state_view::{SAME_HEIGHT_M, StateView};
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::layout::Opening;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for run in &seen.runs {
        for end in [&run.drawn.from, &run.drawn.to] {
            let Some(Opening::Submerged {
                lip_m: Some(lip_m), ..
            }) = end.opening
            else {
                continue;
            };
            let held = seen.vessel(&end.at);
            let level_m = match held {
                Some(held) => held.low_m(),
                None => seen.head_m(&end.at),
            };
            let Some(level_m) = level_m.filter(|level_m| *level_m < lip_m - SAME_HEIGHT_M) else {
                continue;
            };
            let text = vec![
                "The end of ".into(),
                (&run.drawn.id).into(),
                " in ".into(),
                (&end.at).into(),
                " was drawn as under water, but is above it".into(),
                when(seen.report.state).into(),
                ": it is at ".into(),
                height(lip_m),
                " and the level at ".into(),
                height(level_m),
                ". Air comes in there, and nothing can be drawn.".into(),
            ];
            let kind = (Code::MouthOverWater, Severity::Warning);
            let one = finding(seen, kind, &[&run.drawn.id, &end.at], text);
            found.push(with_limit(one, Quantity::Height, (level_m, lip_m)));
        }
    }
    found
}
