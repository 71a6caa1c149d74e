//! A table from a spreadsheet, pasted or opened.

use super::{CurveAction, CurveDialog, files, remark, say_wrong, unit};
use crate::editor::curve::{self, CurveRefusal};
use egui::{ScrollArea, TextEdit, Ui};

/// The id of the text field of the table.
pub(super) fn field() -> egui::Id {
    egui::Id::unique("the table of a curve")
}

pub(super) fn show(
    ui: &mut Ui,
    dialog: &mut CurveDialog,
    refused: Option<&CurveRefusal>,
) -> Option<CurveAction> {
    let asked = files::show(ui, dialog);
    unit::show(ui, dialog);
    ScrollArea::vertical()
        .max_height(230.0)
        .auto_shrink(false)
        .show(ui, |ui| {
            let hint = "flow (L/min);head (m)\n0;6\n22,5;5\n50;1,2";
            let text = TextEdit::multiline(&mut dialog.text)
                .id(field())
                .hint_text(hint)
                .desired_rows(11)
                .desired_width(f32::INFINITY);
            ui.add(text).accessible_name("Table");
        });
    if let Some(refused) = refused {
        say_wrong(ui, &refused.read());
    } else if let Ok(table) = curve::table(&dialog.text, dialog.bare()) {
        let flow = table.flow_unit.as_deref().unwrap_or(dialog.flow_unit);
        let head = table.head_unit.as_deref().unwrap_or(dialog.head_unit);
        remark(ui, &format!("Read as flow in {flow} and head in {head}."));
    } else {
        remark(
            ui,
            "One line per point: flow and head, separated by a semicolon, a tab or a comma. A heading may give the units or put head first.",
        );
    }
    asked
}
