//! Renames a part in place on the drawing.

use super::action::Action;
use super::app::App;
use super::prompts::take_all;
use crate::draw::section::Pick;
use crate::edit;
use crate::layout::Id;
use egui::{Area, Frame, Key, Order, TextEdit};

/// The part being renamed, and the text typed so far.
pub type Renaming = (Id, Option<String>);

impl App {
    /// Shows the field over the part; returns the edit once a new name is entered.
    pub(super) fn renamed(&mut self, ctx: &egui::Context) -> Option<Action> {
        let (id, typed) = self.rename.take()?;
        let layout = self.session.layout().clone();
        let mut text = typed
            .clone()
            .unwrap_or_else(|| layout.name_of(&id).to_owned());
        let middle = self.canvas.place_of(&Pick::Part(id.clone()));
        let at = middle.unwrap_or_else(|| ctx.content_rect().center());
        let shown = Area::new(egui::Id::unique("rename"))
            .order(Order::Foreground)
            .fixed_pos(at - egui::vec2(90.0, 16.0))
            .constrain(true)
            .show(ctx, |ui| {
                Frame::popup(ui.style()).show(ui, |ui| {
                    let words = ui.label("Name");
                    let edit = TextEdit::singleline(&mut text).desired_width(170.0);
                    let response = ui.add(edit).labelled_by(words.id);
                    if typed.is_none() {
                        take_all(ui, &response, &text);
                    }
                    response.lost_focus()
                })
            });
        let left = shown.inner.inner && typed.is_some();
        if ctx.input(|input| input.key_pressed(Key::Escape)) {
            return None;
        }
        if !left {
            self.rename = Some((id, Some(text)));
            return None;
        }
        if text.trim() == layout.name_of(&id) {
            return None;
        }
        Some(match edit::rename(&layout, &id, &text) {
            Ok(edit) => Action::Make(edit),
            Err(refused) => {
                let name = |id: &crate::layout::Id| layout.name_of(id).to_owned();
                Action::Say(refused.read(&name, layout.units))
            }
        })
    }
}
