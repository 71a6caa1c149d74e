//! Reports a pump that draws from a joint that no water can reach, because a valve before it is shut.

use super::pump_feed::intake;
use super::reach::{SearchDirection, is_joint, reach};
use super::state_view::{PipedRun, StateView, TRICKLE_M3_S};
use super::wording::{finding, when, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::states::report::PumpReport;
use crate::units::Quantity;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let running = seen.pumps().filter(|(pump, _)| pump.on);
    running
        .filter_map(|(pump, run)| {
            let shut = shut_before(seen, pump, &run)?;
            Some(reported(seen, pump, &shut))
        })
        .collect()
}

/// Returns the shut runs that leave a pump without flow; none where water can reach the pump, or it moves some.
pub(super) fn shut_before<'a>(
    seen: &StateView<'a>,
    pump: &PumpReport,
    run: &PipedRun<'a>,
) -> Option<Vec<&'a Id>> {
    let from = run.end(intake(run));
    let stands = pump.flow_m3_s.abs() <= TRICKLE_M3_S;
    if !stands || run.has_shut_valve() || !is_joint(seen, from) {
        return None;
    }
    let before = reach(seen, from, SearchDirection::Back, &[&run.drawn.id]);
    let mut parts = before.parts.iter();
    let dead = parts.all(|part| is_joint(seen, part) && !is_fed(seen, part));
    (dead && !before.shut.is_empty()).then_some(before.shut)
}

/// Returns whether make-up water comes in at the joint itself.
fn is_fed(seen: &StateView<'_>, part: &Id) -> bool {
    let mut joints = seen.layout.joints.iter();
    joints.any(|joint| joint.id == *part && joint.make_up_m3_s > 0.0)
}

fn reported<'a>(seen: &StateView<'a>, pump: &'a PumpReport, shut: &[&'a Id]) -> Finding {
    let mut text: Vec<Piece> = vec!["The pump of ".into(), (&pump.run).into()];
    text.extend([" cannot draw water".into(), when(seen.report.state).into()]);
    text.push(": ".into());
    for (place, id) in shut.iter().enumerate() {
        match place {
            0 => {}
            _ if place + 1 == shut.len() => text.push(" and ".into()),
            _ => text.push(", ".into()),
        }
        text.push((*id).into());
    }
    let verb = if shut.len() == 1 { " is" } else { " are" };
    text.push(format!("{verb} shut before it.").into());
    let mut about = vec![&pump.id, &pump.run];
    about.extend(shut);
    let kind = (Code::SuctionShut, Severity::Problem);
    let found = finding(seen, kind, &about, text);
    with_limit(found, Quantity::Flow, (pump.flow_m3_s, f64::NAN))
}

/// Returns whether the pump draws from a joint, so that a blocked path that starves it is its suction.
pub(super) fn is_suction(seen: &StateView<'_>, pump: &Id) -> bool {
    let mut pumps = seen.pumps().filter(|(one, _)| one.id == *pump);
    pumps.any(|(_, run)| is_joint(seen, run.end(intake(&run))))
}

/// Returns the words for such a pump, as the middle of a sentence.
pub(super) fn without_water<'a>(seen: &StateView<'a>, pump: &'a Id) -> Vec<Piece> {
    let mut text: Vec<Piece> = seen.pump_words(pump).into();
    text.push(" has no way to draw water".into());
    text
}
