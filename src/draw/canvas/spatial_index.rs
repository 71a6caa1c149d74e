//! Spatial index of rectangles and lines on a page, for fast neighbour queries.

use crate::draw::page::shape::{Point, Rect, pt};
use std::ops::RangeInclusive;

/// Size of a cell, points: about the length of a short label.
const CELL: f64 = 48.0;
/// Most cells across and down; on a larger page the cells are larger.
const MOST_CELLS: f64 = 128.0;

/// The rectangles and lines on a page; those that are not finite are left out.
#[derive(Clone, Debug)]
pub(in crate::draw) struct SpatialIndex {
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
    /// Makes an empty index. The cells at the edges also hold what is outside the page.
    pub(in crate::draw) fn new(page: Rect) -> SpatialIndex {
        let longest = page.width().max(page.height());
        let cell = (longest / MOST_CELLS).max(CELL);
        // At least one cell, even if the page size is NaN.
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

    /// Adds a rectangle.
    pub(in crate::draw) fn add(&mut self, rect: Rect) {
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

    /// Adds a straight line.
    pub(in crate::draw) fn add_line(&mut self, from: Point, to: Point) {
        let whole = Rect::between(from, to);
        if !is_finite(whole) {
            return;
        }
        // Column by column, since a long sloping line passes few of the cells that its bounding rectangle covers.
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

    /// Returns whether no added rectangle overlaps this one.
    pub(in crate::draw) fn is_free(&self, rect: Rect) -> bool {
        self.rows(rect).all(|row| {
            let mut cells = self
                .columns(rect)
                .filter_map(|column| self.cell(row, column));
            cells.all(|cell| !cell.rects.iter().any(|taken| taken.overlaps(rect)))
        })
    }

    /// Returns the length of line in the rectangle, points. Lines outside the page are not counted.
    pub(in crate::draw) fn line_in(&self, rect: Rect) -> f64 {
        let mut length = 0.0;
        for row in self.rows(rect) {
            for column in self.columns(rect) {
                // A line is in every cell that it passes, so each cell counts only the part within it.
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

    /// Returns the area of a cell.
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

/// Returns whether all four edges are finite.
pub(in crate::draw) fn is_finite(rect: Rect) -> bool {
    [rect.left, rect.top, rect.right, rect.bottom]
        .iter()
        .all(|edge| edge.is_finite())
}

/// Returns the intersection; inverted if there is none, and then it contains no line.
fn shared(a: Rect, b: Rect) -> Rect {
    Rect {
        left: a.left.max(b.left),
        top: a.top.max(b.top),
        right: a.right.min(b.right),
        bottom: a.bottom.min(b.bottom),
    }
}

/// Returns the part of a line in `area`, edges included.
fn clipped(line: (Point, Point), area: Rect) -> Option<(Point, Point)> {
    let (from, to) = line;
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
