//! Plain shapes on a page: what every drawing is made of.
//!
//! Lengths are page points (a logical pixel on a screen, 1/72 inch on paper), x to the right,
//! y down the page. A shape names an [`Ink`], never a colour; [`super::theme`] says what that is.

use super::site_photo::SitePhoto;
use crate::layout::Id;
use std::sync::Arc;

/// A place on the page, points.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Down the page.
    pub y: f64,
}

/// Short for a [`Point`].
pub fn pt(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    /// The place moved by `dx` to the right and `dy` down.
    pub fn moved(self, dx: f64, dy: f64) -> Point {
        pt(self.x + dx, self.y + dy)
    }

    /// Straight distance to `other`, points.
    pub fn distance(self, other: Point) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// An upright rectangle on the page; `right ≥ left`, `bottom ≥ top`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rect {
    /// Its left edge.
    pub left: f64,
    /// Its top edge.
    pub top: f64,
    /// Its right edge.
    pub right: f64,
    /// Its bottom edge.
    pub bottom: f64,
}

impl Rect {
    /// The smallest one that holds both points.
    pub fn between(a: Point, b: Point) -> Rect {
        Rect {
            left: a.x.min(b.x),
            top: a.y.min(b.y),
            right: a.x.max(b.x),
            bottom: a.y.max(b.y),
        }
    }

    /// The smallest one that holds all `points`; an empty one at the corner of the page for none.
    pub fn around(points: &[Point]) -> Rect {
        let mut points = points.iter();
        let first = points.next().copied().unwrap_or_default();
        points.fold(Rect::between(first, first), |rect, point| Rect {
            left: rect.left.min(point.x),
            top: rect.top.min(point.y),
            right: rect.right.max(point.x),
            bottom: rect.bottom.max(point.y),
        })
    }

    /// Width, points.
    pub fn width(self) -> f64 {
        self.right - self.left
    }

    /// Height, points.
    pub fn height(self) -> f64 {
        self.bottom - self.top
    }

    /// Its middle.
    pub fn centre(self) -> Point {
        pt(
            (self.left + self.right) / 2.0,
            (self.top + self.bottom) / 2.0,
        )
    }

    /// Grown by `by` on every side.
    pub fn grown(self, by: f64) -> Rect {
        Rect {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// The point is inside or on the edge.
    pub fn holds(self, point: Point) -> bool {
        (self.left..=self.right).contains(&point.x) && (self.top..=self.bottom).contains(&point.y)
    }

    /// `other` is inside, edges included.
    pub fn holds_all(self, other: Rect) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }

    /// They share more than an edge.
    pub fn overlaps(self, other: Rect) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Its corners, clockwise from the top left.
    pub fn corners(self) -> Vec<Point> {
        vec![
            pt(self.left, self.top),
            pt(self.right, self.top),
            pt(self.right, self.bottom),
            pt(self.left, self.bottom),
        ]
    }
}

/// What a shape is drawn with, by what it means.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// The sheet itself.
    Page,
    /// A box that stands on the sheet: behind a label.
    Card,
    /// Words and numbers.
    Text,
    /// Words that matter less.
    SoftText,
    /// Walls, pipes, the staff.
    Line,
    /// Edges that matter less: hidden pipe, rules.
    FaintLine,
    /// The inside of a dry vessel.
    Inside,
    /// Water.
    Water,
    /// The surface of the water, and flow.
    WaterLine,
    /// Gravel, mats, beads.
    Medium,
    /// What vessels stand on.
    Stand,
    /// The edge of a stand.
    StandLine,
    /// The ground.
    Ground,
    /// The one accent: what is selected.
    Accent,
    /// A problem.
    Problem,
    /// A warning.
    Warning,
    /// A note.
    Note,
    /// A place where nothing goes wrong: a set-height band.
    Good,
}

/// How a line is broken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Dash {
    /// Not at all.
    #[default]
    Solid,
    /// Hidden edges.
    Dashed,
    /// Falling drops.
    Dotted,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// With what.
    pub ink: Ink,
    /// How wide, points.
    pub width: f64,
    /// How it is broken.
    pub dash: Dash,
}

impl Stroke {
    /// An unbroken line.
    pub fn new(ink: Ink, width: f64) -> Stroke {
        Stroke {
            ink,
            width,
            dash: Dash::Solid,
        }
    }

    /// The same line, broken so.
    pub fn with(self, dash: Dash) -> Stroke {
        Stroke { dash, ..self }
    }

    /// How long it is drawn and then left out, points; none where it is not broken.
    pub fn pattern(self) -> Option<(f64, f64)> {
        match self.dash {
            Dash::Solid => None,
            Dash::Dashed => Some(((4.0 * self.width).max(5.0), (2.5 * self.width).max(3.5))),
            Dash::Dotted => Some((self.width.max(1.2), (2.0 * self.width).max(3.0))),
        }
    }
}

/// How heavy letters are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Weight {
    /// Body text.
    #[default]
    Regular,
    /// Names and results.
    Strong,
}

/// Which end of a text its place is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// One line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Where its baseline is, at the end that `anchor` names.
    pub at: Point,
    /// Which end.
    pub anchor: Anchor,
    /// What it says: one line.
    pub words: String,
    /// Size of the letters, points to the em.
    pub size: f64,
    /// Weight of the letters.
    pub weight: Weight,
    /// With what.
    pub ink: Ink,
}

/// One shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// An open line through at least two points, with round joins.
    Line {
        /// The points.
        points: Vec<Point>,
        /// How.
        stroke: Stroke,
    },
    /// A convex area of at least three corners.
    Area {
        /// The corners in order.
        corners: Vec<Point>,
        /// Filled with this.
        fill: Option<Ink>,
        /// Its edge.
        edge: Option<Stroke>,
    },
    /// An upright rectangle with round corners.
    Box {
        /// Where.
        rect: Rect,
        /// Radius of the corners, points.
        radius: f64,
        /// Filled with this.
        fill: Option<Ink>,
        /// Its edge.
        edge: Option<Stroke>,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: Point,
        /// Its radius, points.
        radius: f64,
        /// Filled with this.
        fill: Option<Ink>,
        /// Its edge.
        edge: Option<Stroke>,
    },
    /// A line of text.
    Text(Text),
}

/// A shape and what it belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The shape.
    pub shape: Shape,
    /// The part it stands for; none for staff, ground and frame.
    pub part: Option<Id>,
    /// How strongly it is drawn: 1 as it is, less where it is out of date or of no concern.
    pub strength: f64,
}

impl Mark {
    /// A shape that stands for no part, drawn as it is.
    pub fn plain(shape: Shape) -> Mark {
        Mark {
            shape,
            part: None,
            strength: 1.0,
        }
    }
}

/// A finished drawing: marks from the back to the front.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Width of the page, points.
    pub width: f64,
    /// Height of the page, points.
    pub height: f64,
    /// What a reader without eyes is told it is.
    pub title: String,
    /// The marks, back to front.
    pub marks: Vec<Mark>,
    /// A picture under all of them, in the files that are made of the drawing.
    pub under: Option<Arc<SitePhoto>>,
}
