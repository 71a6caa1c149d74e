//! The choice of units for numbers without one.

use super::CurveDialog;
use crate::editor::curve::{FLOW_UNITS, HEAD_UNITS};
use egui::{ComboBox, Ui};

/// Shows the choice of both units in one row.
pub(super) fn show(ui: &mut Ui, dialog: &mut CurveDialog) {
    ui.horizontal(|ui| {
        super::remark(ui, "Numbers without a unit:");
        choose(ui, ("Unit of flow", &FLOW_UNITS), &mut dialog.flow_unit);
        super::remark(ui, "and");
        choose(ui, ("Unit of head", &HEAD_UNITS), &mut dialog.head_unit);
    });
}

fn choose(ui: &mut Ui, (name, all): (&str, &[&'static str]), unit: &mut &'static str) {
    let combo = ComboBox::from_id_salt(name)
        .width(70.0)
        .selected_text(*unit);
    let shown = combo.show_ui(ui, |ui| {
        for other in all {
            ui.selectable_value(unit, *other, *other);
        }
    });
    shown.response.accessible_name(name);
}
