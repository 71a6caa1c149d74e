//! Faults of openings.

use super::Book;
use super::range::{BORE, ELEVATION, LENGTH, LOSS_K, ROUGHNESS};
use crate::layout::{Opening, Rise, Vent};

pub(super) fn check(book: &mut Book, field: &str, opening: &Opening) {
    let word = word(opening);
    match opening {
        Opening::Upstand { crest_m, .. } => {
            book.number(format_args!("{field}.{word}.crest_m"), *crest_m, &ELEVATION);
        }
        Opening::SideHole { invert_m, .. } => {
            let invert = format!("{field}.{word}.invert_m");
            book.number(invert, *invert_m, &ELEVATION);
        }
        Opening::Mouth { lip_m, .. } => {
            book.number(format_args!("{field}.{word}.lip_m"), *lip_m, &ELEVATION);
        }
        Opening::Floor { lip_m, .. } | Opening::Submerged { lip_m, .. } => {
            let lip = format!("{field}.{word}.lip_m");
            book.number_if_given(lip, *lip_m, &ELEVATION);
        }
        Opening::RaisedIntake {
            intake_m,
            crest_m,
            rise: leg,
            vent,
            ..
        } => {
            let field = format!("{field}.{word}");
            book.number(format_args!("{field}.intake_m"), *intake_m, &ELEVATION);
            book.number(format_args!("{field}.crest_m"), *crest_m, &ELEVATION);
            rise(book, &format!("{field}.rise"), leg);
            if let Vent::OpenTo { top_m } = vent {
                let top = format!("{field}.vent.open_to.top_m");
                book.number(top, *top_m, &ELEVATION);
            }
        }
    }
    let bore = format!("{field}.{word}.bore_m");
    book.number_if_given(bore, opening.bore_m(), &BORE);
}

/// The word of the kind in a file.
fn word(opening: &Opening) -> &'static str {
    match opening {
        Opening::Upstand { .. } => "upstand",
        Opening::SideHole { .. } => "side_hole",
        Opening::Floor { .. } => "floor",
        Opening::Mouth { .. } => "mouth",
        Opening::Submerged { .. } => "submerged",
        Opening::RaisedIntake { .. } => "raised_intake",
    }
}

fn rise(book: &mut Book, field: &str, rise: &Rise) {
    let rows = [
        ("length_m", rise.length_m, &LENGTH),
        ("bore_m", rise.bore_m, &BORE),
        ("roughness_m", rise.roughness_m, &ROUGHNESS),
        ("total_k", rise.total_k, &LOSS_K),
    ];
    for (name, value, range) in rows {
        book.number_if_given(format_args!("{field}.{name}"), value, range);
    }
}
