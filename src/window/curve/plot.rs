//! The small plot of a curve: axes with units, the curve in the layout, the new one, its band and the duty.

use super::axes::{AxisScale, CurveAxes, DutyPoint};
use super::{CurveDialog, theme};
use crate::draw::page::shape::Ink;
use crate::evaluate;
use crate::layout::CurveForm;
use crate::units::{Quantity, read_in};
use egui::{Align2, Rect, Sense, Stroke, Ui, Vec2, vec2};

/// Size of the plot, points.
const SIZE: Vec2 = vec2(470.0, 420.0);
/// Size next to a picture, which takes most of the space.
const SMALL: Vec2 = vec2(390.0, 150.0);
/// Margins at the left and at the bottom for numbers.
const LEFT: f32 = 46.0;
const FOOT: f32 = 38.0;
/// Margin at the top for the name of the axis.
const TOP: f32 = 20.0;
/// Shows the plot at full size. `duty`: flow (m³/s) and head (m).
pub(super) fn show(
    ui: &mut Ui,
    dialog: &CurveDialog,
    (curve, duty): (Option<&CurveForm>, Option<(f64, f64)>),
) {
    draw(ui, dialog, (SIZE, curve, duty));
}

/// Shows the small plot, without the duty.
pub(super) fn small(ui: &mut Ui, dialog: &CurveDialog, curve: Option<&CurveForm>) {
    draw(ui, dialog, (SMALL, curve, None));
}

fn draw(
    ui: &mut Ui,
    dialog: &CurveDialog,
    (size, curve, duty): (Vec2, Option<&CurveForm>, Option<DutyPoint>),
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
    let most = |of: fn(&DutyPoint) -> f64| -> f64 {
        let lines = all.iter().flat_map(|line| line.iter());
        lines.chain(&duty).map(of).fold(0.0, f64::max)
    };
    let system = dialog.system;
    let size_of = |quantity, unit| read_in(quantity, "1", (system, unit)).unwrap_or(1.0);
    let axes = CurveAxes {
        inside: Rect::from_min_max(rect.min + vec2(LEFT, TOP), rect.max - vec2(8.0, FOOT)),
        flow: AxisScale::to(
            most(|point| point.0),
            size_of(Quantity::Flow, dialog.flow_unit),
        ),
        head: AxisScale::to(
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
        // A pump curve falls, so there is free space above it, and below its end.
        let (anchor, gap) = if at.x > axes.inside.right() - 50.0 {
            (Align2::RIGHT_TOP, vec2(-6.0, 6.0))
        } else {
            (Align2::LEFT_BOTTOM, vec2(8.0, -3.0))
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
