//! Layout of the dialog: kinds of input at the top, fields at the left, the plot at the right.

use super::{
    CurveAction, CurveDialog, CurveDuty, CurveInput, label, picture, plot, points, say_wrong, table,
};
use crate::editor::curve::CurveRefusal;
use crate::layout::CurveForm;
use crate::window::theme;
use egui::{Modal, RichText, Ui};

/// Width of the dialog and height of its middle, points: they fit a window of 1100 by 700.
const WIDTH: f32 = 900.0;
const HEIGHT: f32 = 430.0;
/// Width of the fields at the left.
const FORM: f32 = 400.0;

/// Shows the dialog; returns a request, if any.
pub(super) fn show(
    ctx: &egui::Context,
    dialog: &mut CurveDialog,
    duty: CurveDuty<'_>,
) -> Option<CurveAction> {
    let shown = Modal::new(egui::Id::unique("curve")).show(ctx, |ui| {
        ui.set_width(WIDTH);
        // The card and its fields would both be white, but empty fields must be visible.
        ui.visuals_mut().text_edit_bg_color = Some(ui.visuals().panel_fill);
        heading(ui, dialog);
        let curve = dialog.curve();
        let asked = body(ui, dialog, (&curve, duty));
        ui.add_space(6.0);
        let at_foot = foot(ui, dialog, curve);
        asked.or(at_foot)
    });
    if shown.should_close() {
        return shown.inner.or(Some(CurveAction::Leave));
    }
    shown.inner
}

fn heading(ui: &mut Ui, dialog: &mut CurveDialog) {
    let head = format!("Curve of {}", dialog.name);
    ui.label(RichText::new(head).font(theme::strong(16.0)));
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        for (way, words, tip) in CurveInput::ALL {
            let chosen = dialog.way == way;
            if ui
                .selectable_label(chosen, words)
                .on_hover_text(tip)
                .clicked()
            {
                dialog.way = way;
                dialog.wrong = None;
            }
        }
    });
    ui.separator();
}

fn body(
    ui: &mut Ui,
    dialog: &mut CurveDialog,
    (curve, duty): (&Result<CurveForm, CurveRefusal>, CurveDuty<'_>),
) -> Option<CurveAction> {
    let refused = curve
        .as_ref()
        .err()
        .filter(|_| !dialog.is_untouched())
        .cloned();
    let mut asked = None;
    ui.horizontal_top(|ui| {
        ui.allocate_ui_with_layout(
            egui::vec2(FORM, HEIGHT),
            egui::Layout::top_down(egui::Align::Min),
            |ui| {
                ui.set_width(FORM);
                ui.set_min_height(HEIGHT);
                asked = match dialog.way {
                    CurveInput::Points => points::show(ui, dialog, refused.as_ref()),
                    CurveInput::Label => label::show(ui, dialog, (refused.as_ref(), duty)),
                    CurveInput::Table => table::show(ui, dialog, refused.as_ref()),
                    CurveInput::Picture => picture::show(ui, dialog, refused.as_ref()),
                };
            },
        );
        ui.add_space(8.0);
        ui.vertical(|ui| {
            if dialog.way == CurveInput::Picture && dialog.picture.is_some() {
                picture::sheet(ui, dialog);
            } else {
                plot::show(ui, dialog, (curve.as_ref().ok(), duty.at));
            }
        });
    });
    asked
}

/// The result and the buttons.
fn foot(
    ui: &mut Ui,
    dialog: &CurveDialog,
    curve: Result<CurveForm, CurveRefusal>,
) -> Option<CurveAction> {
    let mut asked = None;
    if let Some(wrong) = &dialog.wrong {
        say_wrong(ui, wrong);
    }
    ui.horizontal(|ui| {
        let take = RichText::new("Use this curve").font(theme::strong(theme::BODY));
        let entered = entered(ui);
        let clicked = ui
            .add_enabled(curve.is_ok(), egui::Button::new(take))
            .clicked();
        if let (true, Ok(curve)) = (clicked || entered, curve) {
            asked = Some(CurveAction::Take(curve));
        }
        if ui.button("Cancel").clicked() {
            asked = Some(CurveAction::Leave);
        }
    });
    asked
}

/// Whether Enter was pressed and neither a button nor the multi-line field uses it.
fn entered(ui: &Ui) -> bool {
    let focused = ui.memory(egui::Memory::focused);
    let free =
        focused.is_none() || (ui.ctx().text_edit_focused() && focused != Some(table::field()));
    free && ui.input(|input| input.key_pressed(egui::Key::Enter))
}
