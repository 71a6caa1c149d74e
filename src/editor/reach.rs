//! How far a crest can be dragged, and what it can snap to.

use crate::draw::section::Pick;
use crate::layout::{Layout, Opening, RunEnd};

/// How far above the rim a crest can be dragged, metres: far enough to see that it is wrong.
const OVER_RIM_M: f64 = 0.3;
/// How far a height without a rim can be dragged up and down, metres.
const FAR_M: f64 = 5.0;

/// The height of a picked crest, metres; none where it has none.
pub fn crest_m(layout: &Layout, pick: &Pick) -> Option<f64> {
    let Pick::Crest { run, end } = pick else {
        return None;
    };
    let end = layout.run(run)?.end(*end);
    end.opening.as_ref().and_then(Opening::crest_m)
}

/// Distance of a picked crest above the floor of its vessel and below the rim, metres; none outside a vessel.
pub fn margins_m(layout: &Layout, pick: &Pick) -> Option<(f64, f64)> {
    let Pick::Crest { run, end } = pick else {
        return None;
    };
    let height_m = crest_m(layout, pick)?;
    let vessel = layout.vessel(&layout.run(run)?.end(*end).at)?;
    Some((height_m - vessel.floor_m, vessel.rim_m - height_m))
}

/// Least and greatest height to which a crest can be dragged, metres.
pub fn range_m(layout: &Layout, pick: &Pick) -> Option<(f64, f64)> {
    let Pick::Crest { run, end } = pick else {
        return None;
    };
    let end = layout.run(run)?.end(*end);
    let now = end.opening.as_ref().and_then(Opening::crest_m)?;
    Some(match layout.vessel(&end.at) {
        Some(vessel) => (
            vessel.floor_m.min(now),
            (vessel.rim_m + OVER_RIM_M).max(now),
        ),
        None => (now - FAR_M, now + FAR_M),
    })
}

/// Snapping heights of a crest: the other openings of its vessel, and its rim.
pub fn candidates_m(layout: &Layout, pick: &Pick) -> Vec<f64> {
    let Pick::Crest { run, end } = pick else {
        return Vec::new();
    };
    let Some(at) = layout.run(run).map(|run| &run.end(*end).at) else {
        return Vec::new();
    };
    let mut found: Vec<f64> = layout
        .vessel(at)
        .map(|vessel| vessel.rim_m)
        .into_iter()
        .collect();
    for other in &layout.runs {
        for which in RunEnd::BOTH {
            let itself = other.id == *run && which == *end;
            let place = other.end(which);
            if place.at == *at && !itself {
                found.extend(place.opening.as_ref().and_then(Opening::crest_m));
            }
        }
    }
    found
}
