//! Drawing context shared by all drawings of a layout: marks, waiting labels and touch targets.

use super::labels::{Label, LabelRequest, Placer};
use super::queued_label::QueuedLabel;
use super::touch::{Drawn, Pick, TouchArea, TouchTarget};
use super::vessel_index::VesselIndex;
use crate::draw::page::shape::{Drawing, Ink, Mark, Point, Rect, Shape, Stroke};
use crate::layout::Id;
use std::ops::Range;

/// Number of vessels on a page above which details and labels are left out.
const MOST_VESSELS: usize = 100;

/// A page while it is being drawn.
pub(in crate::draw) struct DrawingContext {
    /// The whole page.
    pub page: Rect,
    /// Part of the page where the drawing is visible, without a staff or rows of text.
    shown: Rect,
    pub placer: Placer,
    /// Blocks only what no label may ever cover: other labels, marks and handles.
    pub hard: Placer,
    /// The rectangles blocked in `hard` by [`DrawingContext::keep`].
    pub kept: Vec<Rect>,
    /// Areas covered by vessels.
    pub covers: VesselIndex,
    pub waiting: Vec<QueuedLabel>,
    /// Thin lines from labels to their subjects.
    pub leaders: Vec<(Point, Point)>,
    marks: Vec<Mark>,
    /// Index ranges of the marks that give way to text and symbols, such as grains of media.
    giving_way: Vec<Range<usize>>,
    targets: Vec<TouchTarget>,
}

impl DrawingContext {
    /// Makes an empty page with labels allowed in `free`.
    pub fn new(page: Rect, free: Rect, covers: VesselIndex) -> DrawingContext {
        DrawingContext {
            page,
            shown: free,
            placer: Placer::new(free.grown(-3.0)),
            hard: Placer::new(free.grown(-3.0)),
            kept: Vec::new(),
            covers,
            waiting: Vec::new(),
            leaders: Vec::new(),
            marks: Vec::new(),
            giving_way: Vec::new(),
            targets: Vec::new(),
        }
    }

    /// Adds a shape of a part at full opacity.
    pub fn add(&mut self, part: Option<&Id>, shape: Shape) {
        self.add_faint(part, 1.0, shape);
    }

    /// Adds a shape of a part with the opacity `strength`.
    pub fn add_faint(&mut self, part: Option<&Id>, strength: f64, shape: Shape) {
        self.marks.push(Mark {
            shape,
            part: part.cloned(),
            strength,
        });
    }

    /// Adds an upright box with sharp corners that belongs to no part, such as a piece of a staff or ruler.
    pub fn block(&mut self, rect: Rect, fill: Option<Ink>, edge: Option<Stroke>) {
        let block = Shape::Box {
            rect,
            radius: 0.0,
            fill,
            edge,
        };
        self.add(None, block);
    }

    /// Adds a line of a part with the opacity `strength`.
    pub fn faint_line(&mut self, part: &Id, strength: f64, points: Vec<Point>, stroke: Stroke) {
        self.add_faint(Some(part), strength, Shape::Line { points, stroke });
    }

    pub fn line(&mut self, part: Option<&Id>, points: Vec<Point>, stroke: Stroke) {
        if points.len() > 1 {
            self.add(part, Shape::Line { points, stroke });
        }
    }

    pub fn area(&mut self, part: Option<&Id>, corners: Vec<Point>, fill: Ink) {
        if corners.len() > 2 {
            self.add(
                part,
                Shape::Area {
                    corners,
                    fill: Some(fill),
                    edge: None,
                },
            );
        }
    }

    pub fn touch(&mut self, pick: Pick, reach: TouchArea, name: String) {
        self.targets.push(TouchTarget { pick, reach, name });
    }

    /// Places a label on top of the drawing, pipes included; `None` if another label or a mark is in the way.
    pub fn placed(&mut self, request: &LabelRequest) -> Option<Label> {
        let label = self.hard.place(request)?;
        self.placer.block(label.rect);
        Some(label)
    }

    /// Returns whether no label, mark or handle covers any of `rect` so far.
    pub fn is_kept_free(&self, rect: Rect) -> bool {
        self.hard.is_free(rect)
    }

    /// Blocks `rect` for all labels.
    pub fn keep(&mut self, rect: Rect) {
        self.placer.block(rect);
        self.hard.block(rect);
        self.kept.push(rect);
    }

    /// Returns whether there are so many vessels on the page that only hovered and selected items are labelled and
    /// drawn in full.
    pub fn is_crowded(&self) -> bool {
        self.covers.count() > MOST_VESSELS
    }

    /// Returns whether any of this rectangle is on the page.
    pub fn sees(&self, rect: Rect) -> bool {
        self.page.overlaps(rect.grown(1.0))
    }

    /// Returns whether any of this rectangle is visible; anything else gets no label.
    pub fn shows(&self, rect: Rect) -> bool {
        self.shown.overlaps(rect.grown(1.0))
    }

    /// Returns the area where the drawing is visible.
    pub fn shown(&self) -> Rect {
        self.shown
    }

    /// Returns the number of marks, which is the index of the next one.
    pub fn next_mark(&self) -> usize {
        self.marks.len()
    }

    /// Lets circles among the marks in this index range give way to text and symbols.
    pub fn give_way(&mut self, marks: Range<usize>) {
        self.giving_way.push(marks);
    }

    /// Removes the circles that give way where they lie under text or symbols.
    fn clear_under_words(&mut self) {
        if self.giving_way.is_empty() {
            return;
        }
        let (kept, ranges) = (&self.kept, &self.giving_way);
        let covered = |shape: &Shape| match shape {
            Shape::Circle { centre, radius, .. } => {
                let room = radius + 1.0;
                kept.iter().any(|rect| rect.grown(room).holds(*centre))
            }
            _ => false,
        };
        let mut number = 0;
        self.marks.retain(|mark| {
            let among = ranges.iter().any(|range| range.contains(&number));
            number += 1;
            !(among && covered(&mark.shape))
        });
    }

    /// Returns the finished drawing with this title.
    pub fn finish(mut self, title: String) -> Drawn {
        self.clear_under_words();
        Drawn {
            drawing: Drawing {
                width: self.page.right,
                height: self.page.bottom,
                title,
                marks: self.marks,
                under: None,
            },
            targets: self.targets,
        }
    }
}

/// Returns the part of a rectangle that is on the page, or the nearest edge if none is.
pub(in crate::draw) fn clipped(rect: Rect, page: Rect) -> Rect {
    Rect {
        left: rect.left.clamp(page.left, page.right),
        right: rect.right.clamp(page.left, page.right),
        top: rect.top.clamp(page.top, page.bottom),
        bottom: rect.bottom.clamp(page.top, page.bottom),
    }
}
