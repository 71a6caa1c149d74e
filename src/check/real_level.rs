//! Level of a vessel with walls as built.

use super::state_view::{StateView, VesselSeen};

/// Highest level of a vessel in this state, on the way to its end too, metres; none where that is not known.
pub(super) fn highest_m(seen: &StateView<'_>, held: &VesselSeen<'_>) -> Option<f64> {
    let ends_m = match held.here.with_spill {
        Some(spill) => Some(spill.level_m),
        None => held.top_m(),
    };
    let course = seen.report.course.iter().flat_map(|course| &course.vessels);
    let mut on_the_way = course.filter(|one| one.id == held.drawn.id);
    let passed_m = on_the_way.next().map(|one| one.highest_m);
    match (ends_m, passed_m) {
        (Some(ends_m), Some(passed_m)) => Some(ends_m.max(passed_m)),
        (one, other) => one.or(other),
    }
}
