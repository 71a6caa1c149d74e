//! Helpers that build findings on the drawing.

use crate::finding::{Code, Finding, Piece, Sentence, Severity};
use crate::layout::Id;
use crate::state::State;
use crate::units::Quantity;

/// A finding without numbers; the drawing is reported with the running state.
pub(super) fn finding(kind: (Code, Severity), about: &[&Id], text: Vec<Piece>) -> Finding {
    let (code, severity) = kind;
    Finding {
        code,
        severity,
        state: State::Running,
        about: about.iter().map(|id| (*id).clone()).collect(),
        text: Sentence(text),
        measured: None,
        limit: None,
        quantity: Quantity::Ratio,
        cures: Vec::new(),
    }
}

/// The finding with its measured value and limit, SI.
pub(super) fn with_limit(
    mut found: Finding,
    quantity: Quantity,
    measured: f64,
    limit: f64,
) -> Finding {
    found.measured = Some(measured);
    found.limit = Some(limit);
    found.quantity = quantity;
    found
}
