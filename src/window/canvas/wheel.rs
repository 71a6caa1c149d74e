//! Wheel, pinch, trackpad and middle button: panning and zooming.

use super::drawing::local;
use crate::editor::ViewState;
use egui::{Key, Response, Ui};

/// Wheel and pinch zoom about the pointer. A trackpad, Shift with the wheel, the middle button and a drag with the
/// space bar pan the page.
pub(super) fn take(ui: &Ui, response: &Response, look: &mut ViewState) {
    let Some(pointer) = response.hover_pos() else {
        return;
    };
    let about = local(response, pointer);
    let (zoom, scroll, moves, by_space) = ui.input(|input| {
        let by_pad = input.scroll_source() == Some(egui::MouseWheelSource::Trackpad);
        (
            input.zoom_delta(),
            input.smooth_scroll_delta(),
            by_pad || input.modifiers.shift,
            input.key_down(Key::Space),
        )
    });
    look.zoom(f64::from(zoom), about);
    if moves {
        look.pan(f64::from(scroll.x), f64::from(scroll.y));
    } else {
        look.pan(f64::from(scroll.x), 0.0);
        look.zoom((f64::from(scroll.y) / 240.0).exp(), about);
    }
    let by_middle = response.dragged_by(egui::PointerButton::Middle);
    if by_middle || (by_space && response.dragged()) {
        let delta = response.drag_delta();
        look.pan(f64::from(delta.x), f64::from(delta.y));
    }
}
