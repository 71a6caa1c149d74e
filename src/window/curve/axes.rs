//! The axes of the plot and their data.

use crate::draw::page::shape::Ink;
use crate::window::theme;
use egui::epaint::{Mesh, PathShape, Vertex};
use egui::{Align2, Painter, Pos2, Rect, Shape, Stroke, Ui, pos2, vec2};

/// Flow (m³/s) and head (m).
pub(super) type DutyPoint = (f64, f64);

/// Approximate distance between grid lines, points.
const GRID: f32 = 70.0;

/// An axis from zero to a little above the largest value.
#[derive(Clone, Copy)]
pub(super) struct AxisScale {
    /// The end of the axis, SI.
    most: f64,
    /// The size of one display unit, SI.
    one: f64,
}

impl AxisScale {
    pub(super) fn to(most: f64, one: f64) -> AxisScale {
        let most = if most > 0.0 && most.is_finite() {
            most * 1.06
        } else {
            one
        };
        AxisScale { most, one }
    }

    /// About `count` tick marks at 1, 2 or 5 times a power of ten, in the unit.
    fn marks(&self, count: f64) -> Vec<f64> {
        let span = self.most / self.one;
        let rough = span / count.max(2.0);
        let power = 10_f64.powf(rough.log10().floor());
        let steps = [1.0, 2.0, 5.0, 10.0].map(|step| step * power);
        let step = steps
            .into_iter()
            .find(|step| *step >= rough)
            .unwrap_or(rough);
        let marks = (0..100).map(|index| f64::from(index) * step);
        marks.take_while(|mark| *mark <= span).collect()
    }
}

pub(super) struct CurveAxes {
    pub inside: Rect,
    pub flow: AxisScale,
    pub head: AxisScale,
}

impl CurveAxes {
    pub(super) fn place(&self, (flow, head): DutyPoint) -> Pos2 {
        // A share of the axis: the cast loses nothing.
        let share = |value: f64, scale: AxisScale| (value / scale.most) as f32;
        let across = self.inside.left() + share(flow, self.flow) * self.inside.width();
        let up = self.inside.bottom() - share(head, self.head) * self.inside.height();
        pos2(across, up)
    }

    pub(super) fn path(&self, line: &[DutyPoint], stroke: Stroke) -> Shape {
        let points = line.iter().map(|point| self.place(*point)).collect();
        Shape::Path(PathShape::line(points, stroke))
    }

    /// The area between two lines with common ends.
    pub(super) fn band(&self, low: &[DutyPoint], high: &[DutyPoint], fill: egui::Color32) -> Shape {
        let mut mesh = Mesh::default();
        let vertex = |point: &DutyPoint| Vertex {
            pos: self.place(*point),
            uv: egui::epaint::WHITE_UV,
            color: fill,
        };
        for (low, high) in low.iter().zip(high) {
            mesh.vertices.extend([vertex(low), vertex(high)]);
        }
        let pairs = u32::try_from(mesh.vertices.len() / 2).unwrap_or(0);
        for pair in 1..pairs {
            let last = 2 * pair;
            mesh.add_triangle(last - 2, last - 1, last);
            mesh.add_triangle(last - 1, last, last + 1);
        }
        Shape::mesh(mesh)
    }

    pub(super) fn grid(&self, ui: &Ui, painter: &Painter, (flow_unit, head_unit): (&str, &str)) {
        let faint = Stroke::new(1.0, theme::ink(ui, Ink::FaintLine).gamma_multiply(0.6));
        let soft = theme::ink(ui, Ink::SoftText);
        let font = egui::FontId::proportional(theme::SMALL);
        let inside = self.inside;
        for mark in self.flow.marks(f64::from(inside.width() / GRID)) {
            let at = self.place((mark * self.flow.one, 0.0));
            painter.line_segment([at, pos2(at.x, inside.top())], faint);
            painter.text(
                at + vec2(0.0, 4.0),
                Align2::CENTER_TOP,
                number(mark),
                font.clone(),
                soft,
            );
        }
        for mark in self.head.marks(f64::from(inside.height() / GRID)) {
            let at = self.place((0.0, mark * self.head.one));
            painter.line_segment([at, pos2(inside.right(), at.y)], faint);
            painter.text(
                at - vec2(6.0, 0.0),
                Align2::RIGHT_CENTER,
                number(mark),
                font.clone(),
                soft,
            );
        }
        let line = Stroke::new(1.2, theme::ink(ui, Ink::Line));
        painter.line_segment([inside.left_bottom(), inside.right_bottom()], line);
        painter.line_segment([inside.left_bottom(), inside.left_top()], line);
        let strong = theme::strong(theme::SMALL);
        let words = format!("Flow, {flow_unit}");
        let foot = inside.right_bottom() + vec2(0.0, 20.0);
        painter.text(foot, Align2::RIGHT_TOP, words, strong.clone(), soft);
        let words = format!("Head, {head_unit}");
        painter.text(
            inside.left_top() - vec2(0.0, 3.0),
            Align2::LEFT_BOTTOM,
            words,
            strong,
            soft,
        );
    }
}

/// Text of a tick mark, rounded so that no floating-point digits show.
fn number(mark: f64) -> String {
    let text = format!("{mark:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
