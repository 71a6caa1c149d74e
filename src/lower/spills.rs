//! Destinations of spills: what cannot get there is lost, and a problem of the drawing.

use super::SAME_HEIGHT_M;
use super::problem::{Problem, SpillTarget, SpillUphill};
use crate::layout::{Id, Layout, Vessel};
use std::collections::{HashMap, HashSet};

/// The vessels whose spill cannot reach its stated receiver: it would climb, or circulate.
///
/// Computed as drawn, such a spill would make water rise by itself, or circulate without end.
pub(super) fn astray(layout: &Layout) -> HashSet<&Id> {
    let rings = rings(layout).into_iter().flatten();
    let climbing = climbing(layout).map(|climb| &climb.from.id);
    rings.chain(climbing).collect()
}

/// The problems with them.
pub(super) fn problems(layout: &Layout, out: &mut Vec<Problem>) {
    let rings = rings(layout);
    let in_ring: HashSet<&Id> = rings.iter().flatten().copied().collect();
    let ids = |ring: &Vec<&Id>| ring.iter().map(|id| (*id).clone()).collect();
    out.extend(rings.iter().map(|ring| Problem::SpillRing(ids(ring))));
    let climbing = climbing(layout).filter(|climb| !in_ring.contains(&climb.from.id));
    out.extend(climbing.map(|climb| {
        Problem::SpillUphill(SpillUphill {
            from: climb.from.id.clone(),
            rim_m: climb.from.rim_m,
            to: climb.to.clone(),
            height_m: climb.height_m,
            target: climb.target,
        })
    }));
}

/// Cycles of vessels that spill into each other, each from its first vessel in the layout on.
fn rings(layout: &Layout) -> Vec<Vec<&Id>> {
    let next: HashMap<&Id, &Id> = layout
        .vessels
        .iter()
        .filter_map(|vessel| Some((&vessel.id, vessel.spills_to.as_ref()?)))
        .collect();
    let mut seen: HashSet<&Id> = HashSet::new();
    let mut rings = Vec::new();
    for vessel in &layout.vessels {
        let mut way: Vec<&Id> = Vec::new();
        let mut at = Some(&vessel.id);
        while let Some(id) = at.filter(|id| seen.insert(id)) {
            way.push(id);
            at = next.get(id).copied();
        }
        // The cycle closed on itself, and not on a path that was visited before.
        if let Some(first) = at.and_then(|id| way.iter().position(|one| *one == id)) {
            rings.push(way.split_off(first));
        }
    }
    rings.retain(|ring| ring.len() > 1);
    rings
}

/// A spill that leads to something higher.
struct Climb<'a> {
    from: &'a Vessel,
    to: &'a Id,
    /// The height it would have to climb to, metres: a rim, or a fixed level.
    height_m: f64,
    target: SpillTarget,
}

fn climbing(layout: &Layout) -> impl Iterator<Item = Climb<'_>> {
    let rims = layout.vessels.iter();
    let rims = rims.map(|one| (&one.id, (one.rim_m, SpillTarget::Rim)));
    let levels = layout.fixed.iter();
    let levels = levels.map(|one| (&one.id, (one.level_m, SpillTarget::Level)));
    let heights: HashMap<&Id, (f64, SpillTarget)> = rims.chain(levels).collect();
    layout.vessels.iter().filter_map(move |from| {
        let to = from.spills_to.as_ref()?;
        let (height_m, target) = *heights.get(to)?;
        (height_m > from.rim_m + SAME_HEIGHT_M).then_some(Climb {
            from,
            to,
            height_m,
            target,
        })
    })
}
