//! Guides shown over the drawing while something is drawn or dragged.

use crate::draw::page::shape::{
    Anchor, Dash, Ink, Mark, Point, Rect, Shape, Stroke, Text, Weight, pt,
};
use crate::draw::page::text;

/// Text size of a guide, points.
const SIZE: f64 = 12.0;

/// Guides over the drawing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Guide {
    marks: Vec<Mark>,
}

impl Guide {
    /// The shapes, back to front.
    pub fn marks(&self) -> &[Mark] {
        &self.marks
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.marks.is_empty()
    }

    fn add(&mut self, shape: Shape) {
        self.marks.push(Mark {
            shape,
            part: None,
            strength: 1.0,
        });
    }

    /// Adds a dashed line across the whole page, horizontal or vertical, with the reason for the snap.
    pub fn along(&mut self, page: Rect, at: Axis, why: &str) {
        let (from, to, words) = match at {
            Axis::X(x) => (
                pt(x, page.top),
                pt(x, page.bottom),
                pt(x + 6.0, page.top + 18.0),
            ),
            Axis::Y(y) => (
                pt(page.left, y),
                pt(page.right, y),
                pt(page.left + 10.0, y - 6.0),
            ),
        };
        let stroke = Stroke::new(Ink::Accent, 1.0).with(Dash::Dashed);
        self.add(Shape::Line {
            points: vec![from, to],
            stroke,
        });
        self.words(words, why, page);
    }

    /// A line that is being drawn.
    pub fn line(&mut self, points: Vec<Point>) {
        if points.len() > 1 {
            let stroke = Stroke::new(Ink::Accent, 2.5);
            self.add(Shape::Line { points, stroke });
        }
    }

    /// The outline of a new part.
    pub fn outline(&mut self, corners: Vec<Point>) {
        if corners.len() > 2 {
            self.add(Shape::Area {
                corners,
                fill: None,
                edge: Some(Stroke::new(Ink::Accent, 1.6)),
            });
        }
    }

    /// A ring around a position.
    pub fn ring(&mut self, centre: Point, radius: f64) {
        self.add(Shape::Circle {
            centre,
            radius,
            fill: None,
            edge: Some(Stroke::new(Ink::Accent, 1.8)),
        });
    }

    /// A label near a position, kept on the page.
    pub fn words(&mut self, near: Point, words: &str, page: Rect) {
        let wide = text::width(words, SIZE, Weight::Regular) + 12.0;
        let left = near.x.min(page.right - wide - 4.0).max(page.left + 2.0);
        let top = (near.y - 16.0).clamp(page.top + 2.0, (page.bottom - 24.0).max(page.top + 2.0));
        self.add(Shape::Box {
            rect: Rect {
                left,
                top,
                right: left + wide,
                bottom: top + 20.0,
            },
            radius: 4.0,
            fill: Some(Ink::Card),
            edge: Some(Stroke::new(Ink::FaintLine, 1.0)),
        });
        self.add(Shape::Text(Text {
            at: pt(left + 6.0, top + 14.5),
            anchor: Anchor::Start,
            words: words.to_owned(),
            size: SIZE,
            weight: Weight::Regular,
            ink: Ink::Text,
        }));
    }
}

/// A line across the whole page.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Axis {
    /// Vertical, at this x.
    X(f64),
    /// Horizontal, at this y.
    Y(f64),
}
