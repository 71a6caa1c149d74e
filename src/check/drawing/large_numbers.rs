//! Numbers so large that they may be unit errors.

use super::wording::finding;
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::lower::problem::LargeNumber;
use crate::units::Quantity;

/// The wording of a number: the words before the part, those between the part and the number, and its quantity.
fn words(number: LargeNumber) -> (&'static str, &'static str, Quantity) {
    match number {
        LargeNumber::Bore => ("The bore of ", " is ", Quantity::Bore),
        LargeNumber::Length => ("The length of ", " is ", Quantity::Length),
        LargeNumber::Volume => ("The volume of ", " is ", Quantity::Volume),
        LargeNumber::Rim => ("The rim of ", " is at ", Quantity::Height),
        LargeNumber::MakeUp => ("The make-up of ", " is ", Quantity::Flow),
        LargeNumber::PumpFlow => ("The pump curve of ", " goes to ", Quantity::Flow),
        LargeNumber::PumpHead => ("The pump curve of ", " begins at ", Quantity::Head),
    }
}

/// One note on all parts with such a number, largest first.
pub(super) fn large(number: LargeNumber, parts: &[Id], value: f64, limit: f64) -> Finding {
    let (before, between, quantity) = words(number);
    let mut text: Vec<Piece> = vec![before.into()];
    text.extend(parts.iter().take(1).map(Piece::from));
    text.extend([between.into(), Piece::Number(quantity, value)]);
    text.extend(others(parts.len().saturating_sub(1)));
    text.push(". Is this meant?".into());
    let about: Vec<&Id> = parts.iter().collect();
    note(&about, text, quantity, [value, limit])
}

fn others(count: usize) -> Option<Piece> {
    match count {
        0 => None,
        1 => Some(", and one other is as large".into()),
        _ => Some(format!(", and {count} others are as large").into()),
    }
}

pub(super) fn wider(run: &Id, vessel: &Id, bore_m: f64, width_m: f64) -> Finding {
    let text = vec![
        "The pipe of ".into(),
        run.into(),
        " is wider than ".into(),
        vessel.into(),
        ": its bore is ".into(),
        Piece::Number(Quantity::Bore, bore_m),
        ". Is this meant?".into(),
    ];
    note(&[run, vessel], text, Quantity::Bore, [bore_m, width_m])
}

fn note(about: &[&Id], text: Vec<Piece>, quantity: Quantity, [value, limit]: [f64; 2]) -> Finding {
    let mut found = finding((Code::IsThisMeant, Severity::Note), about, text);
    found.quantity = quantity;
    found.measured = Some(value);
    found.limit = Some(limit).filter(|limit| limit.is_finite());
    found
}
