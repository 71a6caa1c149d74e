//! Drawing of vessel shapes on the page.

use super::clip;
use super::outline::Outline;
use super::paper::PlanPage;
use super::shapes::PlanShape;
use crate::draw::page::shape::{Ink, Point, Shape, Stroke};
use crate::layout::Id;

/// Radius from which a circle is drawn as a polygon, points, and the number of its corners.
const MOST_RADIUS: f64 = 3000.0;
const PIECES: u32 = 720;

/// Opacity, fill and edge of a shape.
pub(super) type Style = (f64, Option<Ink>, Option<Stroke>);

/// Returns a shape that is smaller by `by_m` on every side.
pub(super) fn shrunk(form: PlanShape, by_m: f64) -> PlanShape {
    match form {
        PlanShape::Round { radius_m } => PlanShape::Round {
            radius_m: (radius_m - by_m).max(0.0),
        },
        PlanShape::Box { half_x_m, half_y_m } => PlanShape::Box {
            half_x_m: (half_x_m - by_m).max(0.0),
            half_y_m: (half_y_m - by_m).max(0.0),
        },
    }
}

/// Draws a shape around the middle of a vessel.
pub(super) fn body(paper: &mut PlanPage<'_>, id: &Id, one: &Outline, form: PlanShape, look: Style) {
    let corners = match form {
        PlanShape::Round { radius_m } if radius_m * paper.scale() < MOST_RADIUS => {
            let (strength, fill, edge) = look;
            let circle = Shape::Circle {
                centre: paper.point(one.middle),
                radius: radius_m * paper.scale(),
                fill,
                edge,
            };
            return paper.add_faint(Some(id), strength, circle);
        }
        PlanShape::Round { radius_m } => one.round(radius_m, PIECES),
        PlanShape::Box { .. } => one.corners(form),
    };
    let corners = paper.points(&corners);
    polygon(paper, id, corners, look);
}

/// Draws a polygon, clipped if it extends far beyond the page.
fn polygon(paper: &mut PlanPage<'_>, id: &Id, corners: Vec<Point>, style: Style) {
    let (strength, fill, edge) = style;
    let page = paper.page;
    if clip::is_whole(&corners, page) {
        let whole = Shape::Area {
            corners,
            fill,
            edge,
        };
        return paper.add_faint(Some(id), strength, whole);
    }
    let mut around = corners.clone();
    around.extend(corners.first());
    let corners = clip::area(corners, page);
    if fill.is_some() && corners.len() > 2 {
        let inside = Shape::Area {
            corners,
            fill,
            edge: None,
        };
        paper.add_faint(Some(id), strength, inside);
    }
    let Some(stroke) = edge else { return };
    for points in clip::line(around, page) {
        paper.add_faint(Some(id), strength, Shape::Line { points, stroke });
    }
}
