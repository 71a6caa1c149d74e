//! Vessels in a state.

use super::report::{StateReport, VesselReport, WithSpill};
use super::simulate::Simulated;
use super::{flows, trajectory};
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::network::Node;

/// The vessels, in the order of the layout.
pub(super) fn reports(layout: &Layout, lowered: &Lowered, done: &Simulated) -> Vec<VesselReport> {
    let nodes = &lowered.origin.vessels;
    layout
        .vessels
        .iter()
        .zip(nodes)
        .map(|(part, &node)| {
            let head = read_level(lowered, node, done.end.head_m[node]);
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

/// A drop, m³: common practice, no source.
const DROP_M3: f64 = 5e-8;

/// The displayed level, metres: the floor of a dry vessel that lacks less than a drop. In the tip of a cone, or
/// in a vessel no wider than a pipe, a drop is millimetres.
pub(super) fn read_level(lowered: &Lowered, node: usize, level_m: f64) -> f64 {
    match lowered.network.node_weight((node as u32).into()) {
        Some(Node::Vessel { storage, .. }) if storage.volume_m3(level_m) > -DROP_M3 => {
            level_m.max(storage.floor_m())
        }
        _ => level_m,
    }
}

/// The displayed lowest and highest level of a simulation, metres.
pub(super) fn read_range(lowered: &Lowered, node: usize, range_m: (f64, f64)) -> [f64; 2] {
    [range_m.0, range_m.1].map(|level_m| read_level(lowered, node, level_m))
}

/// Water in a vessel at a level, m³, never below 0.
pub(super) fn volume(lowered: &Lowered, node: usize, level_m: f64) -> f64 {
    match lowered.network.node_weight((node as u32).into()) {
        Some(Node::Vessel { storage, .. }) => storage.volume_m3(level_m).max(0.0),
        _ => 0.0,
    }
}

/// Adds the real outcome, with rims that spill, to every vessel of `report`.
pub(super) fn add_spill(report: &mut StateReport, built: &Lowered, way: &Simulated) {
    let origin = &built.origin;
    for (index, vessel) in report.vessels.iter_mut().enumerate() {
        let rim = origin.rims.get(index).copied().flatten();
        let lost_m3 = rim.map_or(0.0, |link| way.passed_m3[link]);
        vessel.with_spill = origin.vessels.get(index).map(|&node| WithSpill {
            level_m: read_level(built, node, way.end.head_m[node]),
            spill_m3_s: rim.map_or(0.0, |link| way.end.flow_m3_s[link]),
            lost_m3,
            first_spill_s: trajectory::first_spill(way, &vessel.id, (node, vessel.rim_m), lost_m3),
        });
    }
}
