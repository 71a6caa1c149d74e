//! Rectangles and lines on a page in buckets, so that looking around a place is quick.

use super::shape::{Point, Rect, pt};
use std::ops::RangeInclusive;

/// Edge of a bucket, points: about as long as a short label.
const CELL: f64 = 48.0;
/// The most buckets across and down; on a larger page they are larger.
const MOST_CELLS: f64 = 128.0;

/// What is on a page. What is not finite is not taken in.
#[derive(Clone, Debug)]
pub(super) struct SpatialIndex {
    corner: Point,
    cell: f64,
    across: usize,
    down: usize,
    cells: Vec<IndexCell>,
}

#[derive(Clone, Debug, Default)]
struct IndexCell {
    rects: Vec<Rect>,
    lines: Vec<(Point, Point)>,
}

impl SpatialIndex {
    /// An empty page. The buckets at its edges hold what lies outside it as well.
    pub(super) fn new(page: Rect) -> SpatialIndex {
        let longest = page.width().max(page.height());
        let cell = (longest / MOST_CELLS).max(CELL);
        // At least one, also of a page whose size is no number.
        let count = |length: f64| ((length / cell).ceil().min(MOST_CELLS) as usize).max(1);
        let (across, down) = (count(page.width()), count(page.height()));
        SpatialIndex {
            corner: pt(page.left, page.top),
            cell,
            across,
            down,
            cells: vec![IndexCell::default(); across * down],
        }
    }

    /// Takes in a rectangle.
    pub(super) fn add(&mut self, rect: Rect) {
        if !is_finite(rect) {
            return;
        }
        for row in self.rows(rect) {
            for column in self.columns(rect) {
                if let Some(cell) = self.cells.get_mut(row * self.across + column) {
                    cell.rects.push(rect);
                }
            }
        }
    }

    /// Takes in a straight line.
    pub(super) fn add_line(&mut self, from: Point, to: Point) {
        let whole = Rect::between(from, to);
        if !is_finite(whole) {
            return;
        }
        // Column by column: a long slope passes few of the buckets that its rectangle covers.
        for column in self.columns(whole) {
            let left = self.corner.x + column as f64 * self.cell;
            let strip = Rect {
                left,
                right: left + self.cell,
                ..whole
            };
            let Some((a, b)) = clipped((from, to), strip) else {
                continue;
            };
            for row in self.rows(Rect::between(a, b)) {
                if let Some(cell) = self.cells.get_mut(row * self.across + column) {
                    cell.lines.push((from, to));
                }
            }
        }
    }

    /// Nothing that was taken in overlaps the rectangle.
    pub(super) fn is_free(&self, rect: Rect) -> bool {
        self.rows(rect).all(|row| {
            let mut cells = self
                .columns(rect)
                .filter_map(|column| self.cell(row, column));
            cells.all(|cell| !cell.rects.iter().any(|taken| taken.overlaps(rect)))
        })
    }

    /// How much line lies in the rectangle, points. Lines outside the page are not counted.
    pub(super) fn line_in(&self, rect: Rect) -> f64 {
        let mut length = 0.0;
        for row in self.rows(rect) {
            for column in self.columns(rect) {
                // A line is in every bucket that it passes: each counts what lies in itself.
                let area = shared(rect, self.area(row, column));
                let lines = self.cell(row, column).map_or(&[][..], |cell| &cell.lines);
                let parts = lines.iter().filter_map(|line| clipped(*line, area));
                length += parts.map(|(a, b)| a.distance(b)).sum::<f64>();
            }
        }
        length
    }

    fn cell(&self, row: usize, column: usize) -> Option<&IndexCell> {
        self.cells.get(row * self.across + column)
    }

    fn columns(&self, rect: Rect) -> RangeInclusive<usize> {
        let index = |x: f64| bucket((x - self.corner.x) / self.cell, self.across);
        index(rect.left)..=index(rect.right)
    }

    fn rows(&self, rect: Rect) -> RangeInclusive<usize> {
        let index = |y: f64| bucket((y - self.corner.y) / self.cell, self.down);
        index(rect.top)..=index(rect.bottom)
    }

    /// Where a bucket lies.
    fn area(&self, row: usize, column: usize) -> Rect {
        let left = self.corner.x + column as f64 * self.cell;
        let top = self.corner.y + row as f64 * self.cell;
        Rect {
            left,
            top,
            right: left + self.cell,
            bottom: top + self.cell,
        }
    }
}

fn bucket(place: f64, count: usize) -> usize {
    place.clamp(0.0, count as f64 - 1.0) as usize
}

/// All four edges are numbers.
pub(super) fn is_finite(rect: Rect) -> bool {
    [rect.left, rect.top, rect.right, rect.bottom]
        .iter()
        .all(|edge| edge.is_finite())
}

/// What both cover; turned inside out where they share nothing, which then holds no line.
fn shared(a: Rect, b: Rect) -> Rect {
    Rect {
        left: a.left.max(b.left),
        top: a.top.max(b.top),
        right: a.right.min(b.right),
        bottom: a.bottom.min(b.bottom),
    }
}

/// The part of a line that lies in `area`, edges included.
fn clipped((from, to): (Point, Point), area: Rect) -> Option<(Point, Point)> {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (along, room) in [
        (-dx, from.x - area.left),
        (dx, area.right - from.x),
        (-dy, from.y - area.top),
        (dy, area.bottom - from.y),
    ] {
        if along == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if along < 0.0 {
            enters = enters.max(room / along);
        } else {
            leaves = leaves.min(room / along);
        }
    }
    let at = |t: f64| pt(from.x + t * dx, from.y + t * dy);
    (enters <= leaves).then(|| (at(enters), at(leaves)))
}
