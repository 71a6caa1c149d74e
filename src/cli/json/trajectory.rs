//! Trajectories, cycles and failures as JSON.

use super::number;
use super::state::each;
use crate::check::blocked_severity;
use crate::evaluate::FailureCase;
use crate::finding::Severity;
use crate::layout::{Id, Layout};
use crate::states::report::{
    BackReport, BlockedCase, CycleLevel, CycleReport, TrajectoryReport, TrajectorySuction,
    TrajectoryVessel,
};
use crate::states::{Event, Fault};
use serde_json::{Map, Value, json};

pub(super) fn cycle(cycle: &CycleReport) -> Value {
    json!({ "period_s": number(cycle.period_s), "regular": cycle.regular, "vessels": each(&cycle.vessels, level) })
}

fn level(level: &CycleLevel) -> Value {
    json!({
        "id": level.id.as_str(),
        "lowest_m": number(level.lowest_m),
        "highest_m": number(level.highest_m),
        "mean_m": number(level.mean_m),
    })
}

pub(super) fn trajectory(course: &TrajectoryReport) -> Value {
    json!({
        "time_s": number(course.time_s),
        "still": course.still,
        "events": each(&course.told, event),
        "vessels": each(&course.vessels, vessel),
        "suctions": each(&course.suctions, suction),
        "volume_error_m3": number(course.volume_error_m3),
        "back": course.back.as_ref().map(back),
    })
}

/// An event: what, when and which parts.
pub(super) fn event(told: &Event) -> Value {
    json!({
        "time_s": number(told.time_s),
        "what": told.what.word(),
        "about": ids(&told.about),
    })
}

fn vessel(vessel: &TrajectoryVessel) -> Value {
    json!({
        "id": vessel.id.as_str(),
        "lowest_m": number(vessel.lowest_m),
        "highest_m": number(vessel.highest_m),
        "spilled_m3": number(vessel.spilled_m3),
        "first_spill_s": number(vessel.first_spill_s),
    })
}

fn suction(suction: &TrajectorySuction) -> Value {
    json!({
        "pump": suction.pump.as_str(),
        "vessel": suction.vessel.as_str(),
        "lip_m": number(suction.lip_m),
        "lowest_m": number(suction.lowest_m),
        "lowest_s": number(suction.lowest_s),
        "starved_s": number(suction.starved_s),
        "dry_s": number(suction.dry_s),
    })
}

fn back(back: &BackReport) -> Value {
    json!({
        "drained_m3": number(back.drained_m3),
        "siphoned_m3": number(back.siphoned_m3),
        "in_runs_m3": number(back.in_runs_m3),
        "room_m3": number(back.room_m3),
    })
}

/// A run that is shut while everything runs, as JSON.
pub(super) fn blocked(layout: &Layout, case: &BlockedCase) -> Value {
    let severity = blocked_severity(&layout.limits, case);
    failure((Fault::RunShut, &case.run), case, severity)
}

/// A failure with its consequences in the main and in the second outcome.
pub(super) fn failed(layout: &Layout, failed: &FailureCase) -> Value {
    let mut value = failure((failed.fault, &failed.part), &failed.case, failed.severity);
    let second = failed.second.as_ref().map(|case| {
        let severity = blocked_severity(&layout.limits, case);
        Value::Object(outcome(case, severity))
    });
    if let Some(object) = value.as_object_mut() {
        object.insert("primed".to_owned(), second.unwrap_or_default());
    }
    value
}

fn failure((fault, part): (Fault, &Id), case: &BlockedCase, severity: Severity) -> Value {
    let mut value = json!({
        "what": fault.word(),
        "about": ids(std::slice::from_ref(part)),
    });
    if let Some(object) = value.as_object_mut() {
        object.extend(outcome(case, severity));
    }
    value
}

/// The consequences of a failure.
fn outcome(case: &BlockedCase, severity: Severity) -> Map<String, Value> {
    let lowest = case.lowest_m.iter();
    let lowest: Map<String, Value> = lowest
        .map(|(id, level_m)| (id.as_str().to_owned(), number(*level_m)))
        .collect();
    let spills = case.spills.as_ref().map(Id::as_str);
    let pairs = [
        ("first_spill_s", number(case.first_spill_s)),
        ("where", json!(spills)),
        ("spilled_m3", number(case.spilled_m3)),
        ("starved_s", number(case.starved_s)),
        ("lowest", Value::Object(lowest)),
        ("severity", json!(severity.word())),
    ];
    let pairs = pairs
        .into_iter()
        .map(|(key, value)| (key.to_owned(), value));
    pairs.collect()
}

fn ids(parts: &[Id]) -> Vec<&str> {
    parts.iter().map(Id::as_str).collect()
}
