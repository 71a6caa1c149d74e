//! Reports parallel pumps where an idle one lets another push water back through it.

use super::pump_feed::{intake, lip_m};
use super::reach::{SearchDirection, reach};
use super::state_view::{PipedRun, SAME_HEIGHT_M, StateView};
use super::wording::finding;
use crate::finding::{Code, Finding, Severity};
use crate::layout::{Direction, Opening};

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let pumps: Vec<&PipedRun<'_>> = seen
        .runs
        .iter()
        .filter(|run| run.drawn.pump.is_some())
        .collect();
    let unguarded = pumps
        .iter()
        .filter(|run| lets_back(run) && !run.has_shut_valve());
    unguarded
        .filter_map(|idle| of_pump(seen, idle, &pumps))
        .collect()
}

fn of_pump(seen: &StateView<'_>, idle: &PipedRun<'_>, pumps: &[&PipedRun<'_>]) -> Option<Finding> {
    let others = pumps.iter().filter(|other| {
        other.drawn.id != idle.drawn.id && other.facts.pump_on && !other.has_shut_valve()
    });
    let beside: Vec<&&PipedRun<'_>> = others
        .filter(|other| goes_round(seen, idle, other))
        .collect();
    let planned = beside
        .iter()
        .find(|other| stands_by_plan(seen, idle, other));
    let (other, severity) = match planned {
        Some(other) => (other, Severity::Problem),
        // It is idle only when it fails.
        None => (beside.first()?, Severity::Warning),
    };
    let text = vec![
        "When the pump of ".into(),
        (&idle.drawn.id).into(),
        " stands still, the pump of ".into(),
        (&other.drawn.id).into(),
        " pushes water back through it: ".into(),
        (&idle.drawn.id).into(),
        " has no check valve.".into(),
    ];
    let pump = idle.drawn.pump.as_ref()?;
    let about = [&pump.id, &idle.drawn.id, &other.drawn.id];
    Some(finding(
        seen,
        (Code::IdlePumpsShortCircuit, severity),
        &about,
        text,
    ))
}

/// Returns whether nothing stops a flow against the direction in which the pump pushes.
fn lets_back(run: &PipedRun<'_>) -> bool {
    run.facts.one_way.is_none_or(|only| only != pushes(run))
}

fn pushes(run: &PipedRun<'_>) -> Direction {
    run.drawn
        .pump
        .as_ref()
        .map(|pump| pump.pushes)
        .unwrap_or_default()
}

/// Returns whether what `other` pushes can reach the outlet of `idle`, and return from its suction to that of `other`.
fn goes_round(seen: &StateView<'_>, idle: &PipedRun<'_>, other: &PipedRun<'_>) -> bool {
    let ours = [&idle.drawn.id, &other.drawn.id];
    let outlet = idle.end(1 - intake(idle));
    let pushed = reach(
        seen,
        other.end(1 - intake(other)),
        SearchDirection::Onward,
        &ours,
    );
    if !pushed.parts.contains(outlet) || !is_under_water(seen, idle) {
        return false;
    }
    let back = reach(seen, idle.end(intake(idle)), SearchDirection::Onward, &ours);
    let drawn = reach(seen, other.end(intake(other)), SearchDirection::Back, &ours);
    !back.parts.is_disjoint(&drawn.parts)
}

/// Returns whether the outlet of a pump is under water, so that water can flow back through it.
fn is_under_water(seen: &StateView<'_>, run: &PipedRun<'_>) -> bool {
    let end = 1 - intake(run);
    let drawn = if end == 0 {
        &run.drawn.from
    } else {
        &run.drawn.to
    };
    if matches!(drawn.opening, Some(Opening::Mouth { air_gap: true, .. })) {
        return false;
    }
    match run.facts.end_lips_m.get(end).copied().flatten() {
        Some(lip_m) => seen
            .head_m(run.end(end))
            .is_some_and(|level_m| level_m > lip_m + SAME_HEIGHT_M),
        None => true,
    }
}

/// Returns whether the pump is idle by design: it is off, has a float switch, is off in some operating mode, or runs
/// dry before `other` does.
fn stands_by_plan(seen: &StateView<'_>, idle: &PipedRun<'_>, other: &PipedRun<'_>) -> bool {
    let pump = idle.drawn.pump.as_ref();
    let mut ways = seen.layout.ways.iter();
    let dry_first = || match (lip_m(idle), lip_m(other)) {
        (Some(own_m), Some(other_m)) => own_m > other_m + SAME_HEIGHT_M,
        _ => false,
    };
    !idle.facts.pump_on
        || pump.is_some_and(|pump| pump.float.is_some())
        || ways.any(|way| way.pumps_off.contains(&idle.drawn.id))
        || (pump.is_some_and(|pump| pump.stops_when_dry) && dry_first())
}
