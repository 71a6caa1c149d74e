//! Faults of the picture under the plan. Whether its file exists is not checked here.

use super::FaultList;
use crate::layout::Underlay;
use crate::layout::range::{DOT, PLAN, SHARE, TURN};

pub(super) fn check(book: &mut FaultList, underlay: &Underlay) {
    book.words("underlay.file", &underlay.file);
    if underlay.file.trim().is_empty() {
        book.add(
            "underlay.file",
            "`underlay.file` names no file".into(),
            "name the file with the picture, or take `underlay` out".into(),
        );
    }
    book.number("underlay.at.x_m", underlay.at.x_m, &PLAN);
    book.number("underlay.at.y_m", underlay.at.y_m, &PLAN);
    let scale = underlay.metres_per_pixel;
    book.number("underlay.metres_per_pixel", scale, &DOT);
    book.number("underlay.turned_deg", underlay.turned_deg, &TURN);
    book.number("underlay.strength", underlay.strength, &SHARE);
}
