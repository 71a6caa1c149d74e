//! Reports a lowest vessel for which no fill level works.

use crate::finding::{Code, Cure, Finding, Piece, Sentence, Severity};
use crate::state::State;
use crate::states::FillMarks;
use crate::units::Quantity;

/// Returns the finding for fill marks with no room between them; none where there is room, or where the vessel is
/// topped up automatically and nobody fills it.
pub fn no_room(marks: &FillMarks) -> Option<Finding> {
    if marks.topped_up {
        return None;
    }
    let missing_m3 = match marks.between_m3() {
        Some(between_m3) if between_m3 >= 0.0 => return None,
        Some(between_m3) => Some(-between_m3),
        None => None,
    };
    let vessel = &marks.vessel;
    let mut text: Vec<Piece> = vec![
        "No fill level works for ".into(),
        vessel.into(),
        ": it cannot both cover the intake while starting and hold what runs down once the pump stops"
            .into(),
    ];
    if let Some(missing_m3) = missing_m3 {
        text.extend([
            "; ".into(),
            Piece::Number(Quantity::Volume, missing_m3),
            " of room is missing".into(),
        ]);
    }
    text.push(".".into());
    let cure = vec![
        "Make ".into(),
        vessel.into(),
        " larger or its rim higher, set the intake lower, or let less run down: crests higher above it, a check \
         valve, a siphon break."
            .into(),
    ];
    Some(Finding {
        code: Code::NoRoomToFill,
        severity: Severity::Warning,
        state: State::Starting,
        about: vec![vessel.clone(), marks.pump.clone()],
        text: Sentence(text),
        measured: missing_m3.map(|missing_m3| -missing_m3),
        limit: missing_m3.map(|_| 0.0),
        quantity: Quantity::Volume,
        cures: vec![Cure {
            text: Sentence(cure),
            changes: Vec::new(),
        }],
    })
}
