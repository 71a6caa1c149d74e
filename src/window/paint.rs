//! The shapes of a drawing, handed to the toolkit.

use super::theme;
use crate::draw::shape::{self, Anchor, Drawing, Ink, Mark, Shape, Stroke, Weight};
use crate::draw::theme::Theme;
use egui::epaint::{CircleShape, PathShape, PathStroke, RectShape};
use egui::{Color32, CornerRadius, FontId, Pos2, Rect, StrokeKind, Vec2};

/// Draws a drawing with its top left corner at `origin`.
pub fn drawing(painter: &egui::Painter, origin: Pos2, drawing: &Drawing, theme: Theme) {
    marks(painter, origin, &drawing.marks, theme);
}

/// Draws single marks, the top left corner of their page at `origin`.
pub fn marks(painter: &egui::Painter, origin: Pos2, marks: &[Mark], theme: Theme) {
    let brush = Brush {
        painter,
        offset: origin.to_vec2(),
        theme,
    };
    for mark in marks {
        brush.mark(mark);
    }
}

struct Brush<'a> {
    painter: &'a egui::Painter,
    offset: Vec2,
    theme: Theme,
}

impl Brush<'_> {
    fn mark(&self, mark: &Mark) {
        // Faint inks are mixed with nothing: what lies under them shows through.
        let strength = length(mark.strength.clamp(0.0, 1.0));
        let color = |ink: Ink| theme::color(self.theme, ink).gamma_multiply(strength);
        match &mark.shape {
            Shape::Line { points, stroke } => self.line(points, *stroke, color(stroke.ink)),
            Shape::Area {
                corners,
                fill,
                edge,
            } => {
                let points = corners.iter().map(|point| self.pos(*point)).collect();
                self.painter.add(PathShape::convex_polygon(
                    points,
                    fill.map_or(Color32::TRANSPARENT, color),
                    path_stroke(*edge, &color),
                ));
            }
            Shape::Box {
                rect,
                radius,
                fill,
                edge,
            } => {
                let rect = Rect::from_min_max(
                    self.pos(shape::pt(rect.left, rect.top)),
                    self.pos(shape::pt(rect.right, rect.bottom)),
                );
                // A radius of a few points: nothing is lost.
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                let radius = CornerRadius::same(radius.clamp(0.0, 40.0) as u8);
                self.painter.add(RectShape::new(
                    rect,
                    radius,
                    fill.map_or(Color32::TRANSPARENT, color),
                    plain_stroke(*edge, &color),
                    StrokeKind::Middle,
                ));
            }
            Shape::Circle {
                centre,
                radius,
                fill,
                edge,
            } => {
                let radius = length(*radius);
                self.painter.add(CircleShape {
                    center: self.pos(*centre),
                    radius,
                    fill: fill.map_or(Color32::TRANSPARENT, color),
                    stroke: plain_stroke(*edge, &color),
                });
            }
            Shape::Text(text) => self.text(text, color(text.ink)),
        }
    }

    fn line(&self, points: &[shape::Point], stroke: Stroke, color: Color32) {
        let points: Vec<Pos2> = points.iter().map(|point| self.pos(*point)).collect();
        let width = length(stroke.width);
        let plain = egui::Stroke::new(width, color);
        match stroke.pattern() {
            None => {
                self.painter
                    .add(PathShape::line(points, PathStroke::from(plain)));
            }
            Some((on, off)) => {
                let dashes = egui::Shape::dashed_line(&points, plain, length(on), length(off));
                self.painter.extend(dashes);
            }
        }
    }

    fn text(&self, text: &shape::Text, color: Color32) {
        let size = length(text.size);
        let font = match text.weight {
            Weight::Regular => FontId::proportional(size),
            Weight::Strong => theme::strong(size),
        };
        let galley = self.painter.layout_no_wrap(text.words.clone(), font, color);
        let first = galley.rows.first();
        let baseline = first.and_then(|row| Some(row.pos.y + row.row.glyphs.first()?.pos.y));
        let at = self.pos(text.at);
        let left = match text.anchor {
            Anchor::Start => at.x,
            Anchor::Middle => at.x - galley.size().x / 2.0,
            Anchor::End => at.x - galley.size().x,
        };
        let top = at.y - baseline.unwrap_or(size);
        self.painter.galley(Pos2::new(left, top), galley, color);
    }

    fn pos(&self, point: shape::Point) -> Pos2 {
        pos(point) + self.offset
    }
}

/// A point of a drawing as the toolkit has it.
pub(super) fn pos(point: shape::Point) -> Pos2 {
    Pos2::new(length(point.x), length(point.y))
}

// The toolkit counts in f32: seven digits, and a screen has four.
#[allow(clippy::cast_possible_truncation)]
fn length(points: f64) -> f32 {
    points as f32
}

fn plain_stroke(edge: Option<Stroke>, color: &dyn Fn(Ink) -> Color32) -> egui::Stroke {
    edge.map_or(egui::Stroke::NONE, |edge| {
        egui::Stroke::new(length(edge.width), color(edge.ink))
    })
}

fn path_stroke(edge: Option<Stroke>, color: &dyn Fn(Ink) -> Color32) -> PathStroke {
    PathStroke::from(plain_stroke(edge, color))
}
