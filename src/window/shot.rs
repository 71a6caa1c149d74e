//! Buttons to save or copy a picture on the screen that is not a drawing of the layout.

use super::action::{Action, Snapshot};
use super::commands::Command;
use crate::draw::page::shape::Drawing;
use egui::{Response, Ui};
use std::rc::Rc;

/// The commands for such a picture.
const COMMANDS: [Command; 3] = [Command::SavePicture, Command::CopyPicture, Command::CopySvg];
const TIP: &str = "This picture, at its size on the screen";

/// Shows one button per command. `word`: for the file name.
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

/// Shows the same buttons in a context menu.
pub(super) fn menu(
    response: &Response,
    picture: (&'static str, impl Fn() -> Drawing),
    actions: &mut Vec<Action>,
) {
    response.context_menu(|ui| buttons(ui, picture, actions));
}
