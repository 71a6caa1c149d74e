//! The row for opening a file, by the system dialog or by its path.

use super::{CurveAction, CurveDialog};
use egui::{TextEdit, Ui};
use std::path::PathBuf;

pub(super) fn show(ui: &mut Ui, dialog: &mut CurveDialog) -> Option<CurveAction> {
    let mut asked = None;
    ui.horizontal(|ui| {
        if ui.button("Choose file…").clicked() {
            asked = Some(CurveAction::Choose);
        }
        let field = TextEdit::singleline(&mut dialog.path)
            .hint_text("or type its path")
            .desired_width(190.0)
            .id_salt("name of the file");
        let response = ui.add(field).accessible_name("File path");
        let named = !dialog.path.trim().is_empty();
        let entered =
            response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter));
        let clicked = ui.add_enabled(named, egui::Button::new("Open")).clicked();
        if named && (clicked || entered) {
            asked = Some(CurveAction::Read(PathBuf::from(dialog.path.trim())));
        }
    });
    asked
}
