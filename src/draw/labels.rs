//! Where labels go, so that none covers another, what must stay seen, or the edge of the page.
//!
//! Greedy: labels are placed one by one, the highest rank first, each at the best place that is left.
//! What fits nowhere is left out.

use super::shape::{Anchor, Ink, Point, Rect, Text, Weight, pt};
use super::spatial_index::{SpatialIndex, is_finite};
use super::text;

/// What one step down the list of places costs, in points of line that a label would cover: a choice.
const NEXT_POSITION: f64 = 3.0;
/// What one step to a shorter form costs, in the same points: a choice.
const SHORTER: f64 = 40.0;

/// One line of a label: a text without its place.
#[derive(Clone, Debug, PartialEq)]
pub struct LabelLine {
    /// What it says.
    pub words: String,
    /// Size of the letters, points to the em.
    pub size: f64,
    /// Weight of the letters.
    pub weight: Weight,
    /// With what.
    pub ink: Ink,
}

impl LabelLine {
    /// A line in regular letters.
    pub fn new(words: impl Into<String>, size: f64, ink: Ink) -> LabelLine {
        LabelLine {
            words: words.into(),
            size,
            weight: Weight::Regular,
            ink,
        }
    }

    /// The same line in strong letters.
    #[must_use]
    pub fn strong(self) -> LabelLine {
        LabelLine {
            weight: Weight::Strong,
            ..self
        }
    }
}

/// Where a label lies, seen from the height of its spot.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LabelSide {
    /// Its bottom edge is at the spot.
    Above,
    /// Its middle is at the spot.
    #[default]
    Beside,
    /// Its top edge is at the spot.
    Below,
}

/// A place where a label may go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LabelPosition {
    /// The point that the label is hung on.
    pub at: Point,
    /// Which end of its lines is there.
    pub across: Anchor,
    /// On which side of it the label is.
    pub side: LabelSide,
}

impl LabelPosition {
    /// Eight places around `thing`, `gap` points off it: right, left, above, below, then the corners.
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

    /// The rectangle of a label `width` wide and `height` high, points, that is hung here.
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

/// A label that wants a place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LabelRequest {
    /// What it may say, from the longest form to the shortest; each form is one or more lines.
    pub forms: Vec<Vec<LabelLine>>,
    /// Where it may go, best first.
    pub spots: Vec<LabelPosition>,
    /// The higher, the sooner it is placed.
    pub rank: i32,
    /// Kept free around it, points; the edge of the page may be nearer.
    pub clear: f64,
}

/// A label that has its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// What it covers.
    pub rect: Rect,
    /// Its lines, ready to be drawn.
    pub lines: Vec<Text>,
    /// Which of the wished forms it is.
    pub form: usize,
    /// Which of the wished spots it hangs on.
    pub spot: usize,
}

/// A page that fills with labels.
#[derive(Clone, Debug)]
pub struct Placer {
    page: Rect,
    taken: SpatialIndex,
}

impl Placer {
    /// An empty page.
    pub fn new(page: Rect) -> Placer {
        Placer {
            page,
            taken: SpatialIndex::new(page),
        }
    }

    /// No label may cover this.
    pub fn block(&mut self, rect: Rect) {
        self.taken.add(rect);
    }

    /// Whether a rectangle lies where labels may.
    pub fn may_hold(&self, rect: Rect) -> bool {
        self.page.holds_all(rect)
    }

    /// Nothing that no label may cover lies in this.
    pub fn is_free(&self, rect: Rect) -> bool {
        self.taken.is_free(rect)
    }

    /// A label covers as little of this line as it can: a pipe.
    pub fn avoid(&mut self, points: &[Point]) {
        for (from, to) in points.iter().zip(points.iter().skip(1)) {
            self.taken.add_line(*from, *to);
        }
    }

    /// The label at the best place that is left; none where it fits nowhere. Nothing may cover it from then on.
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

    /// [`Placer::place`] for all of them, by rank and then in their order; the answers are in their order.
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

/// The best place so far.
struct BestPosition {
    cost: f64,
    form: usize,
    spot: usize,
    rect: Rect,
}

/// Width and height of a block of lines, points.
pub(super) fn size(lines: &[LabelLine]) -> (f64, f64) {
    let widths = lines
        .iter()
        .map(|line| text::width(&line.words, line.size, line.weight));
    let height = lines.iter().map(|line| text::line_height(line.size)).sum();
    (widths.fold(0.0, f64::max), height)
}

/// The lines of a label in their place, from the top down.
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
