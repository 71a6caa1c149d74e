//! A section that fills a page of its own: for files and paper.

use super::{Plan, STAFF_WIDTH, Scene, Trust, room, section};
use crate::draw::shape::{Anchor, Drawing, Ink, Mark, Rect, Shape, Text, Weight, pt};
use crate::draw::text;
use crate::draw::view::View;
use crate::finding::Finding;
use crate::layout::Layout;
use crate::states::report::StateReport;
use crate::units::UnitSystem;

/// Height of the title, points.
const HEAD: f64 = 44.0;
/// Height of the line under the drawing, points.
const FOOT: f64 = 22.0;
const TITLE_SIZE: f64 = 18.0;
const NOTE_SIZE: f64 = 10.5;

/// What a sheet is made from.
#[derive(Clone, Copy)]
pub struct Sheet<'a> {
    /// The layout.
    pub layout: &'a Layout,
    /// Where the water stands while running; none: not known.
    pub running: Option<&'a StateReport>,
    /// What is wrong.
    pub findings: &'a [Finding],
    /// The units of the numbers.
    pub units: UnitSystem,
    /// Width and height of the page, points.
    pub page: (f64, f64),
}

/// The section of a layout on a page of its own, with its title and what the numbers are.
pub fn sheet(sheet: &Sheet<'_>) -> Drawing {
    let (width, height) = sheet.page;
    let plan = Plan::of(sheet.layout);
    let below = Rect {
        left: 0.0,
        top: 0.0,
        right: width,
        bottom: (height - HEAD - FOOT).max(40.0),
    };
    let view = View::fitting(plan.bounds(), room(below));
    let drawn = section(&Scene {
        layout: sheet.layout,
        plan: &plan,
        view,
        water: sheet.running,
        trust: Trust::Sure,
        findings: sheet.findings,
        units: sheet.units,
        band: None,
        selected: &[],
        hovered: None,
    });
    let mut marks: Vec<Mark> = drawn.drawing.marks;
    for mark in &mut marks {
        move_down(&mut mark.shape, HEAD);
    }
    marks.extend(head_and_foot(sheet, &view));
    Drawing {
        width,
        height,
        title: format!("Section of {}", sheet.layout.title),
        marks,
    }
}

/// The title over the drawing and what its numbers are under it.
fn head_and_foot(sheet: &Sheet<'_>, view: &View) -> [Mark; 2] {
    let (width, height) = sheet.page;
    let fit = |words: &str, size: f64, weight: Weight, most: f64| {
        text::fit(words, size, weight, most).into_owned()
    };
    let title = &sheet.layout.title;
    let note = note(sheet, view);
    [
        words(
            (14.0, 28.0),
            fit(title, TITLE_SIZE, Weight::Strong, width - 28.0),
            (TITLE_SIZE, Weight::Strong, Ink::Text),
        ),
        words(
            (STAFF_WIDTH, height - 8.0),
            fit(&note, NOTE_SIZE, Weight::Regular, width - STAFF_WIDTH - 8.0),
            (NOTE_SIZE, Weight::Regular, Ink::SoftText),
        ),
    ]
}

fn words((x, y): (f64, f64), words: String, (size, weight, ink): (f64, Weight, Ink)) -> Mark {
    Mark {
        shape: Shape::Text(Text {
            at: pt(x, y),
            anchor: Anchor::Start,
            words,
            size,
            weight,
            ink,
        }),
        part: None,
        strength: 1.0,
    }
}

fn note(sheet: &Sheet<'_>, view: &View) -> String {
    let state = match sheet.running {
        Some(report) => format!("Levels while {}.", report.state.title()),
        None => "Levels are not known.".to_owned(),
    };
    let stretch = view.points_per_metre_up / view.points_per_metre_along;
    let scale = if stretch > 1.05 {
        format!("Heights are drawn {stretch:.1} times as large as lengths.")
    } else {
        "Heights and lengths have one scale.".to_owned()
    };
    format!(
        "{state} {scale} All results are estimates for planning; local code and licensed practice decide."
    )
}

fn move_down(shape: &mut Shape, by: f64) {
    let points = |points: &mut Vec<crate::draw::shape::Point>| {
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
