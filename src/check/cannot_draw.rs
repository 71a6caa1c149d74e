//! Reports a joint where more is drawn than its runs supply, or more is let in than they take.

use super::state_view::StateView;
use super::wording::{finding, flow, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::{Id, Joint};
use crate::units::Quantity;

/// Shortfall that is allowed, m³/s: a thousand times the solver's tolerance.
const MISSING_M3_S: f64 = 1e-6;

pub(super) fn find(seen: &StateView<'_>) -> Vec<Finding> {
    let joints = seen.layout.joints.iter();
    let fed = joints.filter(|joint| joint.make_up_m3_s != 0.0);
    fed.filter_map(|joint| of_joint(seen, joint)).collect()
}

fn of_joint(seen: &StateView<'_>, joint: &Joint) -> Option<Finding> {
    let drawn = joint.make_up_m3_s < 0.0;
    let wanted_m3_s = joint.make_up_m3_s.abs();
    let into = seen.meeting(&joint.id).map(|run| {
        let sign = f64::from(u8::from(*run.end(1) == joint.id))
            - f64::from(u8::from(*run.end(0) == joint.id));
        sign * run.here.flow_m3_s
    });
    let brought_m3_s: f64 = into.sum();
    let passes_m3_s = if drawn { brought_m3_s } else { -brought_m3_s };
    if passes_m3_s >= wanted_m3_s - MISSING_M3_S {
        return None;
    }
    let id = &joint.id;
    let passes_m3_s = passes_m3_s.max(0.0);
    let (code, text) = if drawn {
        let words = [" are to be drawn at ", ", and its runs bring "];
        (
            Code::CannotDraw,
            said((wanted_m3_s, passes_m3_s), id, words),
        )
    } else {
        let words = [" are to be let in at ", ", and its runs can take "];
        (
            Code::TooMuchForJoint,
            said((wanted_m3_s, passes_m3_s), id, words),
        )
    };
    let found = finding(seen, (code, Severity::Problem), &[id], text);
    Some(with_limit(
        found,
        Quantity::Flow,
        (passes_m3_s, wanted_m3_s),
    ))
}

fn said((wanted_m3_s, passes_m3_s): (f64, f64), id: &Id, words: [&str; 2]) -> Vec<Piece> {
    let [wish, runs] = words;
    vec![
        flow(wanted_m3_s),
        wish.into(),
        id.into(),
        runs.into(),
        flow(passes_m3_s),
        ".".into(),
    ]
}
