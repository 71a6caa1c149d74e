//! Vessels in a state.

use super::flows;
use super::report::{StateReport, VesselReport, WithSpill};
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::network::Node;
use crate::solve::{EventKind, Trace};

/// The vessels, in the order of the layout.
pub(super) fn reports(layout: &Layout, lowered: &Lowered, done: &Trace) -> Vec<VesselReport> {
    let nodes = &lowered.origin.vessels;
    layout
        .vessels
        .iter()
        .zip(nodes)
        .map(|(part, &node)| {
            let head = done.end.head_m[node];
            let level_m = (!super::rises_for_ever(lowered, done, node)).then_some(head);
            VesselReport {
                id: part.id.clone(),
                name: part.name.clone(),
                floor_m: part.floor_m,
                rim_m: part.rim_m,
                level_m,
                volume_m3: level_m.map(|level| volume(lowered, node, level)),
                inflow_m3_s: flows::inflow(lowered, &done.end, node),
                with_spill: None,
            }
        })
        .collect()
}

/// Water in a vessel at a level, m³, never below 0.
fn volume(lowered: &Lowered, node: usize, level_m: f64) -> f64 {
    match lowered.network.node_weight((node as u32).into()) {
        Some(Node::Vessel { storage, .. }) => storage.volume_m3(level_m).max(0.0),
        _ => 0.0,
    }
}

/// Adds what really happens, with rims that spill, to every vessel of `report`.
pub(super) fn add_spill(report: &mut StateReport, built: &Lowered, course: &Trace) {
    let origin = &built.origin;
    for (index, vessel) in report.vessels.iter_mut().enumerate() {
        let rim = origin.rims.get(index).copied().flatten();
        let began = |link: usize| {
            let mut spills = course
                .events
                .iter()
                .filter(move |event| event.link == link && event.kind == EventKind::SpillBegins);
            spills.next().map(|event| event.time_s)
        };
        vessel.with_spill = origin.vessels.get(index).map(|&node| WithSpill {
            level_m: course.end.head_m[node],
            spill_m3_s: rim.map_or(0.0, |link| course.end.flow_m3_s[link]),
            lost_m3: rim.map_or(0.0, |link| course.passed_m3[link]),
            first_spill_s: rim.and_then(began),
        });
    }
}
