//! Reports a vessel without water.

use super::no_pump;
use super::state_view::{SAME_HEIGHT_M, StateView, under};
use super::wording::{finding, height, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::layout::{Role, Vessel};
use crate::units::Quantity;

/// Smallest depth that counts as water in a vessel, metres: too thin a layer to measure with a tape. Common practice,
/// no source.
const LEAST_DEPTH_M: f64 = 0.001;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    if no_pump::explains_all(seen) {
        return found;
    }
    for held in &seen.vessels {
        let vessel = held.drawn;
        let depth_m = held.low_m().map(|low_m| low_m - held.here.floor_m);
        let Some(depth_m) = depth_m.filter(|depth_m| under(*depth_m, LEAST_DEPTH_M)) else {
            continue;
        };
        if !seen.is_running() && stands_empty(vessel) {
            continue;
        }
        let id = &vessel.id;
        let text = vec![
            id.into(),
            " runs dry".into(),
            when(seen.report.state).into(),
            ": its level falls to the floor at ".into(),
            height(held.here.floor_m),
            ".".into(),
        ];
        let one = finding(seen, (Code::RunsDry, severity(vessel)), &[id], text);
        found.push(with_limit(
            one,
            Quantity::Height,
            (depth_m.max(0.0), LEAST_DEPTH_M),
        ));
    }
    found
}

/// Returns whether the vessel was never filled, so that nothing ran out.
fn stands_empty(vessel: &Vessel) -> bool {
    vessel.fill_m <= vessel.floor_m + SAME_HEIGHT_M
}

/// A problem in a filled tank or pond, since what lives there needs water; a tower or a header may run empty.
fn severity(vessel: &Vessel) -> Severity {
    match vessel.role {
        Role::Tank | Role::Pond if !stands_empty(vessel) => Severity::Problem,
        _ => Severity::Warning,
    }
}
