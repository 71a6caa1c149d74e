//! The context menu of the drawings.

use super::Canvas;
use super::drawing::local;
use crate::draw::section::Pick;
use crate::editor::{DrawingKind, ToolState, hit_at};
use crate::session::Session;
use crate::window::action::Action;
use crate::window::bar;
use crate::window::commands::{Command, CommandContext};
use egui::Response;

/// Pick tolerance around small targets, points.
const TOLERANCE: f64 = 5.0;

/// Opens the menu on a secondary click, which first selects the target under the pointer.
pub(super) fn show(
    response: &Response,
    (canvas, sheet): (&Canvas, DrawingKind),
    hand: &mut ToolState,
    session: &Session,
) -> Vec<Action> {
    if response.secondary_clicked()
        && let Some(pos) = response.interact_pointer_pos()
    {
        let found = hit_at(canvas.targets(sheet), local(response, pos), TOLERANCE);
        match found {
            Some(found) if !hand.selected.contains(&found.pick) => hand.select(found.pick.clone()),
            Some(_) => {}
            None => hand.selected.clear(),
        }
    }
    let mut actions = Vec::new();
    let about = CommandContext::of(session, hand);
    response.context_menu(|ui| {
        let mut any = false;
        for group in groups(hand.last()) {
            let able: Vec<Command> = group
                .iter()
                .copied()
                .filter(|one| one.may_run(&about))
                .collect();
            if able.is_empty() {
                continue;
            }
            if any {
                ui.separator();
            }
            any = true;
            for command in able {
                bar::item(ui, command, &about, &mut actions);
            }
        }
    });
    actions
}

/// Commands for the target, in groups.
fn groups(pick: Option<&Pick>) -> Vec<&'static [Command]> {
    use Command as C;
    match pick {
        None => vec![
            &[C::Paste, C::SelectAll],
            &[C::TakePipe, C::TakeManifold, C::TakeTape],
            &[
                C::Fit,
                C::OnlySection,
                C::OnlyPlan,
                C::BothDrawings,
                C::OnlyGrade,
            ],
        ],
        Some(Pick::Corner { .. }) => vec![&[C::Unbend]],
        Some(_) => vec![
            &[C::Rename, C::Duplicate, C::Row, C::Copy, C::Cut],
            &[C::Join, C::Feed, C::TurnLeft, C::TurnRight],
            &[
                C::LineUp,
                C::LineAcross,
                C::FloorsAlike,
                C::RimsAlike,
                C::Blocks,
            ],
            &[C::Lock, C::Unlock],
            &[C::Remove],
        ],
    }
}
