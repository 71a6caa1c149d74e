//! What reaches far over the page is cut near its edge: readers of files hold no number that large.

use crate::draw::shape::{Point, Rect};
use crate::draw::symbols::on_leg;
use crate::draw::vessel_index::inside;

/// What stays within this of the page is left whole, points.
const WHOLE: f64 = 4000.0;
/// What does not is cut this far from the page, points.
const CUT: f64 = 200.0;

/// All of it is near the page.
pub(super) fn is_whole(points: &[Point], page: Rect) -> bool {
    page.grown(WHOLE).holds_all(Rect::around(points))
}

/// The parts of a line that may be seen.
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

/// The part of a convex area that may be seen; fewer than three corners where nothing may.
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

/// What of an area lies where `room` is not below 0.
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
