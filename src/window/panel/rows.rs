//! Rows of a panel: a label at the left, its value at the right.

use super::Facts;
use crate::draw::page::shape::Ink;
use crate::draw::section::Trust;
use crate::units::{self, Quantity};
use crate::window::theme;
use egui::{Align, Layout, RichText, Ui};

/// Shows the name and the kind of the selection.
pub fn heading(ui: &mut Ui, name: &str, kind: &str) {
    ui.add(egui::Label::new(RichText::new(name).font(theme::strong(16.0))).wrap());
    ui.label(RichText::new(kind).color(theme::ink(ui, Ink::SoftText)));
    ui.add_space(4.0);
}

/// Shows the heading of a group of rows.
pub fn group(ui: &mut Ui, words: &str) {
    ui.add_space(8.0);
    ui.separator();
    ui.add_space(2.0);
    ui.label(RichText::new(words).font(theme::strong(theme::BODY)));
}

/// Largest share of a row for its label, so that the number has room.
const LABEL_SHARE: f32 = 0.62;

/// Shows a label, with a widget at the right edge.
pub fn row<R>(
    ui: &mut Ui,
    words: &str,
    tip: &str,
    add: impl FnOnce(&mut Ui, egui::Response) -> R,
) -> R {
    let most = ui.available_width() * LABEL_SHARE;
    ui.horizontal(|ui| {
        let soft = RichText::new(words).color(theme::ink(ui, Ink::SoftText));
        let label = ui
            .scope(|ui| {
                ui.set_max_width(most);
                ui.add(egui::Label::new(soft).wrap())
            })
            .inner
            .on_hover_text(tip);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| add(ui, label))
            .inner
    })
    .inner
}

/// A row with a result.
pub struct AnswerRow<'a> {
    /// Its label.
    pub words: &'a str,
    /// Its tooltip.
    pub tip: &'a str,
    /// Its value.
    pub value: String,
    /// Its colour; [`Ink::Text`] where nothing is wrong.
    pub ink: Ink,
}

/// Shows a row with a result, dimmed while stale.
pub fn answer(ui: &mut Ui, trust: Trust, answer: &AnswerRow<'_>) {
    row(ui, answer.words, answer.tip, |ui, _| {
        let mut ink = theme::ink(ui, answer.ink);
        if trust == Trust::OutOfDate {
            ink = ink.gamma_multiply(0.45);
        }
        let text = RichText::new(&answer.value).font(theme::strong(theme::BODY));
        ui.add(egui::Label::new(text.color(ink)).wrap());
    });
}

/// Shows a quantity as a result; a dash where it is unknown.
pub fn number(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (words, tip): (&str, &str),
    (quantity, value): (Quantity, Option<f64>),
) {
    let value = value.map_or("–".to_owned(), |value| {
        units::write(quantity, value, facts.units)
    });
    let row = AnswerRow {
        words,
        tip,
        value,
        ink: Ink::Text,
    };
    answer(ui, facts.trust, &row);
}

/// Shows a remark in soft text.
pub fn remark(ui: &mut Ui, words: &str) {
    let text = RichText::new(words).color(theme::ink(ui, Ink::SoftText));
    ui.add(egui::Label::new(text).wrap());
}
