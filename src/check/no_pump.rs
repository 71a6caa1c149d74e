//! Nothing flows, because there is no pump and no water comes in: told once, and not of every run.

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

/// Whether that is why no run flows, so that nothing more need be said of it.
pub(super) fn explains_all(seen: &StateView<'_>) -> bool {
    let idle = !seen.runs.is_empty() && !seen.runs.iter().any(|run| run.flows());
    idle && seen.is_running() && is_left_alone(seen.layout)
}

/// No pump in any run, and nothing that brings water or takes it away.
fn is_left_alone(layout: &Layout) -> bool {
    let pumped = layout.runs.iter().any(|run: &Run| run.pump.is_some());
    let vessels = layout.vessels.iter();
    let fed = vessels.filter(|one| one.make_up_m3_s != 0.0 || one.float_valve.is_some());
    let joints = layout.joints.iter().filter(|one| one.make_up_m3_s != 0.0);
    !pumped && fed.count() + joints.count() == 0 && layout.weather.rain_m_s <= 0.0
}
