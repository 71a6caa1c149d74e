//! One state as JSON, part by part.

use super::{number, trajectory};
use crate::layout::Layout;
use crate::state::State;
use crate::states::report::{
    DepthPoint, FixedReport, JointReport, LossItem, PumpReport, RunReport, StateReport,
    VesselReport, WithSpill,
};
use serde_json::{Value, json};

/// A state as JSON; the state *blocked* also has its cases.
pub(super) fn state(layout: &Layout, report: &StateReport) -> Value {
    let mut value = standing(report);
    if report.state == State::Blocked {
        let cases = report.blocked.iter();
        let cases: Vec<Value> = cases
            .map(|case| trajectory::blocked(layout, case))
            .collect();
        if let Some(object) = value.as_object_mut() {
            object.insert("cases".to_owned(), Value::Array(cases));
        }
    }
    value
}

/// A state that could not be solved: the same keys as [`state`], without values.
pub(super) fn failed(state: State) -> Value {
    let mut value = json!({
        "outcome": null,
        "in_runs_m3": null,
        "converged": false,
        "newton_steps": null,
        "time_steps": null,
        "mass_error_m3_s": null,
        "energy_error_m": null,
        "cycle": null,
        "vessels": [],
        "joints": [],
        "fixed": [],
        "runs": [],
        "pumps": [],
        "course": null,
        "primed": null,
    });
    if let Some(object) = value.as_object_mut().filter(|_| state == State::Blocked) {
        object.insert("cases".to_owned(), json!([]));
    }
    value
}

fn standing(report: &StateReport) -> Value {
    json!({
        "outcome": report.outcome.word(),
        "in_runs_m3": number(report.in_runs_m3),
        "converged": report.converged,
        "newton_steps": report.newton_steps,
        "time_steps": report.time_steps,
        "mass_error_m3_s": number(report.mass_error_m3_s),
        "energy_error_m": number(report.energy_error_m),
        "cycle": report.cycle.as_ref().map(trajectory::cycle),
        "vessels": each(&report.vessels, vessel),
        "joints": each(&report.joints, joint),
        "fixed": each(&report.fixed, fixed),
        "runs": each(&report.runs, run),
        "pumps": each(&report.pumps, pump),
        "course": report.course.as_ref().map(trajectory::trajectory),
        "primed": report.primed.as_deref().map(standing),
    })
}

pub(super) fn each<T>(parts: &[T], write: impl Fn(&T) -> Value) -> Vec<Value> {
    parts.iter().map(write).collect()
}

fn vessel(vessel: &VesselReport) -> Value {
    json!({
        "id": vessel.id.as_str(),
        "name": vessel.name,
        "floor_m": number(vessel.floor_m),
        "rim_m": number(vessel.rim_m),
        "level_m": number(vessel.level_m),
        "freeboard_m": number(vessel.freeboard_m()),
        "depth_m": number(vessel.depth_m()),
        "volume_m3": number(vessel.volume_m3),
        "inflow_m3_s": number(vessel.inflow_m3_s),
        "turnover_per_s": number(vessel.turnover_per_s()),
        "retention_s": number(retention_s(vessel)),
        "with_spill": vessel.with_spill.as_ref().map(with_spill),
    })
}

/// Mean retention time of the water, s; none where nothing flows in.
fn retention_s(vessel: &VesselReport) -> Option<f64> {
    let volume_m3 = vessel.volume_m3?;
    (vessel.inflow_m3_s > 0.0).then(|| volume_m3 / vessel.inflow_m3_s)
}

fn with_spill(spill: &WithSpill) -> Value {
    json!({
        "level_m": number(spill.level_m),
        "spill_m3_s": number(spill.spill_m3_s),
        "lost_m3": number(spill.lost_m3),
        "first_spill_s": number(spill.first_spill_s),
    })
}

fn joint(joint: &JointReport) -> Value {
    json!({
        "id": joint.id.as_str(),
        "elevation_m": number(joint.elevation_m),
        "head_m": number(joint.head_m),
        "pressure_pa": number(joint.pressure_pa),
    })
}

fn fixed(fixed: &FixedReport) -> Value {
    json!({
        "id": fixed.id.as_str(),
        "level_m": number(fixed.level_m),
        "flow_m3_s": number(fixed.flow_m3_s),
    })
}

fn run(run: &RunReport) -> Value {
    json!({
        "id": run.id.as_str(),
        "from": run.from.as_str(),
        "to": run.to.as_str(),
        "flow_m3_s": number(run.flow_m3_s),
        "velocity_m_s": number(run.velocity_m_s),
        "bore_m": number(run.bore_m),
        "length_m": number(run.length_m),
        "loss_m": number(run.loss_m),
        "free_drop_m": number(run.free_drop_m),
        "control": run.control.word(),
        "regime": run.regime.word(),
        "valve_open": number(run.valve_open),
        "capacity_at_rim_m3_s": number(run.capacity_at_rim_m3_s),
        "depth_m": depths(run),
        "surge_m": run.surge.map(|surge| [number(surge.low_m), number(surge.high_m)]),
        "likely_m": run.surge.map(|surge| number(surge.likely_m)),
        "through_hole_m3_s": number(run.through_hole_m3_s),
    })
}

/// Distance from `from` and depth there, metres; null where the run has no computed profile.
fn depths(run: &RunReport) -> Value {
    if run.profile.is_empty() {
        return Value::Null;
    }
    let point = |at: &DepthPoint| json!([number(at.distance_m), number(at.depth_m)]);
    run.profile.iter().map(point).collect()
}

fn pump(pump: &PumpReport) -> Value {
    json!({
        "id": pump.id.as_str(),
        "run": pump.run.as_str(),
        "on": pump.on,
        "standing": pump.standing.word(),
        "flow_m3_s": number(pump.flow_m3_s),
        "head_m": number(pump.head_m),
        "static_m": number(pump.static_m),
        "losses": each(&pump.losses, loss),
        "power_w": number(pump.power_w),
        "npsh_available_m": number(pump.npsh_available_m),
        "npsh_required_m": number(pump.npsh_required_m),
        "suction_level_m": number(pump.suction_level_m),
        "shutoff_head_m": number(pump.shutoff_head_m),
    })
}

fn loss(item: &LossItem) -> Value {
    json!({ "what": item.what, "head_m": number(item.head_m) })
}
