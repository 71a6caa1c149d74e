//! Reports a velocity over its limit, or too low to carry solids.

use super::state_view::{PipedRun, StateView, over, under};
use super::wording::{finding, velocity, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let flowing = || seen.runs.iter().filter(|run| run.flows());
    let fast = flowing().filter_map(|run| too_fast(seen, run));
    let slow = flowing().filter_map(|run| too_slow(seen, run));
    fast.chain(slow).collect()
}

fn too_fast(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Finding> {
    let limits = &seen.layout.limits;
    let (limit_m_s, words) = if run.pumped {
        (
            limits.pumped_velocity_m_s,
            "; the limit for a pumped pipe is ",
        )
    } else {
        (
            limits.gravity_velocity_m_s,
            "; the limit for a gravity pipe is ",
        )
    };
    let speed_m_s = run.here.velocity_m_s.abs();
    if !over(speed_m_s, limit_m_s) {
        return None;
    }
    let id = &run.drawn.id;
    let text = vec![
        "Water in ".into(),
        id.into(),
        " moves at ".into(),
        velocity(speed_m_s),
        words.into(),
        velocity(limit_m_s),
        ".".into(),
    ];
    let found = finding(seen, (Code::TooFast, Severity::Warning), &[id], text);
    Some(with_limit(
        found,
        Quantity::Velocity,
        (speed_m_s, limit_m_s),
    ))
}

fn too_slow(seen: &StateView<'_>, run: &PipedRun<'_>) -> Option<Finding> {
    let limit_m_s = seen.layout.limits.solids_velocity_m_s;
    let speed_m_s = run.here.velocity_m_s.abs();
    let watched = run.drawn.carries_solids && !run.pumped;
    if !watched || !under(speed_m_s, limit_m_s) {
        return None;
    }
    let id = &run.drawn.id;
    let text = vec![
        "Water in ".into(),
        id.into(),
        " moves at ".into(),
        velocity(speed_m_s),
        ", too slowly to carry solids; the limit is ".into(),
        velocity(limit_m_s),
        ".".into(),
    ];
    let found = finding(seen, (Code::TooSlow, Severity::Warning), &[id], text);
    Some(with_limit(
        found,
        Quantity::Velocity,
        (speed_m_s, limit_m_s),
    ))
}
