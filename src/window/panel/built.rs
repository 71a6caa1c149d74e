//! Whether a part stands already, and what can be done with it from here.

use super::Facts;
use crate::edit::{self, Lock};
use crate::layout::Id;
use crate::window::action::Action;
use crate::window::commands::Command;
use egui::Ui;

/// A tick for what is built, and the acts that are wanted most often.
pub(super) fn show(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (id, built): (&Id, bool),
    wants: &mut Vec<Action>,
) {
    let mut ticked = built;
    let tip = "It stands already: drilled and glued. It cannot be moved or changed until this is taken off.";
    if ui
        .checkbox(&mut ticked, "Built already, locked")
        .on_hover_text(tip)
        .changed()
    {
        let lock = if ticked { Lock::Built } else { Lock::Open };
        let edit = edit::lock(facts.layout, std::slice::from_ref(id), lock);
        wants.push(super::run::made(facts, edit));
    }
    acts(
        ui,
        &[Command::Duplicate, Command::Row, Command::Remove],
        wants,
    );
}

/// Buttons for commands, in a line.
pub(super) fn acts(ui: &mut Ui, commands: &[Command], wants: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        for command in commands {
            let key = command.shortcut().map(|key| ui.ctx().format_shortcut(&key));
            let tip = match key {
                Some(key) => format!("{} ({key})", command.tip()),
                None => command.tip().to_owned(),
            };
            if ui.button(command.text()).on_hover_text(tip).clicked() {
                wants.push(Action::Do(*command));
            }
        }
    });
}
