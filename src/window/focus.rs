//! A ring around the widget with the keyboard focus.

use super::theme;
use crate::draw::page::shape::Ink;
use egui::{CornerRadius, Stroke, StrokeKind, Ui};

/// Width and distance of the ring, points.
const THICK: f32 = 2.0;
const OFF: f32 = 1.5;

/// Draws the ring on top of everything.
pub fn ring(ui: &Ui) {
    let ctx = ui.ctx();
    let Some(response) = ctx
        .memory(|memory| memory.focused())
        .and_then(|id| ctx.read_response(id))
    else {
        return;
    };
    // Widgets scrolled out of view have no ring; one in part has it around its visible part.
    let seen = response.interact_rect.expand(OFF);
    if !response.interact_rect.is_positive() {
        return;
    }
    let layer = egui::LayerId::new(egui::Order::Foreground, egui::Id::unique("focus"));
    let stroke = Stroke::new(THICK, theme::ink(ui, Ink::Accent));
    let painter = ctx.layer_painter(layer);
    painter.rect_stroke(seen, CornerRadius::same(6), stroke, StrokeKind::Outside);
}
