//! Destinations of spills: what cannot get there is lost, with a finding.

use super::SAME_HEIGHT_M;
use super::findings;
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::{Id, Layout, Vessel};
use crate::units::Quantity;
use std::collections::{HashMap, HashSet};

/// The vessels whose spill cannot reach its stated receiver: it would climb, or circulate.
///
/// Computed as drawn, such a spill would make water rise by itself, or circulate without end.
pub(super) fn astray(layout: &Layout) -> HashSet<&Id> {
    let rings = rings(layout).into_iter().flatten();
    let climbing = climbing(layout).map(|climb| &climb.from.id);
    rings.chain(climbing).collect()
}

/// The findings on them.
pub(super) fn findings(layout: &Layout, out: &mut Vec<Finding>) {
    let rings = rings(layout);
    let in_ring: HashSet<&Id> = rings.iter().flatten().copied().collect();
    out.extend(rings.iter().map(|ring| of_ring(ring)));
    let climbing = climbing(layout).filter(|climb| !in_ring.contains(&climb.from.id));
    out.extend(climbing.map(|climb| of_climb(&climb)));
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
    what: &'static str,
}

fn climbing(layout: &Layout) -> impl Iterator<Item = Climb<'_>> {
    let rims = layout.vessels.iter().map(|one| (&one.id, one.rim_m, "rim"));
    let levels = layout
        .fixed
        .iter()
        .map(|one| (&one.id, one.level_m, "level"));
    let heights: HashMap<&Id, (f64, &str)> = rims
        .chain(levels)
        .map(|(id, height_m, what)| (id, (height_m, what)))
        .collect();
    layout.vessels.iter().filter_map(move |from| {
        let to = from.spills_to.as_ref()?;
        let (height_m, what) = *heights.get(to)?;
        (height_m > from.rim_m + SAME_HEIGHT_M).then_some(Climb {
            from,
            to,
            height_m,
            what,
        })
    })
}

fn of_ring(ring: &[&Id]) -> Finding {
    let mut text: Vec<Piece> = Vec::new();
    if ring.len() == 2 {
        text.extend(listed(ring));
        text.push(" name each other for their spill.".into());
    } else {
        text.push("The spills of ".into());
        text.extend(listed(ring));
        text.push(" lead round in a ring.".into());
    }
    text.push(" Spilled water would circulate without end, so it counts as lost.".into());
    let mut found = findings::finding((Code::SpillsInARing, Severity::Problem), ring, text);
    let first = ring.first().map(|id| Piece::from(*id));
    let mut cure: Vec<Piece> = vec!["Let ".into()];
    cure.extend(first);
    cure.push(" spill to something lower, or to nothing.".into());
    found.cures.push(findings::advice(cure));
    found
}

/// `a and b`, `a, b and c`.
fn listed(ids: &[&Id]) -> Vec<Piece> {
    let mut text = Vec::new();
    for (place, id) in ids.iter().enumerate() {
        match place {
            0 => {}
            _ if place + 1 == ids.len() => text.push(" and ".into()),
            _ => text.push(", ".into()),
        }
        text.push((*id).into());
    }
    text
}

fn of_climb(climb: &Climb<'_>) -> Finding {
    let from = &climb.from.id;
    let text = vec![
        from.into(),
        " cannot spill to ".into(),
        climb.to.into(),
        format!(": the {} of ", climb.what).into(),
        climb.to.into(),
        " stands ".into(),
        Piece::Number(Quantity::Height, climb.height_m - climb.from.rim_m),
        " above the rim of ".into(),
        from.into(),
        ". What spills counts as lost.".into(),
    ];
    let about = [from, climb.to];
    let mut found = findings::finding((Code::SpillsUphill, Severity::Problem), &about, text);
    found.measured = Some(climb.height_m).filter(|value| value.is_finite());
    found.limit = Some(climb.from.rim_m).filter(|value| value.is_finite());
    found.quantity = Quantity::Height;
    let cure = vec![
        "Let ".into(),
        from.into(),
        " spill to something lower, or to nothing.".into(),
    ];
    found.cures.push(findings::advice(cure));
    found
}
