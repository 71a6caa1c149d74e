//! Parts that water can reach from joint to joint, with no free surface between.

use super::state_view::{PipedRun, StateView};
use crate::layout::{Direction, Id};
use std::collections::HashSet;

/// Direction of a search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SearchDirection {
    /// To where water can flow from a part.
    Onward,
    /// To where water can come from.
    Back,
}

/// Result of a search.
#[derive(Default)]
pub(super) struct PartsReached<'a> {
    /// The parts reached, the first one included. The search does not go on beyond a vessel or a fixed level.
    pub parts: HashSet<&'a Id>,
    /// Runs with a shut valve, in the order in which they were met.
    pub shut: Vec<&'a Id>,
}

/// Searches from `start` along the runs, leaving out those in `without`.
pub(super) fn reach<'a>(
    seen: &StateView<'a>,
    start: &'a Id,
    search: SearchDirection,
    without: &[&Id],
) -> PartsReached<'a> {
    let mut found = PartsReached::default();
    let mut next = vec![start];
    while let Some(part) = next.pop() {
        if !found.parts.insert(part) || !is_joint(seen, part) {
            continue;
        }
        for run in seen.meeting(part) {
            if without.contains(&&run.drawn.id) {
                continue;
            }
            if run.has_shut_valve() {
                if !found.shut.contains(&&run.drawn.id) {
                    found.shut.push(&run.drawn.id);
                }
                continue;
            }
            let leads = [0, 1].into_iter().filter(|&end| *run.end(end) == *part);
            let open = leads.filter(|&end| lets(run, end, search));
            next.extend(open.map(|end| run.end(1 - end)));
        }
    }
    found
}

/// Returns whether a search can pass from one end of a run to the other: only the way that its check valve passes
/// water, and that a running pump pushes.
fn lets(run: &PipedRun<'_>, end: usize, search: SearchDirection) -> bool {
    let water_goes = match (end, search) {
        (0, SearchDirection::Onward) | (1, SearchDirection::Back) => Direction::Forward,
        _ => Direction::Backward,
    };
    let pump = run.drawn.pump.as_ref().filter(|_| run.facts.pump_on);
    let pushed = pump.is_none_or(|pump| pump.pushes == water_goes);
    pushed && run.facts.one_way.is_none_or(|only| only == water_goes)
}

/// Returns whether a part is a joint, where runs meet with no free surface.
pub(super) fn is_joint(seen: &StateView<'_>, part: &Id) -> bool {
    seen.layout.joints.iter().any(|joint| joint.id == *part)
}
