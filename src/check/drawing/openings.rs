//! Openings: their heights, their vents, and notches outside the range of their law.

use super::wording::{finding, with_limit};
use crate::finding::{Code, Finding, Piece, Severity};
use crate::layout::Id;
use crate::lower::problem::{NotchSize, OpeningHeight};
use crate::units::Quantity;

/// A return may pour in from above the rim; an opening that takes water in cannot stand there.
pub(super) fn above_rim(opening: &OpeningHeight, rim_m: f64) -> Finding {
    let mut text = height_of(opening);
    text.extend([
        ", above the rim at ".into(),
        Piece::Number(Quantity::Height, rim_m),
        ": the vessel spills before the run takes any water.".into(),
    ]);
    let about = [&opening.vessel, &opening.run];
    let found = finding((Code::CrestAboveRim, Severity::Problem), &about, text);
    with_limit(found, Quantity::Height, opening.height_m, rim_m)
}

pub(super) fn below_floor(opening: &OpeningHeight, floor_m: f64) -> Finding {
    let mut text = height_of(opening);
    text.extend([
        ", below the floor at ".into(),
        Piece::Number(Quantity::Height, floor_m),
        ".".into(),
    ]);
    let about = [&opening.vessel, &opening.run];
    let found = finding((Code::OpeningBelowFloor, Severity::Warning), &about, text);
    with_limit(found, Quantity::Height, opening.height_m, floor_m)
}

fn height_of(opening: &OpeningHeight) -> Vec<Piece> {
    vec![
        "The opening of ".into(),
        (&opening.run).into(),
        " in ".into(),
        (&opening.vessel).into(),
        " is at ".into(),
        Piece::Number(Quantity::Height, opening.height_m),
    ]
}

pub(super) fn unvented(run: &Id, at: &Id) -> Finding {
    let text = vec![
        "The overflow of ".into(),
        run.into(),
        " in ".into(),
        at.into(),
        " has no open vent: once it runs full it may prime as a siphon and draw the water down to its intake. "
            .into(),
        "The levels are those with air in it; those once it has primed stand beside them.".into(),
    ];
    finding((Code::MaySiphon, Severity::Warning), &[run, at], text)
}

pub(super) fn two_raised(run: &Id, at: &Id) -> Finding {
    let text = vec![
        run.into(),
        " is a raised-intake overflow at both ends; the one at ".into(),
        at.into(),
        " is computed as a plain upstand at its crest.".into(),
    ];
    finding((Code::MaySiphon, Severity::Warning), &[run, at], text)
}

pub(super) fn narrow_notch(run: &Id, size: NotchSize, value: f64, least: f64) -> Finding {
    let (quantity, unit) = match size {
        NotchSize::Width => (Quantity::Bore, " wide"),
        NotchSize::Angle => (Quantity::Ratio, " degrees"),
    };
    let text = vec![
        "The notch of ".into(),
        run.into(),
        " has ".into(),
        Piece::Number(quantity, value),
        unit.into(),
        "; its law was measured from ".into(),
        Piece::Number(quantity, least),
        " on. The water may stand a tenth of its head higher over it than computed.".into(),
    ];
    let found = finding((Code::NotchRange, Severity::Note), &[run], text);
    with_limit(found, quantity, value, least)
}
