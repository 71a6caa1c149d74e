//! Converts the shapes of a drawing for the toolkit.

use super::theme;
use crate::draw::canvas::touch::Drawn;
use crate::draw::page::shape;
use crate::draw::page::shape::{Anchor, Ink, Mark, Shape, Stroke, Weight};
use crate::draw::page::theme::Theme;
use egui::epaint::{
    CircleShape, Mesh, PathShape, PathStroke, RectShape, TessellationOptions, Tessellator,
};
use egui::{Color32, CornerRadius, FontId, Pos2, Rect, StrokeKind, Vec2};
use std::rc::Rc;
use std::sync::Arc;

/// In a drawing with more marks than this, all but text is cached as triangles between frames.
const MANY: usize = 2000;

/// Draws single marks on a page whose top left corner is at `origin`.
pub fn marks(painter: &egui::Painter, origin: Pos2, marks: &[Mark], theme: Theme) {
    painter.extend(shapes(painter, origin, marks, theme));
}

/// Converts marks to shapes of the toolkit.
fn shapes<'m>(
    painter: &egui::Painter,
    origin: Pos2,
    marks: impl IntoIterator<Item = &'m Mark>,
    theme: Theme,
) -> Vec<egui::Shape> {
    let mut brush = Triangles {
        painter,
        offset: origin.to_vec2(),
        theme,
        out: Vec::new(),
    };
    for mark in marks {
        brush.mark(mark);
    }
    brush.out
}

/// The cached shapes of a drawing, valid for one drawing.
#[derive(Default)]
pub struct DrawingPainter {
    last: Option<Triangulated>,
}

/// Everything in a drawing except text, as triangles.
struct Triangulated {
    of: Rc<Drawn>,
    origin: Pos2,
    theme: Theme,
    pixels_per_point: f32,
    mesh: Arc<Mesh>,
}

impl DrawingPainter {
    /// Draws a drawing with its top left corner at `origin`. With very many marks, text is painted last, on top of
    /// all else.
    pub fn drawing(
        &mut self,
        painter: &egui::Painter,
        origin: Pos2,
        drawn: &Rc<Drawn>,
        theme: Theme,
    ) {
        let all = &drawn.drawing.marks;
        if all.len() < MANY {
            self.last = None;
            return marks(painter, origin, all, theme);
        }
        let pixels_per_point = painter.ctx().pixels_per_point();
        let same = |last: &&Triangulated| {
            Rc::ptr_eq(&last.of, drawn)
                && last.origin == origin
                && last.theme == theme
                && last.pixels_per_point == pixels_per_point
        };
        let is_text = |mark: &&Mark| matches!(mark.shape, Shape::Text(_));
        let kept = self
            .last
            .as_ref()
            .filter(same)
            .map(|last| last.mesh.clone());
        let mesh = kept.unwrap_or_else(|| {
            let rest = all.iter().filter(|mark| !is_text(mark));
            Arc::new(mesh(shapes(painter, origin, rest, theme), pixels_per_point))
        });
        painter.add(egui::Shape::Mesh(mesh.clone()));
        let text = all.iter().filter(is_text);
        painter.extend(shapes(painter, origin, text, theme));
        self.last = Some(Triangulated {
            of: drawn.clone(),
            origin,
            theme,
            pixels_per_point,
            mesh,
        });
    }
}

/// Tessellates shapes without text into one mesh. It uses no texture positions, which may move between frames.
fn mesh(shapes: Vec<egui::Shape>, pixels_per_point: f32) -> Mesh {
    let options = TessellationOptions {
        prerasterized_discs: false,
        ..TessellationOptions::default()
    };
    let mut tessellator = Tessellator::new(pixels_per_point, options, [1, 1], Vec::new());
    let mut mesh = Mesh::default();
    for shape in shapes {
        tessellator.tessellate_shape(shape, &mut mesh);
    }
    mesh
}

struct Triangles<'a> {
    painter: &'a egui::Painter,
    offset: Vec2,
    theme: Theme,
    out: Vec<egui::Shape>,
}

impl Triangles<'_> {
    fn mark(&mut self, mark: &Mark) {
        // Faint inks are transparent, so that what is below shows through.
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
                self.add(PathShape::convex_polygon(
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
                // A radius of a few points: the cast loses nothing.
                let radius = CornerRadius::same(radius.clamp(0.0, 40.0) as u8);
                self.add(RectShape::new(
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
                self.add(CircleShape {
                    center: self.pos(*centre),
                    radius,
                    fill: fill.map_or(Color32::TRANSPARENT, color),
                    stroke: plain_stroke(*edge, &color),
                });
            }
            Shape::Text(text) => self.text(text, color(text.ink)),
        }
    }

    fn line(&mut self, points: &[shape::Point], stroke: Stroke, color: Color32) {
        let points: Vec<Pos2> = points.iter().map(|point| self.pos(*point)).collect();
        let width = length(stroke.width);
        let plain = egui::Stroke::new(width, color);
        match stroke.pattern() {
            None => {
                self.add(PathShape::line(points, PathStroke::from(plain)));
            }
            Some((on, off)) => {
                let dashes = egui::Shape::dashed_line(&points, plain, length(on), length(off));
                self.out.extend(dashes);
            }
        }
    }

    fn text(&mut self, text: &shape::Text, color: Color32) {
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
        self.add(egui::Shape::galley(Pos2::new(left, top), galley, color));
    }

    fn add(&mut self, shape: impl Into<egui::Shape>) {
        self.out.push(shape.into());
    }

    fn pos(&self, point: shape::Point) -> Pos2 {
        pos(point) + self.offset
    }
}

/// Converts a point of a drawing.
pub(super) fn pos(point: shape::Point) -> Pos2 {
    Pos2::new(length(point.x), length(point.y))
}

// The toolkit uses f32, with seven digits; a screen needs four.
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
