//! Plain shapes on a page, of which every drawing is made.
//!
//! Lengths are page points (a logical pixel on a screen, 1/72 inch on paper), x to the right, y down the page. A shape
//! names an [`Ink`], never a colour; [`super::theme`] maps inks to colours.

use super::site_photo::SitePhoto;
use crate::layout::Id;
use std::sync::Arc;

/// A point on the page, points.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// Distance to the right.
    pub x: f64,
    /// Distance down the page.
    pub y: f64,
}

/// Makes a [`Point`].
pub fn pt(x: f64, y: f64) -> Point {
    Point { x, y }
}

impl Point {
    /// Returns the point moved by `dx` to the right and `dy` down.
    pub fn moved(self, dx: f64, dy: f64) -> Point {
        pt(self.x + dx, self.y + dy)
    }

    /// Returns the straight distance to `other`, points.
    pub fn distance(self, other: Point) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// An upright rectangle on the page; `right ≥ left`, `bottom ≥ top`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Rect {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Right edge.
    pub right: f64,
    /// Bottom edge.
    pub bottom: f64,
}

impl Rect {
    /// Returns the smallest rectangle that holds both points.
    pub fn between(a: Point, b: Point) -> Rect {
        Rect {
            left: a.x.min(b.x),
            top: a.y.min(b.y),
            right: a.x.max(b.x),
            bottom: a.y.max(b.y),
        }
    }

    /// Returns the smallest rectangle that holds all `points`; an empty one at the origin if there are none.
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

    /// Returns the width, points.
    pub fn width(self) -> f64 {
        self.right - self.left
    }

    /// Returns the height, points.
    pub fn height(self) -> f64 {
        self.bottom - self.top
    }

    /// Returns the middle.
    pub fn centre(self) -> Point {
        pt(
            (self.left + self.right) / 2.0,
            (self.top + self.bottom) / 2.0,
        )
    }

    /// Returns the rectangle grown by `by` on every side.
    pub fn grown(self, by: f64) -> Rect {
        Rect {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    /// Returns whether the point is inside or on the edge.
    pub fn holds(self, point: Point) -> bool {
        (self.left..=self.right).contains(&point.x) && (self.top..=self.bottom).contains(&point.y)
    }

    /// Returns whether `other` is inside, edges included.
    pub fn holds_all(self, other: Rect) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }

    /// Returns whether the rectangles share more than an edge.
    pub fn overlaps(self, other: Rect) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Returns the corners, clockwise from the top left.
    pub fn corners(self) -> Vec<Point> {
        vec![
            pt(self.left, self.top),
            pt(self.right, self.top),
            pt(self.right, self.bottom),
            pt(self.left, self.bottom),
        ]
    }
}

/// Ink of a shape, named by its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// Background of the page.
    Page,
    /// Background of a box on the page, such as behind a label.
    Card,
    /// Text and numbers.
    Text,
    /// Secondary text.
    SoftText,
    /// Walls, pipes, the staff.
    Line,
    /// Secondary lines: hidden pipe, rules.
    FaintLine,
    /// The inside of a dry vessel.
    Inside,
    /// Water.
    Water,
    /// The surface of the water, and flow.
    WaterLine,
    /// Gravel, mats, beads.
    Medium,
    /// Stands of vessels.
    Stand,
    /// Edge of a stand.
    StandLine,
    /// The ground.
    Ground,
    /// The one accent colour: selected items.
    Accent,
    /// A problem.
    Problem,
    /// A warning.
    Warning,
    /// A note.
    Note,
    /// A range without problems, such as a set-height band.
    Good,
}

/// Dash pattern of a line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Dash {
    /// Solid.
    #[default]
    Solid,
    /// Dashed, for hidden edges.
    Dashed,
    /// Dotted, for falling drops.
    Dotted,
}

/// Style of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Ink of the line.
    pub ink: Ink,
    /// Width, points.
    pub width: f64,
    /// Dash pattern.
    pub dash: Dash,
}

impl Stroke {
    /// Makes a solid line.
    pub fn new(ink: Ink, width: f64) -> Stroke {
        Stroke {
            ink,
            width,
            dash: Dash::Solid,
        }
    }

    /// Returns the same line with a dash pattern.
    pub fn with(self, dash: Dash) -> Stroke {
        Stroke { dash, ..self }
    }

    /// Returns the lengths of dash and gap, points; `None` for a solid line.
    pub fn pattern(self) -> Option<(f64, f64)> {
        match self.dash {
            Dash::Solid => None,
            Dash::Dashed => Some(((4.0 * self.width).max(5.0), (2.5 * self.width).max(3.5))),
            Dash::Dotted => Some((self.width.max(1.2), (2.0 * self.width).max(3.0))),
        }
    }
}

/// Font weight.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Weight {
    /// Body text.
    #[default]
    Regular,
    /// Names and results.
    Strong,
}

/// Which end of a text is at its position.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// Left end.
    #[default]
    Start,
    /// Middle.
    Middle,
    /// Right end.
    End,
}

/// One line of text.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Position of the baseline, at the end that `anchor` names.
    pub at: Point,
    /// Which end is at `at`.
    pub anchor: Anchor,
    /// The text, one line.
    pub words: String,
    /// Font size, points to the em.
    pub size: f64,
    /// Font weight.
    pub weight: Weight,
    /// Ink of the text.
    pub ink: Ink,
}

/// A shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// An open line through at least two points, with round joins.
    Line {
        /// Points in order.
        points: Vec<Point>,
        /// Style of the line.
        stroke: Stroke,
    },
    /// A convex area of at least three corners.
    Area {
        /// Corners in order.
        corners: Vec<Point>,
        /// Fill, if any.
        fill: Option<Ink>,
        /// Edge, if any.
        edge: Option<Stroke>,
    },
    /// An upright rectangle with round corners.
    Box {
        /// Position and size.
        rect: Rect,
        /// Radius of the corners, points.
        radius: f64,
        /// Fill, if any.
        fill: Option<Ink>,
        /// Edge, if any.
        edge: Option<Stroke>,
    },
    /// A circle.
    Circle {
        /// Centre.
        centre: Point,
        /// Radius, points.
        radius: f64,
        /// Fill, if any.
        fill: Option<Ink>,
        /// Edge, if any.
        edge: Option<Stroke>,
    },
    /// A line of text.
    Text(Text),
}

/// A shape with the part that it belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// The shape.
    pub shape: Shape,
    /// Part that it belongs to; `None` for staff, ground and frame.
    pub part: Option<Id>,
    /// Opacity: 1 in full, less for what is out of date or secondary.
    pub strength: f64,
}

impl Mark {
    /// Makes a mark that belongs to no part, at full opacity.
    pub fn plain(shape: Shape) -> Mark {
        Mark {
            shape,
            part: None,
            strength: 1.0,
        }
    }
}

/// A finished drawing: marks from back to front.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Drawing {
    /// Width of the page, points.
    pub width: f64,
    /// Height of the page, points.
    pub height: f64,
    /// Title, also read out by a screen reader.
    pub title: String,
    /// Marks, back to front.
    pub marks: Vec<Mark>,
    /// Site photo below all marks, in files made from the drawing.
    pub under: Option<Arc<SitePhoto>>,
}
