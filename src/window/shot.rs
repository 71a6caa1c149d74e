//! A picture on the screen that is no drawing of the layout can be saved and copied where it stands.

use super::action::{Action, Snapshot};
use super::commands::Command;
use crate::draw::shape::Drawing;
use egui::{Response, Ui};
use std::rc::Rc;

/// What can be done with it.
const COMMANDS: [Command; 3] = [Command::SavePicture, Command::CopyPicture, Command::CopySvg];
const TIP: &str = "This picture, as large as it stands here";

/// A button for each, side by side. `word`: for the name of its file.
pub(super) fn buttons(
    ui: &mut Ui,
    (word, drawing): (&'static str, impl Fn() -> Drawing),
    wants: &mut Vec<Action>,
) {
    for command in COMMANDS {
        if ui.button(command.text()).on_hover_text(TIP).clicked() {
            let drawing = Rc::new(drawing());
            wants.push(Action::Picture(command, Snapshot { word, drawing }));
        }
    }
}

/// The same in the menu of the second button.
pub(super) fn menu(
    response: &Response,
    picture: (&'static str, impl Fn() -> Drawing),
    wants: &mut Vec<Action>,
) {
    response.context_menu(|ui| buttons(ui, picture, wants));
}
