//! Parts that nothing reaches, ends that lead nowhere, vessels in one place.

use super::wording::{finding, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::units::Quantity;

pub(super) fn not_reached(part: &Id) -> Finding {
    let text = vec!["No run reaches ".into(), part.into(), ".".into()];
    finding((Code::NotConnected, Severity::Note), &[part], text)
}

pub(super) fn ends_nowhere(run: &Id, missing: &Id) -> Finding {
    let text = vec![
        run.into(),
        format!(" ends at “{missing}”, which is not in the layout; it is computed as shut.").into(),
    ];
    finding((Code::NotConnected, Severity::Problem), &[run], text)
}

pub(super) fn overlap([one, other]: [&Id; 2], by_m: f64, limit_m: f64) -> Finding {
    let text = vec![
        one.into(),
        " and ".into(),
        other.into(),
        " stand in each other: they reach ".into(),
        Piece::Number(Quantity::Height, by_m),
        " into each other, in the plan and in height.".into(),
    ];
    let kind = (Code::VesselsOverlap, Severity::Warning);
    let found = finding(kind, &[one, other], text);
    with_limit(found, Quantity::Height, by_m, limit_m)
}
