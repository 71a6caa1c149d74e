//! Spills that cannot get where they are to go.

use super::wording::finding;
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::lower::problem::{SpillTarget, SpillUphill};
use crate::units::Quantity;

pub(super) fn ring(ring: &[Id]) -> Finding {
    let mut text: Vec<Piece> = Vec::new();
    if ring.len() == 2 {
        text.extend(listed(ring));
        text.push(" name each other for their spill.".into());
    } else {
        text.push("The spills of ".into());
        text.extend(listed(ring));
        text.push(" lead round in a ring.".into());
    }
    text.push(" Spilled water would circulate without end, so it counts as lost.".into());
    let about: Vec<&Id> = ring.iter().collect();
    finding((Code::SpillsInARing, Severity::Problem), &about, text)
}

/// `a and b`, `a, b and c`.
fn listed(ids: &[Id]) -> Vec<Piece> {
    let mut text = Vec::new();
    for (place, id) in ids.iter().enumerate() {
        match place {
            0 => {}
            _ if place + 1 == ids.len() => text.push(" and ".into()),
            _ => text.push(", ".into()),
        }
        text.push(id.into());
    }
    text
}

pub(super) fn uphill(climb: &SpillUphill) -> Finding {
    let (from, to) = (&climb.from, &climb.to);
    let target = match climb.target {
        SpillTarget::Rim => ": the rim of ",
        SpillTarget::Level => ": the level of ",
    };
    let text = vec![
        from.into(),
        " cannot spill to ".into(),
        to.into(),
        target.into(),
        to.into(),
        " stands ".into(),
        Piece::Number(Quantity::Height, climb.height_m - climb.rim_m),
        " above the rim of ".into(),
        from.into(),
        ". What spills counts as lost.".into(),
    ];
    let mut found = finding((Code::SpillsUphill, Severity::Problem), &[from, to], text);
    found.measured = Some(climb.height_m).filter(|value| value.is_finite());
    found.limit = Some(climb.rim_m).filter(|value| value.is_finite());
    found.quantity = Quantity::Height;
    found
}
