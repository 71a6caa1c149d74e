//! Vessels that are drawn in one place.

use super::findings;
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::{Layout, Overlap, TOUCH_M, overlaps};
use crate::units::Quantity;

pub(super) fn findings(layout: &Layout, out: &mut Vec<Finding>) {
    out.extend(overlaps(layout).iter().map(of_pair));
}

fn of_pair(pair: &Overlap<'_>) -> Finding {
    let [one, other] = pair.vessels;
    let text = vec![
        one.into(),
        " and ".into(),
        other.into(),
        " stand in each other: they reach ".into(),
        Piece::Number(Quantity::Height, pair.by_m),
        " into each other, in the plan and in height.".into(),
    ];
    let kind = (Code::VesselsOverlap, Severity::Warning);
    let mut found = findings::finding(kind, &[one, other], text);
    found.measured = Some(pair.by_m);
    found.limit = Some(TOUCH_M);
    found.quantity = Quantity::Height;
    let cure = vec![
        "Move ".into(),
        one.into(),
        " or ".into(),
        other.into(),
        ".".into(),
    ];
    found.cures.push(findings::advice(cure));
    found
}
