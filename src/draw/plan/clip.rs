//! Clipping of shapes that extend far beyond the page, since file readers do not accept such large coordinates.

use crate::draw::canvas::vessel_index::inside;
use crate::draw::page::shape::{Point, Rect};
use crate::draw::parts::symbols::on_leg;

/// Distance from the page within which a shape is not clipped, points.
const WHOLE: f64 = 4000.0;
/// Distance from the page at which other shapes are clipped, points.
const CUT: f64 = 200.0;

/// Returns whether all points are near the page.
pub(super) fn is_whole(points: &[Point], page: Rect) -> bool {
    page.grown(WHOLE).holds_all(Rect::around(points))
}

/// Returns the parts of a line that may be visible.
pub(super) fn line(points: Vec<Point>, page: Rect) -> Vec<Vec<Point>> {
    let bounds = Rect::around(&points);
    if !page.overlaps(bounds.grown(1.0)) {
        return Vec::new();
    }
    if page.grown(WHOLE).holds_all(bounds) {
        return vec![points];
    }
    let mut parts: Vec<Vec<Point>> = Vec::new();
    for pair in points.windows(2) {
        let &[from, to] = pair else { continue };
        let Some((enter, leave)) = inside(from, to, page.grown(CUT)) else {
            continue;
        };
        let (a, b) = (on_leg(from, to, enter), on_leg(from, to, leave));
        match parts.last_mut().filter(|part| part.last() == Some(&a)) {
            Some(part) => part.push(b),
            None => parts.push(vec![a, b]),
        }
    }
    parts
}

/// Returns the part of a convex area that may be visible; fewer than three corners if none is.
pub(super) fn area(corners: Vec<Point>, page: Rect) -> Vec<Point> {
    let bounds = Rect::around(&corners);
    if page.grown(WHOLE).holds_all(bounds) {
        return corners;
    }
    let page = page.grown(CUT);
    let corners = cut(&corners, |at| at.x - page.left);
    let corners = cut(&corners, |at| page.right - at.x);
    let corners = cut(&corners, |at| at.y - page.top);
    cut(&corners, |at| page.bottom - at.y)
}

/// Returns the part of an area where `room` is not negative.
fn cut(corners: &[Point], room: impl Fn(Point) -> f64) -> Vec<Point> {
    let mut kept = Vec::with_capacity(corners.len() + 1);
    let next = corners.iter().cycle().skip(1);
    for (from, to) in corners.iter().zip(next) {
        let (a, b) = (room(*from), room(*to));
        if a >= 0.0 {
            kept.push(*from);
        }
        if (a >= 0.0) != (b >= 0.0) {
            kept.push(on_leg(*from, *to, a / (a - b)));
        }
    }
    kept
}
