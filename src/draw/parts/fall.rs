//! Order of parts by the fall of water, for parts without a place on the drawings.

use crate::layout::{Id, Layout};
use std::collections::HashMap;

/// A part that takes room on the page, by its index in its list of the layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(in crate::draw) enum StandingPart {
    Vessel(usize),
    Fixed(usize),
    Joint(usize),
}

/// Returns all such parts of a layout; a part comes before those that it drains to.
pub(in crate::draw) fn in_order(layout: &Layout) -> Vec<StandingPart> {
    let things: Vec<(&Id, StandingPart, f64)> = things(layout);
    let index: HashMap<&Id, usize> = things
        .iter()
        .enumerate()
        .map(|(index, (id, ..))| (*id, index))
        .collect();
    let (falls, mut waits) = falls(layout, &index);
    let order = order(&things, &falls, &mut waits).into_iter();
    order
        .filter_map(|place| things.get(place).map(|(_, thing, _)| *thing))
        .collect()
}

/// Returns, for each part, the parts that it drains to and the number of runs that drain to it.
fn falls(layout: &Layout, index: &HashMap<&Id, usize>) -> (Vec<Vec<usize>>, Vec<usize>) {
    let mut falls: Vec<Vec<usize>> = vec![Vec::new(); index.len()];
    let mut waits = vec![0usize; index.len()];
    for run in layout.runs.iter().filter(|run| run.pump.is_none()) {
        if let (Some(&from), Some(&to)) = (index.get(&run.from.at), index.get(&run.to.at))
            && from != to
        {
            falls[from].push(to);
            waits[to] += 1;
        }
    }
    (falls, waits)
}

fn things(layout: &Layout) -> Vec<(&Id, StandingPart, f64)> {
    let vessels = layout.vessels.iter().enumerate();
    let vessels = vessels.map(|(i, part)| (&part.id, StandingPart::Vessel(i), part.floor_m));
    let fixed = layout.fixed.iter().enumerate();
    let fixed = fixed.map(|(i, part)| (&part.id, StandingPart::Fixed(i), part.level_m));
    let joints = layout.joints.iter().enumerate();
    let joints = joints.map(|(i, part)| (&part.id, StandingPart::Joint(i), part.elevation_m));
    vessels.chain(fixed).chain(joints).collect()
}

/// Sorts the parts topologically; a cycle is broken at its highest part.
fn order(
    things: &[(&Id, StandingPart, f64)],
    falls: &[Vec<usize>],
    waits: &mut [usize],
) -> Vec<usize> {
    let height = |index: &usize| things.get(*index).map_or(0.0, |thing| thing.2);
    let mut left: Vec<usize> = (0..things.len()).collect();
    // Lowest first, since the highest is popped from the end; of equal heights, the one drawn first.
    let lower = |a: &usize, b: &usize| height(a).total_cmp(&height(b)).then(b.cmp(a));
    left.sort_by(lower);
    let mut ready: Vec<usize> = left.iter().copied().filter(|&i| waits[i] == 0).collect();
    let mut done = vec![false; things.len()];
    let mut order = Vec::with_capacity(things.len());
    while order.len() < things.len() {
        let next = ready.pop().filter(|&index| !done[index]).or_else(|| {
            if !ready.is_empty() {
                return None;
            }
            while left.last().is_some_and(|&index| done[index]) {
                left.pop();
            }
            left.last().copied()
        });
        let Some(next) = next else { continue };
        done[next] = true;
        order.push(next);
        let mut freed: Vec<usize> = Vec::new();
        for &to in &falls[next] {
            waits[to] = waits[to].saturating_sub(1);
            if waits[to] == 0 && !done[to] && !freed.contains(&to) {
                freed.push(to);
            }
        }
        freed.sort_by(lower);
        ready.extend(freed);
    }
    order
}
