//! Water that leaves at the vent of a raised-intake overflow.

use super::seen::{Piped, SAME_M, Seen};
use super::tell::{finding, height, held_to, when};
use crate::finding::{Code, Finding, Severity};
use crate::layout::{Id, Opening, Vent};
use crate::units::Quantity;

pub(super) fn find(seen: &Seen<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for run in &seen.runs {
        for (end, drawn) in [&run.drawn.from, &run.drawn.to].into_iter().enumerate() {
            if let Some(Opening::RaisedIntake {
                vent: Vent::OpenTo { top_m },
                ..
            }) = drawn.opening
            {
                found.extend(of_vent(seen, run, (end, &drawn.at), top_m));
            }
        }
    }
    found
}

/// The grade at the vent is the level of the vessel less what the rising leg loses.
fn of_vent(
    seen: &Seen<'_>,
    run: &Piped<'_>,
    (end, at): (usize, &Id),
    top_m: f64,
) -> Option<Finding> {
    let flow_m3_s = run.here.flow_m3_s.abs();
    let leaves_by_it = run.flows() && run.upstream() == end;
    let rise = run.facts.rise.as_ref().filter(|_| leaves_by_it);
    let rise_m = rise.map_or(0.0, |rise| rise.at(flow_m3_s).value);
    let grade_m = seen.head_m(at)? - rise_m;
    if grade_m <= top_m + SAME_M {
        return None;
    }
    let id = &run.drawn.id;
    let text = vec![
        "Water leaves at the vent of ".into(),
        id.into(),
        " in ".into(),
        at.into(),
        when(seen.report.state).into(),
        ": the grade there is at ".into(),
        height(grade_m),
        " and its top at ".into(),
        height(top_m),
        ".".into(),
    ];
    let found = finding(seen, (Code::VentSpills, Severity::Problem), &[id, at], text);
    Some(held_to(found, Quantity::Height, (grade_m, top_m)))
}
