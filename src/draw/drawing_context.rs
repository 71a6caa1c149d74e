//! What every drawing of a layout is drawn on: marks, labels that wait, what can be touched.

use super::label_requests::QueuedLabel;
use super::labels::{Label, LabelRequest, Placer};
use super::shape::{Drawing, Ink, Mark, Point, Rect, Shape, Stroke};
use super::touch::{Drawn, Pick, TouchArea, TouchTarget};
use super::vessel_index::VesselIndex;
use crate::layout::Id;
use std::ops::Range;

/// On a page with more vessels than this not everything is told.
const MOST_VESSELS: usize = 100;

/// The page while it is drawn on.
pub(super) struct DrawingContext {
    /// All of the page.
    pub page: Rect,
    /// Of the page what the drawing is seen in: not what a staff or rows of words take up.
    shown: Rect,
    pub placer: Placer,
    /// Only what no label may ever cover: other labels, marks and handles.
    pub hard: Placer,
    /// The same as rectangles.
    pub kept: Vec<Rect>,
    /// What each vessel covers.
    pub covers: VesselIndex,
    pub waiting: Vec<QueuedLabel>,
    /// Thin lines from labels to what they are about.
    pub leaders: Vec<(Point, Point)>,
    marks: Vec<Mark>,
    targets: Vec<TouchTarget>,
}

impl DrawingContext {
    /// An empty page; words may stand in `free`.
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
            targets: Vec::new(),
        }
    }

    /// A shape that belongs to a part, drawn as it is.
    pub fn add(&mut self, part: Option<&Id>, shape: Shape) {
        self.add_faint(part, 1.0, shape);
    }

    /// A shape that belongs to a part, drawn with `strength` of its ink.
    pub fn add_faint(&mut self, part: Option<&Id>, strength: f64, shape: Shape) {
        self.marks.push(Mark {
            shape,
            part: part.cloned(),
            strength,
        });
    }

    /// An upright box with sharp corners that stands for no part: a piece of a staff or of a ruler.
    pub fn block(&mut self, rect: Rect, (fill, edge): (Option<Ink>, Option<Stroke>)) {
        let block = Shape::Box {
            rect,
            radius: 0.0,
            fill,
            edge,
        };
        self.add(None, block);
    }

    /// A line that belongs to a part, drawn with `strength` of its ink.
    pub fn faint_line(&mut self, part: &Id, strength: f64, (points, stroke): (Vec<Point>, Stroke)) {
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

    /// A label that stands on what is drawn, pipes too; none where another label or a mark is.
    pub fn placed(&mut self, request: &LabelRequest) -> Option<Label> {
        let label = self.hard.place(request)?;
        self.placer.block(label.rect);
        Some(label)
    }

    /// No label, mark or handle covers any of it so far.
    pub fn is_kept_free(&self, rect: Rect) -> bool {
        self.hard.is_free(rect)
    }

    /// Nothing may cover this.
    pub fn keep(&mut self, rect: Rect) {
        self.placer.block(rect);
        self.hard.block(rect);
        self.kept.push(rect);
    }

    /// So many vessels that only what is looked at is told and drawn in full: closer up there are fewer.
    pub fn is_crowded(&self) -> bool {
        self.covers.count() > MOST_VESSELS
    }

    /// Anything of this rectangle is on the page.
    pub fn sees(&self, rect: Rect) -> bool {
        self.page.overlaps(rect.grown(1.0))
    }

    /// Anything of what stands here is to be seen: what is off the page is not told of either.
    pub fn shows(&self, rect: Rect) -> bool {
        self.shown.overlaps(rect.grown(1.0))
    }

    /// Where the drawing is seen.
    pub fn shown(&self) -> Rect {
        self.shown
    }

    /// How many marks there are: the next one has this number.
    pub fn next_mark(&self) -> usize {
        self.marks.len()
    }

    /// Takes away circles among marks of these numbers that lie under words or signs.
    pub fn clear_under_words(&mut self, numbers: &[Range<usize>]) {
        let kept = &self.kept;
        let covered = |shape: &Shape| match shape {
            Shape::Circle { centre, radius, .. } => {
                let room = radius + 1.0;
                kept.iter().any(|rect| rect.grown(room).holds(*centre))
            }
            _ => false,
        };
        let mut number = 0;
        self.marks.retain(|mark| {
            let among = numbers.iter().any(|range| range.contains(&number));
            number += 1;
            !(among && covered(&mark.shape))
        });
    }

    /// What was drawn, with this title.
    pub fn finish(self, title: String) -> Drawn {
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

/// What of a rectangle lies on the page; its nearest edge where nothing does.
pub(super) fn clipped(rect: Rect, page: Rect) -> Rect {
    Rect {
        left: rect.left.clamp(page.left, page.right),
        right: rect.right.clamp(page.left, page.right),
        top: rect.top.clamp(page.top, page.bottom),
        bottom: rect.bottom.clamp(page.top, page.bottom),
    }
}
