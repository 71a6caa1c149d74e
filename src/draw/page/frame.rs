//! Title above and note below a drawing on its own page.

use super::shape::{Anchor, Ink, Mark, Point, Shape, Text, Weight, pt};
use super::text;
use crate::finding::Finding;
use crate::layout::Layout;
use crate::states::report::StateReport;
use crate::units::UnitSystem;

/// Height of the title, points.
pub(in crate::draw) const HEAD: f64 = 44.0;
/// Height of the note below the drawing, points.
pub(in crate::draw) const FOOT: f64 = 22.0;
const TITLE_SIZE: f64 = 18.0;
pub(in crate::draw) const NOTE_SIZE: f64 = 10.5;

/// Caution at the end of every note.
pub(in crate::draw) const CAUTION: &str =
    "All results are estimates for planning; local code and licensed practice decide.";

/// Input of a sheet.
#[derive(Clone, Copy)]
pub struct SheetOptions<'a> {
    /// The layout.
    pub layout: &'a Layout,
    /// Results while running; `None`: not known.
    pub running: Option<&'a StateReport>,
    /// Findings of the check.
    pub findings: &'a [Finding],
    /// Units of the numbers.
    pub units: UnitSystem,
    /// Width and height of the page, points.
    pub page: (f64, f64),
}

/// Returns the note on which levels are shown.
pub(in crate::draw) fn levels(sheet: &SheetOptions<'_>) -> String {
    match sheet.running {
        Some(report) => format!("Levels while {}.", report.state.title()),
        None => "Levels are not known.".to_owned(),
    }
}

/// Returns the title above the drawing and a note below it, from `left` and at most `most` wide, points.
pub(in crate::draw) fn head_and_foot(
    sheet: &SheetOptions<'_>,
    left: f64,
    most: f64,
    note: &str,
) -> [Mark; 2] {
    let (width, height) = sheet.page;
    let fit = |words: &str, size: f64, weight: Weight, most: f64| {
        text::fit(words, size, weight, most).into_owned()
    };
    let title = &sheet.layout.title;
    [
        words(
            (14.0, 28.0),
            fit(title, TITLE_SIZE, Weight::Strong, width - 28.0),
            TITLE_SIZE,
            Weight::Strong,
            Ink::Text,
        ),
        words(
            (left, height - 8.0),
            fit(note, NOTE_SIZE, Weight::Regular, most),
            NOTE_SIZE,
            Weight::Regular,
            Ink::SoftText,
        ),
    ]
}

fn words(at: (f64, f64), words: String, size: f64, weight: Weight, ink: Ink) -> Mark {
    let (x, y) = at;
    Mark::plain(Shape::Text(Text {
        at: pt(x, y),
        anchor: Anchor::Start,
        words,
        size,
        weight,
        ink,
    }))
}

/// Moves marks down the page by `by` points.
pub(in crate::draw) fn moved_down(mut marks: Vec<Mark>, by: f64) -> Vec<Mark> {
    for mark in &mut marks {
        move_down(&mut mark.shape, by);
    }
    marks
}

fn move_down(shape: &mut Shape, by: f64) {
    let points = |points: &mut Vec<Point>| {
        for point in points {
            point.y += by;
        }
    };
    match shape {
        Shape::Line { points: all, .. } => points(all),
        Shape::Area { corners, .. } => points(corners),
        Shape::Box { rect, .. } => {
            rect.top += by;
            rect.bottom += by;
        }
        Shape::Circle { centre, .. } => centre.y += by,
        Shape::Text(text) => text.at.y += by,
    }
}
