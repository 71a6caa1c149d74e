//! Pointer events on a drawing, in the order in which they came.

use super::Canvas;
use super::board::local;
use crate::edit::Edit;
use crate::editor::{Event, Ground, Hand, Request, Sheet};
use crate::session::Session;
use crate::window::wants::Want;
use egui::{PointerButton, Response, Ui};

/// Handles the pointer events on one drawing.
pub(super) fn take(
    ui: &Ui,
    response: &Response,
    (canvas, sheet): (&Canvas, Sheet),
    hand: &mut Hand,
    session: &mut Session,
) -> Vec<Want> {
    // A drag that began on the other drawing stays there.
    if hand.holds() && hand.sheet() != sheet {
        return Vec::new();
    }
    let over = response.contains_pointer();
    let mut wants = Vec::new();
    let happened = ui.input(|input| input.events.clone());
    for event in happened {
        let event = match event {
            egui::Event::PointerMoved(pos) if over || hand.holds() => {
                Event::Moved(local(response, pos))
            }
            egui::Event::PointerButton {
                pos,
                button: PointerButton::Primary,
                pressed,
                modifiers,
            } => match pressed {
                false if over || hand.holds() => Event::Released(local(response, pos)),
                true if over && modifiers.shift => Event::PressedToo(local(response, pos)),
                true if over => Event::Pressed(local(response, pos)),
                _ => continue,
            },
            egui::Event::PointerGone if over => Event::Left,
            _ => continue,
        };
        wants.extend(give(event, (canvas, sheet), hand, session));
    }
    if !over && !hand.holds() && hand.sheet() == sheet {
        hand.hovered = None;
    }
    wants
}

/// Passes one event to the tool and carries out its request.
pub(super) fn give(
    event: Event,
    (canvas, sheet): (&Canvas, Sheet),
    hand: &mut Hand,
    session: &mut Session,
) -> Option<Want> {
    let layout = session.layout().clone();
    let ground = Ground {
        layout: &layout,
        targets: canvas.targets(sheet),
        units: layout.units,
        sheet,
    };
    let request = hand.take(event, &ground)?;
    grant(request, session)
}

/// Commits a drag and reports it; the message before belongs to another change.
fn committed(edit: Edit, session: &mut Session) -> Option<Want> {
    let layout = session.layout().clone();
    let name = |id: &crate::layout::Id| layout.name_of(id).to_owned();
    let words = edit.name.read(&name, layout.units);
    Some(Want::Say(match session.commit(edit) {
        Ok(()) if std::sync::Arc::ptr_eq(&layout, session.layout()) => return None,
        Ok(()) => format!("Done: {words}."),
        Err(refused) => refused.read(&name, layout.units),
    }))
}

/// Carries out a tool request at once, so that levels follow in the same frame.
fn grant(request: Request, session: &mut Session) -> Option<Want> {
    let done = match request {
        Request::Preview(edit) => session.preview(&edit),
        Request::Commit(edit) => return committed(edit, session),
        Request::Make(edit, made) => return Some(Want::MakeAnd(edit, made)),
        Request::Say(words) => return Some(Want::Say(words)),
        Request::Drop => {
            session.drop_preview();
            Ok(())
        }
        Request::Refused(refused) => Err(refused),
    };
    let layout = session.layout();
    let name = |id: &crate::layout::Id| layout.name_of(id).to_owned();
    done.err()
        .map(|refused| Want::Say(refused.read(&name, layout.units)))
}
