//! Hazen–Williams in pipes and water that it is not meant for.

use super::wording::{finding, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::units::Quantity;

pub(super) fn bore(run: &Id, bore_m: f64, least_m: f64) -> Finding {
    let text = vec![
        run.into(),
        " uses Hazen–Williams with a bore of ".into(),
        Piece::Number(Quantity::Bore, bore_m),
        "; it is meant for ".into(),
        Piece::Number(Quantity::Bore, least_m),
        " and more.".into(),
    ];
    let kind = (Code::HazenWilliamsRange, Severity::Warning);
    with_limit(finding(kind, &[run], text), Quantity::Bore, bore_m, least_m)
}

/// One finding for all runs.
pub(super) fn temperature(runs: &[Id], temperature_c: f64, [low, high]: [f64; 2]) -> Finding {
    let text = vec![
        "Hazen–Williams is used with water at ".into(),
        Piece::Number(Quantity::Temperature, temperature_c),
        "; it is meant for ordinary cold water, here taken as ".into(),
        Piece::Number(Quantity::Temperature, low),
        " to ".into(),
        Piece::Number(Quantity::Temperature, high),
        ".".into(),
    ];
    let about: Vec<&Id> = runs.iter().collect();
    let found = finding((Code::HazenWilliamsRange, Severity::Warning), &about, text);
    let limit_c = if temperature_c < low { low } else { high };
    with_limit(found, Quantity::Temperature, temperature_c, limit_c)
}
