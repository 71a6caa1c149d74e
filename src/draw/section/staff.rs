//! The levelling staff at the left edge: every height is read against it.

use super::paper::Paper;
use crate::draw::ladder::steps;
use crate::draw::shape::{Anchor, Dash, Ink, Rect, Shape, Stroke, Text, Weight, pt};
use crate::draw::text;
use crate::draw::touch::Pick;
use crate::layout::{Opening, RunEnd};
use crate::units::convert::FOOT_M;
use crate::units::{self, Quantity, UnitSystem};

/// Where the staff stands, points from the left edge.
const LEFT: f64 = 10.0;
const WIDTH: f64 = 11.0;
/// Least height of a block of the staff, and from one number to the next, points.
const LEAST_BLOCK: f64 = 9.0;
const LEAST_NUMBER: f64 = 40.0;
const SIZE: f64 = 10.5;

pub(super) fn draw(paper: &mut Paper<'_>) {
    strip(paper);
    let view = paper.scene.view;
    let shown = view.shown();
    let (block, number) = steps(
        paper.scene.units,
        view.points_per_metre_up,
        (LEAST_BLOCK, LEAST_NUMBER),
    );
    blocks(paper, (shown.low_m, shown.high_m), block);
    let marked = marked_height_m(paper);
    if let Some(z_m) = marked {
        mark(paper, z_m);
    }
    let taken = marked.map(|z_m| view.y(z_m));
    let low = (shown.low_m / number).floor();
    let mut step = low;
    while step * number <= shown.high_m + number {
        let y = view.y(step * number);
        let covered = taken.is_some_and(|taken| (taken - y).abs() < SIZE * 1.3);
        if y > paper.page.top + SIZE && y < paper.page.bottom - 4.0 && !covered {
            let words = reading(paper.scene.units, step * number, number);
            paper.add(
                None,
                Shape::Text(Text {
                    at: pt(LEFT + WIDTH + 5.0, y + text::cap_height(SIZE) / 2.0),
                    anchor: Anchor::Start,
                    words,
                    size: SIZE,
                    weight: Weight::Regular,
                    ink: Ink::SoftText,
                }),
            );
        }
        step += 1.0;
    }
}

/// A thin line across the page at the height that is looked at, under all labels.
pub(super) fn guide(paper: &mut Paper<'_>) {
    let Some(z_m) = marked_height_m(paper) else {
        return;
    };
    let y = paper.scene.view.y(z_m);
    let line = vec![pt(LEFT + WIDTH, y), pt(paper.page.right, y)];
    paper.placer.avoid(&line);
    let stroke = Stroke::new(Ink::Accent, 0.8).with(Dash::Dashed);
    paper.line(None, line, stroke);
}

/// Clears the edge of the page, whatever was moved under it.
fn strip(paper: &mut Paper<'_>) {
    let page = paper.page;
    let right = super::STAFF_WIDTH;
    paper.add(
        None,
        Shape::Box {
            rect: Rect { right, ..page },
            radius: 0.0,
            fill: Some(Ink::Page),
            edge: None,
        },
    );
}

fn blocks(paper: &mut Paper<'_>, (low_m, high_m): (f64, f64), step_m: f64) {
    let view = paper.scene.view;
    let (top, bottom) = (paper.page.top, paper.page.bottom);
    let mut index = (low_m / step_m).floor();
    while index * step_m < high_m + step_m {
        let rect = Rect {
            left: LEFT,
            right: LEFT + WIDTH,
            top: view.y((index + 1.0) * step_m).clamp(top, bottom),
            bottom: view.y(index * step_m).clamp(top, bottom),
        };
        // Alternating halves of the width, so that it reads as a staff and not as a scale bar.
        let dark = Rect {
            right: LEFT + WIDTH / 2.0,
            ..rect
        };
        let light = Rect {
            left: LEFT + WIDTH / 2.0,
            ..rect
        };
        let filled = if index.rem_euclid(2.0) < 0.5 {
            dark
        } else {
            light
        };
        if rect.height() > 0.0 {
            block(paper, filled, (Some(Ink::Line), None));
        }
        index += 1.0;
    }
    let around = Rect {
        left: LEFT,
        right: LEFT + WIDTH,
        top,
        bottom,
    };
    let edge = Some(Stroke::new(Ink::Line, 1.0));
    block(paper, around, (None, edge));
}

fn block(paper: &mut Paper<'_>, rect: Rect, (fill, edge): (Option<Ink>, Option<Stroke>)) {
    let block = Shape::Box {
        rect,
        radius: 0.0,
        fill,
        edge,
    };
    paper.add(None, block);
}

fn reading(system: UnitSystem, z_m: f64, step_m: f64) -> String {
    match system {
        UnitSystem::Us if step_m >= FOOT_M * 0.999 => format!("{:.0} ft", z_m / FOOT_M + 0.0),
        UnitSystem::Us => units::write(Quantity::Height, z_m, system),
        UnitSystem::Metric if step_m >= 0.999 => format!("{:.0} m", z_m + 0.0),
        UnitSystem::Metric if step_m >= 0.0999 => format!("{:.1} m", z_m + 0.0),
        UnitSystem::Metric if step_m >= 0.00999 => format!("{:.2} m", z_m + 0.0),
        UnitSystem::Metric => format!("{:.3} m", z_m + 0.0),
    }
}

/// The height of the crest that is looked at.
fn marked_height_m(paper: &Paper<'_>) -> Option<f64> {
    let scene = paper.scene;
    let looked_at = scene.selected.last().or(scene.hovered)?;
    let Pick::Crest { run, end } = looked_at else {
        return None;
    };
    let run = scene.layout.run(run)?;
    let end: &RunEnd = end;
    run.end(*end).opening.as_ref().and_then(Opening::crest_m)
}

fn mark(paper: &mut Paper<'_>, z_m: f64) {
    let y = paper.scene.view.y(z_m);
    if !(paper.page.top..=paper.page.bottom).contains(&y) {
        return;
    }
    let right = LEFT + WIDTH;
    paper.area(
        None,
        vec![
            pt(right + 1.0, y),
            pt(right + 9.0, y - 5.0),
            pt(right + 9.0, y + 5.0),
        ],
        Ink::Accent,
    );
}
