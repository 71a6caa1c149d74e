//! A joint that more is drawn from than its runs bring.

use super::seen::Seen;
use super::tell::{finding, flow, held_to};
use crate::finding::{Code, Finding, Severity};
use crate::layout::Joint;
use crate::units::Quantity;

/// What may be missing, m³/s: a thousand times the solver's own tolerance.
const MISSING_M3_S: f64 = 1e-6;

pub(super) fn find(seen: &Seen<'_>) -> Vec<Finding> {
    let drawn_from = seen
        .layout
        .joints
        .iter()
        .filter(|joint| joint.make_up_m3_s < 0.0);
    drawn_from
        .filter_map(|joint| of_joint(seen, joint))
        .collect()
}

fn of_joint(seen: &Seen<'_>, joint: &Joint) -> Option<Finding> {
    let wanted_m3_s = -joint.make_up_m3_s;
    let into = seen.meeting(&joint.id).map(|run| {
        let sign = f64::from(u8::from(*run.end(1) == joint.id))
            - f64::from(u8::from(*run.end(0) == joint.id));
        sign * run.here.flow_m3_s
    });
    let comes_m3_s: f64 = into.sum();
    if comes_m3_s >= wanted_m3_s - MISSING_M3_S {
        return None;
    }
    let id = &joint.id;
    let text = vec![
        flow(wanted_m3_s),
        " are to be drawn at ".into(),
        id.into(),
        ", and its runs bring ".into(),
        flow(comes_m3_s.max(0.0)),
        ".".into(),
    ];
    let found = finding(seen, (Code::CannotDraw, Severity::Problem), &[id], text);
    Some(held_to(found, Quantity::Flow, (comes_m3_s, wanted_m3_s)))
}
