//! The pointer shape, which shows what a click would do.

use crate::draw::section::Pick;
use crate::editor::{Tool, ToolState};
use egui::{CursorIcon, Response, Ui};

/// Sets the pointer shape over the drawing.
pub(super) fn set(ui: &Ui, response: &Response, hand: &ToolState) {
    if !response.contains_pointer() && !hand.drags() {
        return;
    }
    let icon = match (hand.tool, &hand.hovered, hand.moves_page()) {
        (_, _, true) => CursorIcon::Grabbing,
        (Tool::Hand, Some(Pick::Crest { .. } | Pick::Rim(_) | Pick::Floor(_)), _) => {
            CursorIcon::ResizeVertical
        }
        (Tool::Hand, Some(Pick::Corner { .. }), _) => CursorIcon::Move,
        (Tool::Hand, Some(Pick::Part(_)), _) => CursorIcon::PointingHand,
        (Tool::Hand, None, _) => CursorIcon::Default,
        _ => CursorIcon::Crosshair,
    };
    ui.ctx().set_cursor_icon(icon);
}
