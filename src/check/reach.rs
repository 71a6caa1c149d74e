//! Ways that water can take from joint to joint, with no free surface between.

use super::state_view::{PipedRun, StateView};
use crate::layout::{Direction, Id};
use std::collections::HashSet;

/// Which way a search goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SearchDirection {
    /// To where water can go from a part.
    Onward,
    /// To where water can come from.
    Back,
}

/// What a search came to.
#[derive(Default)]
pub(super) struct PartsReached<'a> {
    /// The parts, the one it began at among them. A vessel or a fixed level is the end of a way.
    pub parts: HashSet<&'a Id>,
    /// Runs that a shut valve closes, in the order in which they were met.
    pub shut: Vec<&'a Id>,
}

/// Where runs lead from `start`, but for those `without` which it is asked.
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

/// Whether a search that stands at one end of a run may go on to the other: as far as its check valve lets water, and
/// through a running pump the way that it pushes.
fn lets(run: &PipedRun<'_>, end: usize, search: SearchDirection) -> bool {
    let water_goes = match (end, search) {
        (0, SearchDirection::Onward) | (1, SearchDirection::Back) => Direction::Forward,
        _ => Direction::Backward,
    };
    let pump = run.drawn.pump.as_ref().filter(|_| run.facts.pump_on);
    let pushed = pump.is_none_or(|pump| pump.pushes == water_goes);
    pushed && run.facts.one_way.is_none_or(|only| only == water_goes)
}

/// Runs meet there with no free surface.
pub(super) fn is_joint(seen: &StateView<'_>, part: &Id) -> bool {
    seen.layout.joints.iter().any(|joint| joint.id == *part)
}
