//! Washing: an operating mode that discharges water, simulated for its duration.

use super::event::EventKind;
use super::hybrid_system::{HybridSystem, SwitchKind};
use super::simulate::{Simulated, SimulationOptions, simulate};
use super::{DAY_S, EndOfState, PumpsOnAndOff, StateNotConverged, blocked, trajectory};
use crate::layout::{Id, Layout};
use crate::lower::Lowered;

/// The result of a washing.
#[derive(Clone, Debug, PartialEq)]
pub struct Washing {
    /// Its duration, s.
    pub washing_s: f64,
    /// Volume that left the layout by then: to waste, and over rims, m³.
    pub lost_m3: f64,
    /// The vessel that the pump draws from, and its fall in level, metres; none where no pump draws from a
    /// vessel.
    pub fell: Option<(Id, f64)>,
    /// Time at which the intake begins to limit the pump if the washing does not end, s; none: not within a day.
    pub starved_s: Option<f64>,
    /// Time at which the pump is dry if the washing does not end, s; none: not within a day.
    pub dry_s: Option<f64>,
}

/// Simulates `layout`, an operating mode of the one that `running` belongs to, for `washing_s`.
///
/// `built`: `layout` with walls as built. `running`: the running state when the valves were turned.
pub fn washing(
    layout: &Layout,
    built: &PumpsOnAndOff,
    running: &EndOfState,
    washing_s: f64,
) -> Result<Washing, StateNotConverged> {
    let hybrid = HybridSystem::new(layout, built.on.clone(), built.off.clone())
        .primed(&running.primed)
        .with_water(running.way.water.clone());
    let start = blocked::start_of(&built.on, running);
    let until = |until_s: f64| {
        let how = SimulationOptions {
            until_s: Some(until_s),
            ..SimulationOptions::event()
        };
        simulate(&hybrid, &start, None, how)
    };
    let (lowered, at_end) = until(washing_s)?;
    let (_, on_and_on) = until(washing_s.max(DAY_S))?;
    let pump = hybrid
        .switches
        .iter()
        .find_map(|switch| match &switch.kind {
            SwitchKind::Pump(pump) => Some((switch.part.clone(), pump.intake?)),
            SwitchKind::Chain(_) => None,
        });
    let first = |what: EventKind| {
        let (part, _) = pump.as_ref()?;
        trajectory::first(&on_and_on, what, part)
    };
    let fell = pump.as_ref().and_then(|(_, intake)| {
        let vessel = layout.vessels.get(intake.vessel)?;
        let fell_m = start.head_m[intake.node] - at_end.end.head_m[intake.node];
        Some((vessel.id.clone(), fell_m))
    });
    Ok(Washing {
        washing_s,
        lost_m3: lost_m3(&lowered, &at_end),
        fell,
        starved_s: first(EventKind::SuctionStarved),
        dry_s: first(EventKind::PumpRunsDry),
    })
}

/// Net volume to fixed levels and over rims, m³; never below 0.
fn lost_m3(lowered: &Lowered, way: &Simulated) -> f64 {
    let origin = &lowered.origin;
    let outside: Vec<usize> = origin.fixed.iter().copied().chain(origin.lost).collect();
    let network = &lowered.network;
    let passed = network.edge_indices().filter_map(|edge| {
        let (source, target) = network.edge_endpoints(edge)?;
        let out = outside.contains(&target.index());
        let back = outside.contains(&source.index());
        let passed_m3 = way.passed_m3[edge.index()];
        Some(if out == back {
            0.0
        } else if out {
            passed_m3.max(0.0)
        } else {
            (-passed_m3).max(0.0)
        })
    });
    passed.sum()
}
