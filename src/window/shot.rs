//! Saves or copies a picture on the screen that is not a drawing of the layout.

use super::action::{Action, Snapshot};
use super::commands::Command;
use crate::draw::shape::Drawing;
use egui::{Response, Ui};
use std::rc::Rc;

/// The commands for it.
const COMMANDS: [Command; 3] = [Command::SavePicture, Command::CopyPicture, Command::CopySvg];
const TIP: &str = "This picture, at its size on the screen";

/// One button per command, side by side. `word`: for the file name.
pub(super) fn buttons(
    ui: &mut Ui,
    (word, drawing): (&'static str, impl Fn() -> Drawing),
    actions: &mut Vec<Action>,
) {
    for command in COMMANDS {
        if ui.button(command.text()).on_hover_text(TIP).clicked() {
            let drawing = Rc::new(drawing());
            actions.push(Action::Picture(command, Snapshot { word, drawing }));
        }
    }
}

/// The same in a context menu.
pub(super) fn menu(
    response: &Response,
    picture: (&'static str, impl Fn() -> Drawing),
    actions: &mut Vec<Action>,
) {
    response.context_menu(|ui| buttons(ui, picture, actions));
}
