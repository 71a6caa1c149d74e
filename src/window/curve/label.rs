//! The two numbers of a label. The curve between them is a guess, and is called one.

use super::{CurveAction, CurveDialog, CurveDuty, remark, say_wrong, unit, words};
use crate::editor::curve::{CurveRefusal, InputPosition};
use crate::units::{Quantity, write};
use egui::{TextEdit, Ui};

pub(super) fn show(
    ui: &mut Ui,
    dialog: &mut CurveDialog,
    (refused, duty): (Option<&CurveRefusal>, CurveDuty<'_>),
) -> Option<CurveAction> {
    unit::show(ui, dialog);
    ui.add_space(4.0);
    let fields = [
        (
            "Largest flow",
            InputPosition::Flow(0),
            "Flow on the label or box, at no head",
        ),
        (
            "Largest head",
            InputPosition::Head(0),
            "Head on the label or box, at no flow",
        ),
    ];
    for (text, (name, at, tip)) in dialog.label.iter_mut().zip(fields) {
        ui.horizontal(|ui| {
            let label = words(ui, name, 110.0);
            let field = TextEdit::singleline(text)
                .desired_width(150.0)
                .id_salt(name);
            ui.add(field).labelled_by(label.id).on_hover_text(tip);
        });
        if let Some(refused) = refused.filter(|refused| refused.at == at) {
            say_wrong(ui, &refused.why);
        }
    }
    ui.add_space(8.0);
    remark(
        ui,
        "This is a guess: a parabola joins the two numbers, and the real curve may lie anywhere in the band. Wherever that matters, the program says that the curve is a guess.",
    );
    ui.add_space(8.0);
    if let Some(words) = between(dialog, duty) {
        ui.add(egui::Label::new(words).wrap());
    }
    None
}

/// The range of duty between the edges of the band, in words.
fn between(dialog: &CurveDialog, duty: CurveDuty<'_>) -> Option<String> {
    let guess = duty.guess?;
    let (low, high) = (guess.low?, guess.high?);
    let flow = |flow_m3_s| write(Quantity::Flow, flow_m3_s, dialog.system);
    Some(format!(
        "In this layout it then delivers from {} to {}, solved with the curve at each edge of the band.",
        flow(low.flow_m3_s),
        flow(high.flow_m3_s)
    ))
}
