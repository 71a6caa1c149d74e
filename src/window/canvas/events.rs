//! Pointer events on a drawing, in the order in which they came.

use super::Canvas;
use super::drawing::local;
use crate::edit::Edit;
use crate::editor::{DrawingKind, ToolContext, ToolEvent, ToolRequest, ToolState};
use crate::session::Session;
use crate::window::action::Action;
use egui::{PointerButton, Response, Ui};

/// Handles the pointer events on one drawing.
pub(super) fn take(
    ui: &Ui,
    response: &Response,
    (canvas, sheet): (&Canvas, DrawingKind),
    hand: &mut ToolState,
    session: &mut Session,
) -> Vec<Action> {
    // A drag that began on the other drawing is handled there.
    if hand.holds() && hand.sheet() != sheet {
        return Vec::new();
    }
    let over = response.contains_pointer();
    let mut actions = Vec::new();
    let happened = ui.input(|input| input.events.clone());
    for event in happened {
        let event = match event {
            egui::Event::PointerMoved(pos) if over || hand.holds() => {
                ToolEvent::Moved(local(response, pos))
            }
            egui::Event::PointerButton {
                pos,
                button: PointerButton::Primary,
                pressed,
                modifiers,
            } => match pressed {
                false if over || hand.holds() => ToolEvent::Released(local(response, pos)),
                true if over && modifiers.shift => ToolEvent::PressedToo(local(response, pos)),
                true if over => ToolEvent::Pressed(local(response, pos)),
                _ => continue,
            },
            egui::Event::PointerGone if over => ToolEvent::Left,
            _ => continue,
        };
        actions.extend(give(event, (canvas, sheet), hand, session));
    }
    if !over && !hand.holds() && hand.sheet() == sheet {
        hand.hovered = None;
    }
    actions
}

/// Passes one event to the tool, and carries out its request.
pub(super) fn give(
    event: ToolEvent,
    (canvas, sheet): (&Canvas, DrawingKind),
    hand: &mut ToolState,
    session: &mut Session,
) -> Option<Action> {
    let layout = session.layout().clone();
    let ground = ToolContext {
        layout: &layout,
        targets: canvas.targets(sheet),
        units: layout.units,
        sheet,
    };
    let request = hand.take(event, &ground)?;
    dispatch(request, session)
}

/// Commits a drag and returns the message for it; none where nothing changed.
fn committed(edit: Edit, session: &mut Session) -> Option<Action> {
    let layout = session.layout().clone();
    let name = |id: &crate::layout::Id| layout.name_of(id).to_owned();
    let words = edit.name.read(&name, layout.units);
    Some(Action::Say(match session.commit(edit) {
        Ok(()) if std::sync::Arc::ptr_eq(&layout, session.layout()) => return None,
        Ok(()) => format!("Done: {words}."),
        Err(refused) => refused.read(&name, layout.units),
    }))
}

/// Carries out a tool request at once, so that the levels update in the same frame.
fn dispatch(request: ToolRequest, session: &mut Session) -> Option<Action> {
    let done = match request {
        ToolRequest::Preview(edit) => session.preview(&edit),
        ToolRequest::Commit(edit) => return committed(edit, session),
        ToolRequest::Make(edit, made) => return Some(Action::MakeAnd(edit, made)),
        ToolRequest::Say(words) => return Some(Action::Say(words)),
        ToolRequest::Drop => {
            session.drop_preview();
            Ok(())
        }
        ToolRequest::Refused(refused) => Err(refused),
    };
    let layout = session.layout();
    let name = |id: &crate::layout::Id| layout.name_of(id).to_owned();
    done.err()
        .map(|refused| Action::Say(refused.read(&name, layout.units)))
}
