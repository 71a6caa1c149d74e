//! Faults of openings.

use super::{FaultList, FaultText};
use crate::layout::range::{ANGLE, BORE, COEFFICIENT, ELEVATION, LENGTH, LOSS_K, ROUGHNESS, SIZE};
use crate::layout::{NotchShape, Opening, Rise, Vent};

pub(super) fn check(book: &mut FaultList, field: &str, opening: &Opening) {
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
        Opening::RaisedIntake { .. } => raised(book, &format!("{field}.{word}"), opening),
        Opening::Notch { .. } => notch(book, &format!("{field}.{word}"), opening),
    }
    let bore = format!("{field}.{word}.bore_m");
    book.number_if_given(bore, opening.bore_m(), &BORE);
}

/// Returns the name of the opening kind in a file.
fn word(opening: &Opening) -> &'static str {
    match opening {
        Opening::Upstand { .. } => "upstand",
        Opening::SideHole { .. } => "side_hole",
        Opening::Floor { .. } => "floor",
        Opening::Mouth { .. } => "mouth",
        Opening::Submerged { .. } => "submerged",
        Opening::RaisedIntake { .. } => "raised_intake",
        Opening::Notch { .. } => "notch",
    }
}

fn raised(book: &mut FaultList, field: &str, opening: &Opening) {
    let Opening::RaisedIntake {
        intake_m,
        crest_m,
        rise: leg,
        vent,
        ..
    } = opening
    else {
        return;
    };
    book.number(format_args!("{field}.intake_m"), *intake_m, &ELEVATION);
    book.number(format_args!("{field}.crest_m"), *crest_m, &ELEVATION);
    rise(book, &format!("{field}.rise"), leg);
    if let Vent::OpenTo { top_m } = vent {
        let top = format!("{field}.vent.open_to.top_m");
        book.number(top, *top_m, &ELEVATION);
    }
}

fn notch(book: &mut FaultList, field: &str, opening: &Opening) {
    let Opening::Notch {
        crest_m,
        shape,
        weir,
    } = opening
    else {
        return;
    };
    book.number(format_args!("{field}.crest_m"), *crest_m, &ELEVATION);
    book.number_if_given(format_args!("{field}.weir"), *weir, &COEFFICIENT);
    let field = format!("{field}.shape");
    match shape {
        NotchShape::Vee { angle_deg } => {
            book.number(format_args!("{field}.vee.angle_deg"), *angle_deg, &ANGLE);
        }
        NotchShape::Rectangular { width_m, channel_m } => {
            let channel = format!("{field}.rectangular.channel_m");
            book.number(format_args!("{field}.rectangular.width_m"), *width_m, &SIZE);
            book.number_if_given(&channel, *channel_m, &SIZE);
            if let Some(channel_m) = channel_m.filter(|channel_m| channel_m < width_m) {
                book.say(
                    &channel,
                    FaultText::with(
                        &format!("`{channel}` is {{}}, less than the notch with {{}}"),
                        &[(channel_m, "m"), (*width_m, "m")],
                    ),
                    "give the width of the channel that leads to the notch, at least its own, or leave it out".into(),
                );
            }
        }
    }
}

fn rise(book: &mut FaultList, field: &str, rise: &Rise) {
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
