//! Whether a part is built, and its most common commands.

use super::Facts;
use crate::edit::{self, Lock};
use crate::layout::Id;
use crate::window::action::Action;
use crate::window::commands::Command;
use egui::Ui;

/// Shows the checkbox for built parts, and the most common commands.
pub(super) fn show(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (id, built): (&Id, bool),
    actions: &mut Vec<Action>,
) {
    let mut ticked = built;
    let tip = "Already drilled and glued. It cannot be moved or changed until you unlock it.";
    if ui
        .checkbox(&mut ticked, "Locked as built")
        .on_hover_text(tip)
        .changed()
    {
        let lock = if ticked { Lock::Built } else { Lock::Open };
        let edit = edit::lock(facts.layout, std::slice::from_ref(id), lock);
        actions.push(super::run::made(facts, edit));
    }
    acts(
        ui,
        &[Command::Duplicate, Command::Row, Command::Remove],
        actions,
    );
}

/// Shows buttons for commands, side by side.
pub(super) fn acts(ui: &mut Ui, commands: &[Command], actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        for command in commands {
            let key = command.shortcut().map(|key| ui.ctx().format_shortcut(&key));
            let tip = match key {
                Some(key) => format!("{} ({key})", command.tip()),
                None => command.tip().to_owned(),
            };
            if ui.button(command.text()).on_hover_text(tip).clicked() {
                actions.push(Action::Do(*command));
            }
        }
    });
}
