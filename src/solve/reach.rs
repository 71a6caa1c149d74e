//! Limits on how far a step may take a link: closed links that open on the way, flows that overshoot.

use super::system::System;
use crate::network::{Link, Sense};

/// Growth factor of a flow in one step above which it is computed from the law.
const OVERSHOOT: f64 = 3.0;
/// How far past the opening level of a closed link a step may go, metres.
const JUST_BEYOND_M: f64 = 0.05;

/// The fraction of a step from `before` to `after` at which a closed link has just opened.
pub(super) fn share_before_opening(law: &Link, before: [f64; 2], after: [f64; 2]) -> f64 {
    let mut share = 1.0_f64;
    for sense in [Sense::Forward, Sense::Backward] {
        let over = |levels| over_opening(law, sense, levels);
        if let (Some(was), Some(is)) = (over(before), over(after))
            && is > JUST_BEYOND_M
        {
            share = share.min((JUST_BEYOND_M - was) / (is - was));
        }
    }
    share
}

/// Upstream level relative to that at which a closed link begins to pass water in this direction, metres;
/// negative while it is closed, none where it never opens.
fn over_opening(law: &Link, sense: Sense, levels: [f64; 2]) -> Option<f64> {
    match law {
        Link::Rim(rim) => (sense == Sense::Forward).then_some(levels[0] - rim.rim_m),
        Link::Run(run) => run.allows(sense).then(|| {
            let [upstream, downstream] = sense.along(levels);
            upstream - run.opens_at(sense, downstream)
        }),
    }
}

/// Flow of a run after a step: that of its linearisation, or that of its law at the new levels where the
/// linearisation overshoots by far. The loss at a trickle says little about the loss at a large flow.
#[inline]
pub(super) fn tamed(
    system: &System,
    index: usize,
    levels: impl FnOnce() -> [f64; 2],
    linear: f64,
    base: f64,
) -> f64 {
    if linear.abs() <= OVERSHOOT * base.abs() {
        return linear;
    }
    let levels = levels();
    let link = &system.links[index];
    let exact = if system.drowned.is(index) {
        system.drowned.about(index, link, levels)
    } else {
        exact(link.law, levels, base)
    };
    if exact * linear > 0.0 && exact.abs() < linear.abs() {
        exact
    } else {
        linear
    }
}

/// The flow of a link by its law, m³/s.
pub(super) fn exact(law: &Link, levels: [f64; 2], guess: f64) -> f64 {
    match law {
        Link::Rim(rim) => rim.flow(levels[0]).value,
        Link::Run(run) => run.flow(levels[0], levels[1], guess),
    }
}
