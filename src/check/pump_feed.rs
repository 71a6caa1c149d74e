//! Reports a pump that lacks water, or that water drives backwards.

use super::state_view::{PipedRun, SAME_HEIGHT_M, StateView, TRICKLE_M3_S};
use super::wording::{finding, flow, height, when, with_limit};
use crate::finding::{Code, Finding, Severity};
use crate::layout::{Direction, Opening};
use crate::states::report::{Control, PumpReport};
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let running = seen.pumps().filter(|(pump, _)| pump.on);
    let told = running.filter_map(|(pump, run)| {
        if pump.flow_m3_s < -TRICKLE_M3_S {
            Some(driven_backward(seen, pump))
        } else if is_starved(pump, &run) {
            Some(starved(seen, pump, &run))
        } else {
            None
        }
    });
    told.collect()
}

/// Index of the end that a pump draws from: 0 `from`, 1 `to`.
pub(super) fn intake(run: &PipedRun<'_>) -> usize {
    let pushes = run.drawn.pump.as_ref().map(|pump| pump.pushes);
    usize::from(pushes == Some(Direction::Backward))
}

pub(super) fn lip_m(run: &PipedRun<'_>) -> Option<f64> {
    run.facts.end_lips_m.get(intake(run)).copied().flatten()
}

/// Elevation above which water must stand for the pump to draw any, metres, and the words for it: the lip of its
/// intake, or the crest of a raised intake that passes nothing.
fn to_draw_m(pump: &PumpReport, run: &PipedRun<'_>) -> Option<(f64, &'static str)> {
    let end = if intake(run) == 0 {
        &run.drawn.from
    } else {
        &run.drawn.to
    };
    match end.opening {
        Some(Opening::RaisedIntake { crest_m, .. }) if pump.flow_m3_s.abs() <= TRICKLE_M3_S => {
            Some((crest_m, "the crest of its intake"))
        }
        _ => lip_m(run).map(|lip_m| (lip_m, "its intake")),
    }
}

/// Returns whether the intake of a pump limits its flow, or has no water over it.
pub(super) fn is_starved(pump: &PumpReport, run: &PipedRun<'_>) -> bool {
    if run.has_shut_valve() || pump.flow_m3_s < -TRICKLE_M3_S {
        return false;
    }
    let bare = match (pump.suction_level_m, to_draw_m(pump, run)) {
        (Some(level_m), Some((least_m, _))) => level_m <= least_m + SAME_HEIGHT_M,
        _ => false,
    };
    bare || run.here.control == Control::Inlet
}

fn starved(seen: &StateView<'_>, pump: &PumpReport, run: &PipedRun<'_>) -> Finding {
    let from = run.end(intake(run));
    let least = to_draw_m(pump, run);
    let mut text = vec![
        "The pump of ".into(),
        (&pump.run).into(),
        " is starved".into(),
        when(seen.report.state).into(),
        ": too little water stands over ".into(),
        least.map_or("its intake", |(_, what)| what).into(),
        " in ".into(),
        from.into(),
    ];
    let known = pump.suction_level_m.zip(least.map(|(least_m, _)| least_m));
    if let Some((level_m, least_m)) = known {
        text.extend([
            ", which is at ".into(),
            height(least_m),
            " with the level at ".into(),
            height(level_m),
        ]);
    }
    text.push(".".into());
    let kind = (Code::PumpStarved, Severity::Problem);
    let found = finding(seen, kind, &[&pump.id, &pump.run, from], text);
    match known {
        Some(heights) => with_limit(found, Quantity::Height, heights),
        None => with_limit(found, Quantity::Flow, (pump.flow_m3_s, f64::NAN)),
    }
}

fn driven_backward(seen: &StateView<'_>, pump: &PumpReport) -> Finding {
    let text = vec![
        "Water drives the pump of ".into(),
        (&pump.run).into(),
        " backwards: ".into(),
        flow(-pump.flow_m3_s),
        " flow through it against the way it pushes.".into(),
    ];
    let kind = (Code::PumpDrivenBackward, Severity::Problem);
    let found = finding(seen, kind, &[&pump.id, &pump.run], text);
    with_limit(found, Quantity::Flow, (pump.flow_m3_s, 0.0))
}
