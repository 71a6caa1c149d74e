//! Section on its own page, for files and paper.

use super::{STAFF_WIDTH, SectionLayout, SectionScene, Trust, room, section};
use crate::draw::page::frame;
use crate::draw::page::frame::{FOOT, HEAD, SheetOptions};
use crate::draw::page::shape::{Drawing, Rect};
use crate::draw::page::view::View;

/// Draws the section of a layout on its own page, with a title and a note on its numbers.
pub fn sheet(sheet: &SheetOptions<'_>) -> Drawing {
    let (width, height) = sheet.page;
    let positions = SectionLayout::of(sheet.layout);
    let below = Rect {
        left: 0.0,
        top: 0.0,
        right: width,
        bottom: (height - HEAD - FOOT).max(40.0),
    };
    let view = View::fitting(positions.bounds(), room(below));
    let drawn = section(&SectionScene {
        layout: sheet.layout,
        positions: &positions,
        view,
        water: sheet.running,
        other: None,
        trust: Trust::Sure,
        findings: sheet.findings,
        units: sheet.units,
        band: None,
        selected: &[],
        hovered: None,
    });
    let mut marks = frame::moved_down(drawn.drawing.marks, HEAD);
    let most = width - STAFF_WIDTH - 8.0;
    let note = note(sheet, &view);
    marks.extend(frame::head_and_foot(sheet, STAFF_WIDTH, most, &note));
    Drawing {
        width,
        height,
        title: format!("Section of {}", sheet.layout.title),
        marks,
        under: None,
    }
}

fn note(sheet: &SheetOptions<'_>, view: &View) -> String {
    let stretch = view.points_per_metre_up / view.points_per_metre_along;
    let scale = if stretch > 1.05 {
        format!("Heights are drawn {stretch:.1} times as large as lengths.")
    } else {
        "Heights and lengths have one scale.".to_owned()
    };
    let built = sheet.layout.vessels.iter().any(|part| part.already_built)
        || sheet.layout.runs.iter().any(|part| part.already_built);
    let built = if built {
        " A second line inside a wall: already built."
    } else {
        ""
    };
    let levels = frame::levels(sheet);
    format!("{levels} {scale}{built} {}", frame::CAUTION)
}
