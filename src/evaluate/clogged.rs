//! The layout with its siphon breaks clogged, one at a time.

use super::both;
use crate::catalogue::Catalogue;
use crate::layout::Layout;
use crate::lower::{Age, Walls};
use crate::states::PumpsOnAndOff;

/// For every run with a siphon break its index, and the layout lowered without its hole, walls as built.
pub(super) fn all(layout: &Layout, catalogue: &Catalogue) -> Vec<(usize, PumpsOnAndOff)> {
    let runs = layout.runs.iter().enumerate();
    let with_hole = runs.filter(|(_, run)| run.siphon_break.is_some());
    with_hole
        .map(|(place, _)| {
            let mut clogged = layout.clone();
            if let Some(run) = clogged.runs.get_mut(place) {
                run.siphon_break = None;
            }
            let built = both(&clogged, catalogue, Walls::AsBuilt, Age::New);
            (place, built)
        })
        .collect()
}
