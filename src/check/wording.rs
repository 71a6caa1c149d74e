//! Helpers that build findings and their sentences.

use super::state_view::StateView;
use crate::finding::{Code, Finding, Piece, Sentence, Severity};
use crate::layout::Id;
use crate::state::State;
use crate::units::Quantity;

/// Returns a finding in the state that is checked, without numbers.
pub(super) fn finding(
    seen: &StateView<'_>,
    kind: (Code, Severity),
    about: &[&Id],
    text: Vec<Piece>,
) -> Finding {
    let (code, severity) = kind;
    Finding {
        code,
        severity,
        state: seen.report.state,
        about: about.iter().map(|id| (*id).clone()).collect(),
        text: Sentence(text),
        measured: None,
        limit: None,
        quantity: Quantity::Ratio,
        cures: Vec::new(),
    }
}

/// Returns the finding with its measured value and limit, SI. A value that is not finite is left out.
pub(super) fn with_limit(mut found: Finding, quantity: Quantity, values: (f64, f64)) -> Finding {
    let (measured, limit) = values;
    found.measured = Some(measured).filter(|value| value.is_finite());
    found.limit = Some(limit).filter(|value| value.is_finite());
    found.quantity = quantity;
    found
}

/// Returns the words for the state, for the middle of a sentence.
pub(super) fn when(state: State) -> &'static str {
    match state {
        State::Rest => " at rest",
        State::Starting => " while starting",
        State::Running => " while running",
        State::Fouled => " while running fouled",
        State::Blocked => " with a path blocked",
        State::Stopped => " once stopped",
    }
}

pub(super) fn height(value_m: f64) -> Piece {
    Piece::Number(Quantity::Height, value_m)
}

pub(super) fn flow(value_m3_s: f64) -> Piece {
    Piece::Number(Quantity::Flow, value_m3_s)
}

pub(super) fn head(value_m: f64) -> Piece {
    Piece::Number(Quantity::Head, value_m)
}

pub(super) fn volume(value_m3: f64) -> Piece {
    Piece::Number(Quantity::Volume, value_m3)
}

pub(super) fn time(value_s: f64) -> Piece {
    Piece::Number(Quantity::Time, value_s)
}

pub(super) fn velocity(value_m_s: f64) -> Piece {
    Piece::Number(Quantity::Velocity, value_m_s)
}
