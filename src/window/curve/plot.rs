//! The small plot of a curve: axes with units, the curve as it stands, the one that is typed, its band, the duty.

use super::{CurveDialog, theme};
use crate::draw::shape::Ink;
use crate::evaluate;
use crate::layout::CurveForm;
use crate::units::{Quantity, read_in};
use egui::epaint::{Mesh, PathShape, Vertex};
use egui::{Align2, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, Vec2, pos2, vec2};

/// Size of the plot, points.
const SIZE: Vec2 = vec2(470.0, 420.0);
/// The same where a picture takes the room.
const SMALL: Vec2 = vec2(390.0, 150.0);
/// Room at the left and at the foot for numbers.
const LEFT: f32 = 46.0;
const FOOT: f32 = 38.0;
/// About this much room is between two lines of the grid, points.
const GRID: f32 = 70.0;

/// The plot at full size. `duty`: flow (m³/s) and head (m).
pub(super) fn show(
    ui: &mut Ui,
    dialog: &CurveDialog,
    (curve, duty): (Option<&CurveForm>, Option<(f64, f64)>),
) {
    draw(ui, dialog, (SIZE, curve, duty));
}

/// A small one without the duty.
pub(super) fn small(ui: &mut Ui, dialog: &CurveDialog, curve: Option<&CurveForm>) {
    draw(ui, dialog, (SMALL, curve, None));
}

/// Flow and head.
type Point = (f64, f64);

fn draw(
    ui: &mut Ui,
    dialog: &CurveDialog,
    (size, curve, duty): (Vec2, Option<&CurveForm>, Option<Point>),
) {
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::accesskit::Role::Image, true, "Plot of the curve")
    });
    let was = evaluate::line_of_curve(&dialog.was).unwrap_or_default();
    let now = curve.and_then(evaluate::line_of_curve).unwrap_or_default();
    let edges = curve.and_then(evaluate::edges_of_guess);
    let edges =
        edges.map(|both| both.map(|edge| evaluate::line_of_curve(&edge).unwrap_or_default()));
    let all = [was.as_slice(), now.as_slice()];
    let most = |of: fn(&Point) -> f64| -> f64 {
        let lines = all.iter().flat_map(|line| line.iter());
        lines.chain(&duty).map(of).fold(0.0, f64::max)
    };
    let system = dialog.system;
    let size_of = |quantity, unit| read_in(quantity, "1", (system, unit)).unwrap_or(1.0);
    let axes = Axes {
        inside: Rect::from_min_max(rect.min + vec2(LEFT, 8.0), rect.max - vec2(8.0, FOOT)),
        flow: Scale::to(
            most(|point| point.0),
            size_of(Quantity::Flow, dialog.flow_unit),
        ),
        head: Scale::to(
            most(|point| point.1),
            size_of(Quantity::Head, dialog.head_unit),
        ),
    };
    let painter = ui.painter_at(rect);
    axes.grid(ui, &painter, (dialog.flow_unit, dialog.head_unit));
    let painter = ui.painter_at(axes.inside.expand(2.0));
    let ink = |ink: Ink| theme::ink(ui, ink);
    if let Some([low, high]) = &edges {
        painter.add(axes.band(low, high, ink(Ink::WaterLine).gamma_multiply(0.22)));
    }
    painter.add(axes.path(&was, Stroke::new(1.5, ink(Ink::FaintLine))));
    painter.add(axes.path(&now, Stroke::new(2.2, ink(Ink::WaterLine))));
    if let Some(CurveForm::Points(points)) = curve {
        for point in points {
            let at = axes.place((point.flow_m3_s, point.head_m));
            painter.circle_filled(at, 3.5, ink(Ink::WaterLine));
        }
    }
    if let Some(duty) = duty.filter(|_| curve.is_some()) {
        let at = axes.place(duty);
        painter.circle_filled(at, 5.0, ink(Ink::Accent));
        let (anchor, gap) = if at.x > axes.inside.center().x {
            (Align2::RIGHT_BOTTOM, vec2(-8.0, -4.0))
        } else {
            (Align2::LEFT_BOTTOM, vec2(8.0, -4.0))
        };
        painter.text(
            at + gap,
            anchor,
            "Duty",
            theme::strong(theme::SMALL),
            ink(Ink::Accent),
        );
    }
}

/// From nought to a round number, in a unit.
#[derive(Clone, Copy)]
struct Scale {
    /// The end of the axis, SI.
    most: f64,
    /// One of the unit, SI.
    one: f64,
}

impl Scale {
    fn to(most: f64, one: f64) -> Scale {
        let most = if most > 0.0 && most.is_finite() {
            most * 1.06
        } else {
            one
        };
        Scale { most, one }
    }

    /// Marks about `count` to the axis at 1, 2 or 5 of a power of ten, in the unit.
    fn marks(&self, count: f64) -> Vec<f64> {
        let span = self.most / self.one;
        let rough = span / count.max(1.0);
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

struct Axes {
    inside: Rect,
    flow: Scale,
    head: Scale,
}

impl Axes {
    fn place(&self, (flow, head): Point) -> Pos2 {
        // A share of the axis: nothing is lost.
        #[allow(clippy::cast_possible_truncation)]
        let share = |value: f64, scale: Scale| (value / scale.most) as f32;
        let across = self.inside.left() + share(flow, self.flow) * self.inside.width();
        let up = self.inside.bottom() - share(head, self.head) * self.inside.height();
        pos2(across, up)
    }

    fn path(&self, line: &[Point], stroke: Stroke) -> Shape {
        let points = line.iter().map(|point| self.place(*point)).collect();
        Shape::Path(PathShape::line(points, stroke))
    }

    /// The area between two lines that begin and end together.
    fn band(&self, low: &[Point], high: &[Point], fill: egui::Color32) -> Shape {
        let mut mesh = Mesh::default();
        let vertex = |point: &Point| Vertex {
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

    fn grid(&self, ui: &Ui, painter: &Painter, (flow_unit, head_unit): (&str, &str)) {
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
            inside.left_top() + vec2(6.0, 2.0),
            Align2::LEFT_TOP,
            words,
            strong,
            soft,
        );
    }
}

/// A mark of the grid, without the dust of its last digits.
fn number(mark: f64) -> String {
    let text = format!("{mark:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
