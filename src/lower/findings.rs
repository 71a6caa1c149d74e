//! Helpers to build findings in this module.

use crate::finding::{Code, Cure, Finding, Piece, Sentence, Severity};
use crate::layout::Id;
use crate::state::State;
use crate::units::Quantity;

/// A finding without numbers and cures.
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

/// A cure in words alone.
pub(super) fn advice(text: Vec<Piece>) -> Cure {
    Cure {
        text: Sentence(text),
        changes: Vec::new(),
    }
}

/// For a word that is not in the catalogue: the sentence that says so, and the nearest word that is.
pub(super) fn not_in_catalogue(
    run: &Id,
    text: Vec<Piece>,
    nearest: Option<&str>,
    otherwise: &str,
) -> Finding {
    let mut found = finding((Code::NotInCatalogue, Severity::Problem), &[run], text);
    let cure = match nearest {
        Some(word) => format!("Write “{word}”, the nearest in the catalogue, or {otherwise}."),
        None => format!("Choose one from the catalogue, or {otherwise}."),
    };
    found.cures.push(advice(vec![cure.into()]));
    found
}
