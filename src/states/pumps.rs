//! Pumps in a state: duty, and how their head is spent.

use super::NO_FLOW_M3_S;
use super::hybrid_system::{HybridSystem, SwitchMode};
use super::report::{LossItem, PumpReport, Standing};
use super::runs::{self, RunBetweenLevels};
use crate::hydraulics::pump::{Suction, npsh_available_m, npsh_required_m, power_w};
use crate::layout::{Direction, EfficiencyPoint, Id, Layout, Pump, Run};
use crate::lower::{Lowered, item_heads};
use crate::network::{FlowControl, Node, Sense};
use crate::solve::NetworkState;

/// The pumps, in the order of their runs.
pub(super) fn reports(layout: &Layout, lowered: &Lowered, end: &NetworkState) -> Vec<PumpReport> {
    layout
        .runs
        .iter()
        .zip(runs::all(lowered, end))
        .filter_map(|(run, here)| {
            let pump = run.pump.as_ref()?;
            report(layout, lowered, run, pump, &here?)
        })
        .collect()
}

/// Sets the reason on the reports of pumps that do not run.
pub(super) fn say_why(reports: &mut [PumpReport], hybrid: &HybridSystem<'_>, modes: &[SwitchMode]) {
    say(reports, &why(hybrid, modes));
}

/// The pumps that do not run, and what stopped them.
pub(super) fn why(hybrid: &HybridSystem<'_>, modes: &[SwitchMode]) -> Vec<(Id, Standing)> {
    let switches = hybrid.switches.iter().zip(modes);
    let stopped = switches.filter_map(|(switch, mode)| {
        let standing = match mode {
            SwitchMode::Waits => Standing::FloatOff,
            SwitchMode::Dry => Standing::RanDry,
            SwitchMode::Runs | SwitchMode::WithAir | SwitchMode::Primed => return None,
        };
        Some((switch.part.clone(), standing))
    });
    stopped.collect()
}

/// Sets these reasons on the reports of these pumps.
pub(super) fn say(reports: &mut [PumpReport], stopped: &[(Id, Standing)]) {
    for (pump, standing) in stopped {
        for report in reports.iter_mut().filter(|one| one.id == *pump) {
            report.standing = *standing;
        }
    }
}

fn report(
    layout: &Layout,
    lowered: &Lowered,
    run: &Run,
    pump: &Pump,
    here: &RunBetweenLevels,
) -> Option<PumpReport> {
    let curve = here.facts.pump_curve.as_ref()?;
    let on = here.facts.pump_on;
    let backward = (pump.pushes == Direction::Backward) != here.facts.reversed;
    let sense = if backward {
        Sense::Backward
    } else {
        Sense::Forward
    };
    let pushed = here.flow * sense.sign();
    let flow = if pushed.abs() < NO_FLOW_M3_S {
        0.0
    } else {
        pushed
    };
    let (suction_end, other_end) = if backward { (1, 0) } else { (0, 1) };
    let level = here.levels[suction_end];
    let static_m = static_lift_m(here, sense, (level, here.levels[other_end]));
    let gravity = layout.coefficients.gravity_m_s2;
    let head_m = if on {
        curve.head(flow.max(0.0)).value
    } else {
        0.0
    };
    Some(PumpReport {
        id: pump.id.clone(),
        run: run.id.clone(),
        on,
        standing: if on { Standing::Runs } else { Standing::Off },
        flow_m3_s: flow,
        head_m,
        static_m,
        losses: losses(
            here,
            (flow, here.levels[other_end]),
            sense,
            head_m - static_m,
        ),
        power_w: efficiency(&pump.efficiency, flow / pump.speed.max(1e-6))
            .filter(|_| on)
            .map(|share| {
                power_w(
                    lowered.water.density_kg_m3,
                    gravity,
                    flow.max(0.0),
                    head_m,
                    share,
                )
            }),
        npsh_available_m: npsh((layout, pump), lowered, here, (level, flow)),
        npsh_required_m: npsh_required(pump, flow).filter(|_| on),
        suction_level_m: is_vessel(lowered, here.nodes[suction_end]).then_some(level),
        shutoff_head_m: curve.shut_off_head_m(),
        end_of_curve_m3_s: curve.end_of_curve_m3_s(),
        curve_rises: here.facts.curve_rises,
    })
}

/// The static lift at these levels, metres: the head below which nothing flows, as a single figure.
///
/// From the level that the pump draws from to the level or outlet that it lifts to, or to a high point with air in it
/// that stands higher: the head that the run requires without flow.
fn static_lift_m(here: &RunBetweenLevels, sense: Sense, (drawn_m, lifted_m): (f64, f64)) -> f64 {
    let asked_m = here.law.threshold_in_pipe(sense, lifted_m).head_m;
    asked_m + here.law.gain_at_rest_m(sense) - drawn_m
}

fn is_vessel(lowered: &Lowered, node: usize) -> bool {
    let node = lowered.network.node_weight((node as u32).into());
    matches!(node, Some(Node::Vessel { .. } | Node::Fixed { .. }))
}

/// Relative speed below which a pump counts as stopped.
const LEAST_SPEED: f64 = 1e-3;
/// Spare head above which a duty lists it, metres.
const SPARE_M: f64 = 1e-4;

/// Every loss of the run, largest first; `to_spend_m` is the head of the pump less the lift.
fn losses(
    here: &RunBetweenLevels,
    (flow, lifted_m): (f64, f64),
    sense: Sense,
    to_spend_m: f64,
) -> Vec<LossItem> {
    let along_link = flow.max(0.0) * sense.sign();
    let mut items: Vec<LossItem> = item_heads(here.facts, here.law, along_link, here.levels)
        .into_iter()
        .map(|(what, head_m)| LossItem {
            what,
            head_m: head_m.abs(),
        })
        .collect();
    let marched = here.law.grade(sense).is_some();
    // A full pipe stands above the lip that it discharges over, by more the more flows.
    let tail_m = |flow: f64| here.law.tail_m(sense, flow, lifted_m);
    let outlet_m = tail_m(flow.max(0.0)) - tail_m(0.0);
    if !marched && outlet_m > SPARE_M {
        items.push(LossItem {
            what: "depth of the water at the outlet".to_owned(),
            head_m: outlet_m,
        });
    }
    // Where something else limits the flow the pump has spare head, and the sum must say where it goes.
    let spare_m = to_spend_m - items.iter().map(|item| item.head_m).sum::<f64>();
    if spare_m > SPARE_M {
        items.push(LossItem {
            what: spent_on(here, flow, sense).to_owned(),
            head_m: spare_m,
        });
    }
    if marched && spare_m < -SPARE_M {
        items.push(LossItem {
            what: "gained where the pipe falls behind its high point".to_owned(),
            head_m: spare_m,
        });
    }
    items.sort_by(|a, b| b.head_m.total_cmp(&a.head_m));
    items
}

/// What uses the head that no loss accounts for.
fn spent_on(here: &RunBetweenLevels, flow: f64, sense: Sense) -> &'static str {
    let inlet = flow > 0.0 && here.law.flow_control(here.flow, here.levels) == FlowControl::Inlet;
    if flow <= 0.0 {
        "not used: no water moves"
    } else if !inlet && here.law.grade(sense).is_some() {
        "over the high point, with air in it"
    } else {
        "not used: the intake limits the flow"
    }
}

/// Efficiency at a flow, linear between the points and constant beyond them.
fn efficiency(points: &[EfficiencyPoint], flow: f64) -> Option<f64> {
    let (first, last) = (points.first()?, points.last()?);
    if flow <= first.flow_m3_s {
        return Some(first.efficiency);
    }
    let between = points.windows(2).find_map(|pair| {
        let (a, b) = (pair.first()?, pair.last()?);
        let share = (flow - a.flow_m3_s) / (b.flow_m3_s - a.flow_m3_s);
        (0.0..=1.0)
            .contains(&share)
            .then_some(a.efficiency + share * (b.efficiency - a.efficiency))
    });
    Some(between.unwrap_or(last.efficiency))
}

/// NPSH required by a pump at its duty, metres. Like its head it scales with the square of the speed, as its flow with
/// the speed.
fn npsh_required(pump: &Pump, flow_m3_s: f64) -> Option<f64> {
    let points = pump.npsh_required.iter();
    let points: Vec<(f64, f64)> = points.map(|one| (one.flow_m3_s, one.npsh_m)).collect();
    let speed = pump.speed.max(LEAST_SPEED);
    let at_full_m = npsh_required_m(&points, flow_m3_s.max(0.0) / speed)?;
    Some(at_full_m * speed * speed)
}

/// NPSH available to a pump: for a submerged pump from the water over its intake, for any other from its suction. None
/// where neither height is known.
fn npsh(
    (layout, pump): (&Layout, &Pump),
    lowered: &Lowered,
    here: &RunBetweenLevels,
    (level, flow): (f64, f64),
) -> Option<f64> {
    let end = usize::from(pump.pushes == Direction::Backward);
    let lip_m = here.facts.end_lips_m.get(end).copied().flatten();
    let given = here.facts.suction.as_ref();
    let (inlet_m, loss_m) = match (pump.is_wet(), given) {
        (true, _) => (lip_m.or(given.map(|given| given.elevation_m))?, 0.0),
        (false, given) => {
            let given = given?;
            (given.elevation_m, given.loss.at(flow.max(0.0)).value)
        }
    };
    let suction = Suction {
        surface_pressure_pa: layout.water.atmosphere_pa,
        static_head_m: level - inlet_m,
        loss_m,
    };
    Some(npsh_available_m(
        &suction,
        &lowered.water,
        layout.coefficients.gravity_m_s2,
    ))
}
