//! Grains of a medium, so that gravel does not look like another kind of water.

use super::bodies::shrunk;
use super::outline::Outline;
use super::paper::PlanPage;
use super::shapes::PlanShape;
use crate::draw::page::shape::{Ink, Point, Rect, Shape};
use crate::layout::{Id, Vessel};

/// Smallest spacing of grains, points, and the most grains in one vessel.
const STEP: f64 = 13.0;
const MOST: f64 = 1500.0;
/// Most rows, and most grains in a row.
const MOST_ACROSS: u16 = 2048;
/// Room left free along the wall, points.
const CLEAR: f64 = 4.0;
const RADIUS: f64 = 1.1;

/// Draws the grains of a vessel with a medium. They keep their positions in it when the page is scrolled.
pub(super) fn draw(paper: &mut PlanPage<'_>, part: &Vessel, one: &Outline) {
    let filled = part
        .medium
        .is_some_and(|medium| medium.top_m > part.floor_m);
    let rect = paper.rect(one);
    if !filled || rect.width().min(rect.height()) < 2.0 * STEP {
        return;
    }
    let page = paper.page;
    let seen = Rect {
        left: rect.left.max(page.left),
        right: rect.right.min(page.right),
        top: rect.top.max(page.top),
        bottom: rect.bottom.min(page.bottom),
    };
    let area = seen.width() * seen.height();
    if !area.is_finite() {
        return;
    }
    let first = paper.next_mark();
    rows(paper, &part.id, one, seen, STEP.max((area / MOST).sqrt()));
    let grains = first..paper.next_mark();
    paper.give_way(grains);
}

/// Draws rows of grains counted from the middle of the vessel, alternate rows shifted by half a step.
fn rows(paper: &mut PlanPage<'_>, id: &Id, one: &Outline, seen: Rect, step: f64) {
    let middle = paper.point(one.middle);
    let inner = shrunk(one.form, CLEAR / paper.scale());
    let counted = |from: f64, length: f64| {
        let first = (from / step).floor();
        let count = (length / step).ceil() + 1.0;
        let all = (0..MOST_ACROSS).map(f64::from);
        all.take_while(move |index| *index <= count)
            .map(move |index| first + index)
    };
    for row in counted(seen.top - middle.y, seen.height()) {
        let shift = 0.5 * row.rem_euclid(2.0).round();
        for column in counted(seen.left - middle.x, seen.width()) {
            let place = middle.moved((column + shift) * step, row * step);
            grain(paper, id, one, inner, place);
        }
    }
}

fn grain(paper: &mut PlanPage<'_>, id: &Id, one: &Outline, inner: PlanShape, centre: Point) {
    if one.holds(inner, paper.place(centre)) {
        let grain = Shape::Circle {
            centre,
            radius: RADIUS,
            fill: Some(Ink::Medium),
            edge: None,
        };
        paper.add_faint(Some(id), 0.8, grain);
    }
}
