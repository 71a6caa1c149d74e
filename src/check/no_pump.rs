//! Reports once, and not for every run, that nothing flows because there is no pump and no water comes in.

use super::state_view::StateView;
use super::wording::finding;
use crate::finding::{Code, Finding, Severity};
use crate::layout::{Layout, Run};

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    if !explains_all(seen) {
        return Vec::new();
    }
    let text = vec![
        "Nothing flows: there is no pump, and no water comes in. Every run stands still or dry."
            .into(),
    ];
    let about: Vec<_> = seen.runs.iter().map(|run| &run.drawn.id).collect();
    vec![finding(
        seen,
        (Code::NoPump, Severity::Warning),
        &about,
        text,
    )]
}

/// Returns whether that is why no run flows, so that other rules can leave it out.
pub(super) fn explains_all(seen: &StateView<'_>) -> bool {
    let idle = !seen.runs.is_empty() && !seen.runs.iter().any(|run| run.flows());
    idle && seen.is_running() && is_left_alone(seen.layout)
}

/// Returns whether no run has a pump, and nothing brings water in or takes it away.
fn is_left_alone(layout: &Layout) -> bool {
    let pumped = layout.runs.iter().any(|run: &Run| run.pump.is_some());
    let vessels = layout.vessels.iter();
    let fed = vessels.filter(|one| one.make_up_m3_s != 0.0 || one.float_valve.is_some());
    let joints = layout.joints.iter().filter(|one| one.make_up_m3_s != 0.0);
    !pumped && fed.count() + joints.count() == 0 && layout.weather.rain_m_s <= 0.0
}
