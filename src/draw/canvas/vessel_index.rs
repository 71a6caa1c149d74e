//! Index of the vessels on the page by columns, for fast queries along a pipe.

use crate::draw::page::shape::{Point, Rect};

/// Smallest width of a column, points, and the most columns.
const COLUMN: f64 = 12.0;
const MOST: f64 = 256.0;

/// The rectangles of all vessels and fixed levels on the page.
pub(in crate::draw) struct VesselIndex {
    left: f64,
    width: f64,
    /// Rectangles in each column, with the first column that each is in.
    columns: Vec<Vec<(Rect, usize)>>,
    count: usize,
}

impl VesselIndex {
    pub fn new(page: Rect, boxes: impl Iterator<Item = Rect>) -> VesselIndex {
        let boxes: Vec<Rect> = boxes.filter(|rect| page.overlaps(*rect)).collect();
        let width = (page.width() / MOST).max(COLUMN);
        let count = index(page.width() / width, MOST) + 1;
        let mut covers = VesselIndex {
            left: page.left,
            width,
            columns: vec![Vec::new(); count],
            count: boxes.len(),
        };
        for rect in boxes {
            let (first, last) = covers.span(rect);
            for column in covers.columns.get_mut(first..=last).into_iter().flatten() {
                column.push((rect, first));
            }
        }
        covers
    }

    fn span(&self, rect: Rect) -> (usize, usize) {
        // There are few columns, so the cast is exact.
        let most = self.columns.len() as f64 - 1.0;
        let at = |x: f64| index((x - self.left) / self.width, most);
        let first = at(rect.left);
        (first, at(rect.right).max(first))
    }

    /// Returns the number of rectangles.
    pub fn count(&self) -> usize {
        self.count
    }

    /// Returns the rectangles that touch `rect`, each once.
    pub fn touching(&self, rect: Rect) -> impl Iterator<Item = Rect> + '_ {
        let (first, last) = self.span(rect);
        let columns = self.columns.get(first..=last).unwrap_or_default();
        let numbered = columns.iter().zip(first..);
        numbered.flat_map(move |(list, column)| {
            list.iter().filter_map(move |&(found, starts)| {
                // A rectangle in several columns is returned only for the first of those queried.
                let here = starts.max(first) == column;
                let near = here
                    && found.left <= rect.right
                    && found.right >= rect.left
                    && found.top <= rect.bottom
                    && found.bottom >= rect.top;
                near.then_some(found)
            })
        })
    }

    /// Returns whether a label here would seem to belong to a vessel other than the one that `own` is or is inside.
    pub fn strange(&self, label: Rect, own: Rect) -> bool {
        self.touching(label)
            .any(|other| !other.holds_all(own) && other.overlaps(label))
    }

    /// Returns the covered parts of a line, as shares of the line.
    pub fn along(&self, from: Point, to: Point) -> Vec<(f64, f64)> {
        let all = self.touching(Rect::between(from, to));
        all.filter_map(|rect| inside(from, to, rect)).collect()
    }
}

fn index(place: f64, most: f64) -> usize {
    // Clamped to the range, so the cast only drops the fraction.
    place.clamp(0.0, most.max(0.0)) as usize
}

/// Returns the part of a line in a rectangle, as shares of the line.
pub(in crate::draw) fn inside(from: Point, to: Point, rect: Rect) -> Option<(f64, f64)> {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let sides = [
        (-dx, from.x - rect.left),
        (dx, rect.right - from.x),
        (-dy, from.y - rect.top),
        (dy, rect.bottom - from.y),
    ];
    for (step, room) in sides {
        if step == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else {
            let share = room / step;
            if step < 0.0 {
                enter = enter.max(share);
            } else {
                leave = leave.min(share);
            }
        }
    }
    (enter < leave).then_some((enter, leave))
}
