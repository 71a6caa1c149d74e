//! Points of a data sheet, typed row by row.

use super::{CurveAction, CurveDialog, remark, say_wrong, unit, words};
use crate::editor::curve::{CurveRefusal, InputPosition};
use egui::{ScrollArea, TextEdit, Ui};

/// Width of a field, points.
const FIELD: f32 = 150.0;

pub(super) fn show(
    ui: &mut Ui,
    dialog: &mut CurveDialog,
    refused: Option<&CurveRefusal>,
) -> Option<CurveAction> {
    unit::show(ui, dialog);
    ui.horizontal(|ui| {
        for name in ["Flow", "Head"] {
            words(ui, name, FIELD + 8.0);
        }
    });
    ScrollArea::vertical()
        .max_height(280.0)
        .auto_shrink(false)
        .show(ui, |ui| {
            for row in 0..dialog.rows.len() {
                one(ui, (dialog, row), refused);
            }
        });
    // There is always one empty row at the end.
    let full = |row: &[String; 2]| row.iter().any(|text| !text.trim().is_empty());
    if dialog.rows.last().is_none_or(full) {
        dialog.rows.push(Default::default());
    }
    ui.add_space(4.0);
    match refused {
        Some(refused) if refused.at == InputPosition::Whole => say_wrong(ui, &refused.why),
        _ => remark(
            ui,
            "You can type a unit with a number, such as 500 gph or 8 psi. Three or more points, beginning at no flow, make a reliable curve.",
        ),
    }
    None
}

fn one(ui: &mut Ui, (dialog, row): (&mut CurveDialog, usize), refused: Option<&CurveRefusal>) {
    let Some(texts) = dialog.rows.get_mut(row) else {
        return;
    };
    ui.horizontal(|ui| {
        for (text, name) in texts.iter_mut().zip(["Flow", "Head"]) {
            let field = TextEdit::singleline(text)
                .desired_width(FIELD)
                .id_salt((name, row));
            let response = ui.add(field);
            response.accessible_name(format!("{name} of row {}", row + 1));
        }
    });
    let here =
        refused.filter(|refused| matches!(refused.at, InputPosition::Flow(at) | InputPosition::Head(at) if at == row));
    if let Some(refused) = here {
        say_wrong(ui, &refused.read());
    }
}
