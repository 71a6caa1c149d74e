//! Trajectories: what happened in a state over time, reported by part.

use super::event::{Event, EventKind};
use super::flows;
use super::hybrid_system::{HybridSystem, SwitchKind};
use super::report::{
    BackReport, CycleLevel, CycleReport, StateReport, TrajectoryReport, TrajectorySuction,
    TrajectoryVessel,
};
use super::simulate::Simulated;
use super::vessels::{read_level, read_range, volume};
use crate::layout::{Direction, Id, Layout};
use crate::lower::Lowered;
use crate::solve::NetworkState;

/// Volume over a rim that counts as a spill, m³: a millilitre.
const LEAST_SPILL_M3: f64 = 1e-6;

/// The trajectory report of a simulated hybrid system.
pub(super) fn report(
    hybrid: &HybridSystem<'_>,
    lowered: &Lowered,
    way: &Simulated,
) -> TrajectoryReport {
    TrajectoryReport {
        time_s: way.time_s,
        still: way.still,
        told: way.told.clone(),
        vessels: vessels(hybrid.layout, lowered, way),
        suctions: suctions(hybrid, way),
        volume_error_m3: way.volume_error_m3,
        back: None,
    }
}

/// Time of the first event of a kind at a part, s.
pub(super) fn first(way: &Simulated, what: EventKind, part: &Id) -> Option<f64> {
    let mut of_part = way
        .told
        .iter()
        .filter(|told| told.what == what && told.about.first() == Some(part));
    of_part.next().map(|told| told.time_s)
}

/// Time at which a vessel first spilled, s; none: it did not.
///
/// One that already stood at its rim never crossed it: it spilled at once. One that spilled without an event and never
/// stood as high in the simulation spilled at the end, in the final step to the steady state.
pub(super) fn first_spill(
    way: &Simulated,
    vessel: &Id,
    (node, rim_m): (usize, f64),
    spilled_m3: f64,
) -> Option<f64> {
    let untold = || {
        let highest_m = way.range_m[node].1;
        let at_the_end = highest_m.is_finite() && highest_m < rim_m;
        let end_s = way.still_since_s.unwrap_or(way.time_s);
        (spilled_m3 > LEAST_SPILL_M3).then_some(if at_the_end { end_s } else { 0.0 })
    };
    first(way, EventKind::SpillBegins, vessel).or_else(untold)
}

fn vessels(layout: &Layout, lowered: &Lowered, way: &Simulated) -> Vec<TrajectoryVessel> {
    let origin = &lowered.origin;
    let nodes = layout.vessels.iter().zip(&origin.vessels);
    nodes
        .enumerate()
        .map(|(index, (vessel, &node))| {
            let rim = origin.rims.get(index).copied().flatten();
            let [lowest_m, highest_m] = read_range(lowered, node, way.range_m[node]);
            let spilled_m3 = rim.map_or(0.0, |link| way.passed_m3[link]);
            TrajectoryVessel {
                id: vessel.id.clone(),
                lowest_m,
                highest_m,
                spilled_m3,
                first_spill_s: first_spill(way, &vessel.id, (node, vessel.rim_m), spilled_m3),
            }
        })
        .collect()
}

fn suctions(hybrid: &HybridSystem<'_>, way: &Simulated) -> Vec<TrajectorySuction> {
    let pumps = hybrid.switches.iter().filter_map(|switch| {
        let SwitchKind::Pump(pump) = &switch.kind else {
            return None;
        };
        let intake = pump.intake?;
        Some(TrajectorySuction {
            pump: switch.part.clone(),
            vessel: hybrid.layout.vessels.get(intake.vessel)?.id.clone(),
            lip_m: intake.lip_m,
            lowest_m: way.range_m[intake.node].0,
            lowest_s: way.lowest_s[intake.node],
            starved_s: first(way, EventKind::SuctionStarved, &switch.part),
            dry_s: first(way, EventKind::PumpRunsDry, &switch.part),
        })
    });
    pumps.collect()
}

/// The limit cycle in which a simulation ended.
pub(super) fn cycle(layout: &Layout, lowered: &Lowered, way: &Simulated) -> Option<CycleReport> {
    let cycle = way.cycle.as_ref()?;
    let nodes = layout.vessels.iter().zip(&lowered.origin.vessels);
    let vessels = nodes.map(|(vessel, &node)| {
        let [lowest_m, highest_m] = read_range(lowered, node, cycle.range_m[node]);
        CycleLevel {
            id: vessel.id.clone(),
            lowest_m,
            highest_m,
            mean_m: read_level(lowered, node, cycle.mean_m[node]),
        }
    });
    // A cycle ends with the switch that it began with, which is listed once.
    let switched = way.told.iter().filter(|told| told.time_s > cycle.began_s);
    let mut told: Vec<Event> = Vec::new();
    for one in switched.filter(|told| told.what.switches()) {
        let known = told
            .iter()
            .any(|told| told.what == one.what && told.about == one.about);
        if cycle.regular || !known {
            told.push(one.clone());
        }
    }
    Some(CycleReport {
        period_s: cycle.period_s,
        regular: cycle.regular,
        vessels: vessels.collect(),
        told,
    })
}

/// Replaces the values at the final moment by the means over a cycle.
///
/// The loss and the flow control of a run stay those of that moment: a mean of them has no
/// meaning.
pub(super) fn means(layout: &Layout, report: &mut StateReport, lowered: &Lowered, way: &Simulated) {
    let Some(cycle) = &way.cycle else { return };
    let mean = NetworkState {
        head_m: cycle.mean_m.clone(),
        flow_m3_s: cycle.mean_m3_s.clone(),
        volume_m3: way.end.volume_m3.clone(),
    };
    report.fixed = flows::fixed_reports(layout, lowered, &mean);
    let nodes = report.vessels.iter_mut().zip(&lowered.origin.vessels);
    for (vessel, &node) in nodes {
        vessel.inflow_m3_s = flows::inflow(lowered, &mean, node);
        vessel.level_m = Some(cycle.mean_m[node]);
        vessel.volume_m3 = Some(super::vessels::volume(lowered, node, cycle.mean_m[node]));
    }
    let links = lowered.origin.runs.iter().zip(&lowered.origin.run_facts);
    for (run, (&link, facts)) in report.runs.iter_mut().zip(links) {
        run.flow_m3_s = facts.as_drawn(cycle.mean_m3_s[link]);
        let drawn = layout.runs.iter().find(|drawn| drawn.id == run.id);
        let pump = drawn.and_then(|drawn| drawn.pump.as_ref());
        let mut reports = report.pumps.iter_mut();
        if let (Some(pump), Some(told)) = (pump, reports.find(|one| one.run == run.id)) {
            told.flow_m3_s = match pump.pushes {
                Direction::Forward => run.flow_m3_s,
                Direction::Backward => -run.flow_m3_s,
            };
        }
    }
}

/// The water that ran back after the pumps of `running` were stopped.
pub(super) fn back(
    running: &HybridSystem<'_>,
    before: &Simulated,
    stopped: &Lowered,
    way: &Simulated,
) -> BackReport {
    let pumped: Vec<usize> = pump_links(running);
    let sumps: Vec<usize> = running
        .switches
        .iter()
        .filter_map(|switch| match &switch.kind {
            SwitchKind::Pump(pump) => pump.intake.map(|intake| intake.node),
            SwitchKind::Chain(_) => None,
        })
        .collect();
    let mut back = BackReport::default();
    for &link in &stopped.origin.runs {
        let edge = (link as u32).into();
        let Some((source, target)) = stopped.network.edge_endpoints(edge) else {
            continue;
        };
        let flowed = before.end.flow_m3_s[link];
        if pumped.contains(&link) {
            // Against the direction in which it flowed while the pump ran.
            let forward_m3 = way.passed_m3[link] + way.back_m3[link];
            back.siphoned_m3 += if flowed < 0.0 {
                forward_m3
            } else {
                way.back_m3[link]
            };
        } else if sumps.contains(&target.index()) != sumps.contains(&source.index()) {
            let into = if sumps.contains(&target.index()) {
                1.0
            } else {
                -1.0
            };
            back.drained_m3 += into * way.passed_m3[link];
        }
    }
    let emptied = way
        .emptied_m3
        .iter()
        .filter(|(node, _)| sumps.contains(node));
    back.in_runs_m3 = emptied.map(|(_, came_m3)| came_m3).sum();
    back.drained_m3 = back.drained_m3.max(0.0);
    back.room_m3 = room_m3(running.layout, stopped, (&sumps, way));
    back
}

/// Room below the rims of these vessels, without those that never spill, m³; none where there is no such vessel.
fn room_m3(
    layout: &Layout,
    lowered: &Lowered,
    (sumps, way): (&[usize], &Simulated),
) -> Option<f64> {
    let vessels = layout.vessels.iter().zip(&lowered.origin.vessels);
    let rooms = vessels
        .filter(|(vessel, node)| sumps.contains(node) && vessel.rim_perimeter_m != Some(0.0))
        .map(|(vessel, &node)| {
            let stands_m3 = volume(lowered, node, way.end.head_m[node]);
            (volume(lowered, node, vessel.rim_m) - stands_m3).max(0.0)
        });
    rooms.reduce(|sum_m3, room_m3| sum_m3 + room_m3)
}

fn pump_links(hybrid: &HybridSystem<'_>) -> Vec<usize> {
    let pumps = hybrid.switches.iter();
    pumps
        .filter(|switch| matches!(switch.kind, SwitchKind::Pump(_)))
        .map(|switch| switch.link)
        .collect()
}
