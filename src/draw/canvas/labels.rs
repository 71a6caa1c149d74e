//! Placement of labels so that none covers another, a blocked area or the edge of the page.
//!
//! Greedy: labels are placed one by one, the highest rank first, each at the best position left. A label that fits
//! nowhere is left out.

use super::spatial_index::{SpatialIndex, is_finite};
use crate::draw::page::shape::{Anchor, Ink, Point, Rect, Text, Weight, pt};
use crate::draw::page::text;

/// Cost of one step down the list of positions, in points of line that a label would cover: a choice.
const NEXT_POSITION: f64 = 3.0;
/// Cost of one step to a shorter form, in the same unit: a choice.
const SHORTER: f64 = 40.0;

/// One line of a label: a text without a position.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelLine {
    /// Text of the line.
    pub words: String,
    /// Font size, points to the em.
    pub size: f64,
    /// Font weight.
    pub weight: Weight,
    /// Ink of the text.
    pub ink: Ink,
}

impl LabelLine {
    /// Makes a line with regular weight.
    pub fn new(words: impl Into<String>, size: f64, ink: Ink) -> LabelLine {
        LabelLine {
            words: words.into(),
            size,
            weight: Weight::Regular,
            ink,
        }
    }

    /// Returns the same line with strong weight.
    #[must_use]
    pub fn strong(self) -> LabelLine {
        LabelLine {
            weight: Weight::Strong,
            ..self
        }
    }
}

/// Vertical position of a label relative to its point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LabelSide {
    /// The bottom edge is at the point.
    Above,
    /// The middle is at the point.
    #[default]
    Beside,
    /// The top edge is at the point.
    Below,
}

/// A possible position of a label.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelPosition {
    /// The point that the label is attached to.
    pub at: Point,
    /// Which end of the lines is at the point.
    pub across: Anchor,
    /// Vertical position relative to the point.
    pub side: LabelSide,
}

impl LabelPosition {
    /// Returns eight positions around `thing`, `gap` points away: right, left, above, below, then the corners.
    pub fn around(thing: Rect, gap: f64) -> Vec<LabelPosition> {
        let near = thing.grown(gap);
        let middle = near.centre();
        let spot = |x: f64, y: f64, across: Anchor, side: LabelSide| LabelPosition {
            at: pt(x, y),
            across,
            side,
        };
        vec![
            spot(near.right, middle.y, Anchor::Start, LabelSide::Beside),
            spot(near.left, middle.y, Anchor::End, LabelSide::Beside),
            spot(middle.x, near.top, Anchor::Middle, LabelSide::Above),
            spot(middle.x, near.bottom, Anchor::Middle, LabelSide::Below),
            spot(near.right, near.top, Anchor::Start, LabelSide::Above),
            spot(near.right, near.bottom, Anchor::Start, LabelSide::Below),
            spot(near.left, near.top, Anchor::End, LabelSide::Above),
            spot(near.left, near.bottom, Anchor::End, LabelSide::Below),
        ]
    }

    /// Returns the rectangle of a label at this position, `width` wide and `height` high, points.
    pub fn rect(self, width: f64, height: f64) -> Rect {
        let left = match self.across {
            Anchor::Start => self.at.x,
            Anchor::Middle => self.at.x - width / 2.0,
            Anchor::End => self.at.x - width,
        };
        let top = match self.side {
            LabelSide::Above => self.at.y - height,
            LabelSide::Beside => self.at.y - height / 2.0,
            LabelSide::Below => self.at.y,
        };
        Rect {
            left,
            top,
            right: left + width,
            bottom: top + height,
        }
    }
}

/// A request to place a label.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LabelRequest {
    /// Possible texts, from the longest form to the shortest; each form is one or more lines.
    pub forms: Vec<Vec<LabelLine>>,
    /// Possible positions, best first.
    pub spots: Vec<LabelPosition>,
    /// Priority: labels of higher rank are placed first.
    pub rank: i32,
    /// Clearance around the label, points; does not apply to the edge of the page.
    pub clear: f64,
}

/// A placed label.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Area that it covers.
    pub rect: Rect,
    /// Its lines, ready to be drawn.
    pub lines: Vec<Text>,
    /// Index of the form used.
    pub form: usize,
    /// Index of the position used.
    pub spot: usize,
}

/// A page on which labels are placed.
#[derive(Clone, Debug)]
pub struct Placer {
    page: Rect,
    taken: SpatialIndex,
}

impl Placer {
    /// Makes an empty page.
    pub fn new(page: Rect) -> Placer {
        Placer {
            page,
            taken: SpatialIndex::new(page),
        }
    }

    /// Blocks an area for all labels.
    pub fn block(&mut self, rect: Rect) {
        self.taken.add(rect);
    }

    /// Returns whether a rectangle is within the area for labels.
    pub fn may_hold(&self, rect: Rect) -> bool {
        self.page.holds_all(rect)
    }

    /// Returns whether nothing in this rectangle is blocked.
    pub fn is_free(&self, rect: Rect) -> bool {
        self.taken.is_free(rect)
    }

    /// Adds a line, such as a pipe, that labels cover as little as possible.
    pub fn avoid(&mut self, points: &[Point]) {
        for (from, to) in points.iter().zip(points.iter().skip(1)) {
            self.taken.add_line(*from, *to);
        }
    }

    /// Places a label at the best position left and blocks its area; `None` if it fits nowhere.
    pub fn place(&mut self, request: &LabelRequest) -> Option<Label> {
        let chosen = self.best(request)?;
        self.taken.add(chosen.rect);
        Some(Label {
            rect: chosen.rect,
            lines: set(
                request.forms.get(chosen.form)?,
                request.spots.get(chosen.spot)?,
                chosen.rect,
            ),
            form: chosen.form,
            spot: chosen.spot,
        })
    }

    /// Calls [`Placer::place`] for all requests, by rank and then in order; returns the labels in the order of the
    /// requests.
    pub fn place_all(&mut self, requests: &[LabelRequest]) -> Vec<Option<Label>> {
        let mut order: Vec<(usize, &LabelRequest)> = requests.iter().enumerate().collect();
        order.sort_by_key(|(_, request)| std::cmp::Reverse(request.rank));
        let placed = order
            .into_iter()
            .map(|(at, request)| (at, self.place(request)));
        let mut placed: Vec<(usize, Option<Label>)> = placed.collect();
        placed.sort_by_key(|(at, _)| *at);
        placed.into_iter().map(|(_, label)| label).collect()
    }

    fn best(&self, request: &LabelRequest) -> Option<BestPosition> {
        let mut best: Option<BestPosition> = None;
        for (form, lines) in request.forms.iter().enumerate() {
            let (width, height) = size(lines);
            for (spot, place) in request.spots.iter().enumerate() {
                let least = form as f64 * SHORTER + spot as f64 * NEXT_POSITION;
                if best.as_ref().is_some_and(|best| best.cost <= least) {
                    break;
                }
                let rect = place.rect(width, height);
                if !self.may_go(rect, request.clear) {
                    continue;
                }
                let cost = least + self.taken.line_in(rect);
                if best.as_ref().is_none_or(|best| cost < best.cost) {
                    best = Some(BestPosition {
                        cost,
                        form,
                        spot,
                        rect,
                    });
                }
            }
        }
        best
    }

    fn may_go(&self, rect: Rect, clear: f64) -> bool {
        is_finite(rect)
            && rect.width() > 0.0
            && self.page.holds_all(rect)
            && self.taken.is_free(rect.grown(clear.max(0.0)))
    }
}

/// The best position so far.
struct BestPosition {
    cost: f64,
    form: usize,
    spot: usize,
    rect: Rect,
}

/// Returns width and height of a block of lines, points.
pub(in crate::draw) fn size(lines: &[LabelLine]) -> (f64, f64) {
    let widths = lines
        .iter()
        .map(|line| text::width(&line.words, line.size, line.weight));
    let height = lines.iter().map(|line| text::line_height(line.size)).sum();
    (widths.fold(0.0, f64::max), height)
}

/// Returns the lines of a label at their positions, from top to bottom.
fn set(lines: &[LabelLine], spot: &LabelPosition, rect: Rect) -> Vec<Text> {
    let x = match spot.across {
        Anchor::Start => rect.left,
        Anchor::Middle => rect.centre().x,
        Anchor::End => rect.right,
    };
    let mut top = rect.top;
    let place = |line: &LabelLine| {
        let at = pt(x, top + text::ascent(line.size));
        top += text::line_height(line.size);
        Text {
            at,
            anchor: spot.across,
            words: line.words.clone(),
            size: line.size,
            weight: line.weight,
            ink: line.ink,
        }
    };
    lines.iter().map(place).collect()
}
