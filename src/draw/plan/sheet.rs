//! Plan on its own page, for files and paper.

use super::squares::{figure, unit};
use super::{Floorplan, PlanScene, RULER_LEFT, plan, room};
use crate::draw::axes::ladder::steps;
use crate::draw::axes::scale;
use crate::draw::canvas::touch::Trust;
use crate::draw::page::frame;
use crate::draw::page::frame::{FOOT, HEAD, NOTE_SIZE, SheetOptions};
use crate::draw::page::shape::{Anchor, Drawing, Ink, Mark, Rect, Shape, Stroke, Text, Weight, pt};
use crate::draw::page::site_photo::{Dots, SitePhoto};
use crate::draw::page::view::View;

use std::sync::Arc;

/// Bar scale: its smallest length, its height, and the room for it at the right of the foot, points.
const BAR: f64 = 90.0;
const TALL: f64 = 5.0;
const BAR_ROOM: f64 = 300.0;

/// Draws the plan of a layout on its own page, at a round scale, with a title and a note on its numbers.
pub fn sheet(sheet: &SheetOptions<'_>) -> Drawing {
    sheet_on(sheet, None)
}

/// Like [`sheet`], on top of the site photo if it was read.
pub fn sheet_on(sheet: &SheetOptions<'_>, dots: Option<Dots>) -> Drawing {
    let (width, height) = sheet.page;
    let positions = Floorplan::of(sheet.layout);
    let below = Rect {
        left: 0.0,
        top: 0.0,
        right: width,
        bottom: (height - HEAD - FOOT).max(60.0),
    };
    let fitted = View::true_to_scale(positions.bounds(), room(below));
    let round = scale::round(fitted.points_per_metre_up, sheet.units);
    let view = fitted.zoomed(
        round.points_per_metre / fitted.points_per_metre_up,
        fitted.page.centre(),
    );
    let drawn = plan(&PlanScene {
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
    let under = dots.zip(sheet.layout.underlay.as_ref());
    // The drawing is below its title.
    let below_head = view.moved(0.0, HEAD);
    let under =
        under.map(|(dots, underlay)| Arc::new(SitePhoto::laid(underlay, dots, &below_head)));
    let note = note(sheet, &positions, &round.words);
    let mut marks = frame::moved_down(drawn.drawing.marks, HEAD);
    let most = (width - RULER_LEFT - BAR_ROOM).max(100.0);
    marks.extend(frame::head_and_foot(sheet, RULER_LEFT, most, &note));
    marks.extend(bar(sheet, view.points_per_metre_up));
    Drawing {
        width,
        height,
        title: format!("Plan of {}", sheet.layout.title),
        marks,
        under,
    }
}

fn note(sheet: &SheetOptions<'_>, positions: &Floorplan, scale: &str) -> String {
    let mut note = format!("Seen from above, {scale} where printed at its size. ");
    if positions.without_place() > 0 {
        note.push_str(
            "Places are not given: parts are set out in a row, lengths are those of the file. ",
        );
    }
    let built = sheet.layout.vessels.iter().any(|part| part.already_built)
        || sheet.layout.runs.iter().any(|part| part.already_built);
    if built {
        note.push_str("A second line inside a wall: already built. ");
    }
    note.push_str(&frame::levels(sheet));
    note.push(' ');
    note.push_str(frame::CAUTION);
    note
}

/// Draws a bar scale with alternately filled steps at the right of the foot.
fn bar(sheet: &SheetOptions<'_>, points_per_metre: f64) -> Vec<Mark> {
    let (width, height) = sheet.page;
    let (_, step_m) = steps(sheet.units, points_per_metre, BAR / 5.0, BAR / 5.0);
    let unit = unit(sheet.units, step_m);
    let count: u8 = if unit == "in" { 4 } else { 5 };
    let top = height - 10.0;
    let at = |index: u8| width - 30.0 - f64::from(count - index) * step_m * points_per_metre;
    let block = |index: u8| Shape::Box {
        rect: Rect::between(pt(at(index), top), pt(at(index + 1), top + TALL)),
        radius: 0.0,
        fill: Some(if index.is_multiple_of(2) {
            Ink::Line
        } else {
            Ink::Page
        }),
        edge: Some(Stroke::new(Ink::Line, 0.8)),
    };
    let number = |index: u8| {
        // The second number has as many decimals as one step requires, the others as many as the whole bar.
        let digits_m = if index == 1 || unit == "in" {
            step_m
        } else {
            f64::from(count) * step_m
        };
        let number = figure(sheet.units, f64::from(index) * step_m, digits_m);
        let unit = if index == count {
            format!(" {unit}")
        } else {
            String::new()
        };
        Shape::Text(Text {
            at: pt(at(index), top - 3.0),
            anchor: Anchor::Middle,
            words: number + &unit,
            size: NOTE_SIZE - 1.0,
            weight: Weight::Regular,
            ink: Ink::SoftText,
        })
    };
    let shapes = (0..count).map(block).chain([0, 1, count].map(number));
    shapes.map(Mark::plain).collect()
}
