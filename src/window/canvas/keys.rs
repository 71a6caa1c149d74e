//! Keys of the drawings: Escape, Backspace and the arrows.

use super::{Canvas, events};
use crate::editor::{NudgeSize, ToolEvent, ToolState};
use crate::session::Session;
use crate::window::action::Action;
use egui::{Key, Modifiers, Ui};

/// Handles the keys of this frame.
pub(super) fn take(
    ui: &Ui,
    canvas: &Canvas,
    hand: &mut ToolState,
    session: &mut Session,
) -> Vec<Action> {
    let mut actions = Vec::new();
    for event in pressed(ui, hand) {
        // Escape first cancels a preview that no drag owns, such as that of a cure.
        if event == ToolEvent::Dropped && session.previewing() && !hand.drags() {
            session.drop_preview();
        } else {
            let sheet = hand.sheet();
            actions.extend(events::give(event, (canvas, sheet), hand, session));
        }
    }
    actions
}

/// The tool events of the keys, which are ignored while a text field has the focus or a dialog is open.
fn pressed(ui: &Ui, hand: &ToolState) -> Vec<ToolEvent> {
    let free = ui.memory(|memory| memory.allows_interaction(ui.layer_id()));
    // An open menu or list handles Escape and the arrows itself.
    if !free || ui.ctx().text_edit_focused() || egui::Popup::is_any_open(ui.ctx()) {
        return Vec::new();
    }
    ui.input_mut(|input| {
        let mut events = Vec::new();
        if input.consume_key(Modifiers::NONE, Key::Escape) {
            events.push(ToolEvent::Dropped);
        }
        if hand.draws_pipe() && input.consume_key(Modifiers::NONE, Key::Backspace) {
            events.push(ToolEvent::TakenBack);
        }
        if hand.selected.is_empty() {
            return events;
        }
        let ways = [
            (Key::ArrowUp, 0, 1),
            (Key::ArrowDown, 0, -1),
            (Key::ArrowRight, 1, 0),
            (Key::ArrowLeft, -1, 0),
        ];
        for (key, right, up) in ways {
            for (modifiers, step) in [
                (Modifiers::SHIFT, NudgeSize::Coarse),
                (Modifiers::NONE, NudgeSize::Fine),
            ] {
                let count = input.count_and_consume_key(modifiers, key);
                let count = i32::try_from(count).unwrap_or(0);
                if count != 0 {
                    let (right, up) = (right * count, up * count);
                    events.push(ToolEvent::Nudged { right, up, step });
                }
            }
        }
        events
    })
}
