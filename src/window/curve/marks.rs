//! The marks on the axes of a picture: their fields and positions.

use super::{remark, say_wrong, words};
use crate::draw::page::shape::Ink;
use crate::draw::page::theme::Theme;
use crate::editor::curve::{CurveRefusal, Dot, InputPosition, MARKS, Marks};
use crate::window::theme;
use egui::{Pos2, Rect, TextEdit, Ui, vec2};

/// The fields of all four marks.
pub(super) fn fields(ui: &mut Ui, marks: &mut Marks, refused: Option<&CurveRefusal>) {
    let next = marks.next();
    let Marks { at, values } = marks;
    for (((index, name), text), at) in MARKS.iter().enumerate().zip(values).zip(at) {
        ui.horizontal(|ui| {
            let label = words(ui, name, 165.0);
            let field = TextEdit::singleline(text)
                .desired_width(80.0)
                .id_salt(*name);
            ui.add(field)
                .labelled_by(label.id)
                .on_hover_text("The value that the data sheet prints there");
            let again = ui.add_enabled(at.is_some(), egui::Button::new("Set again").small());
            let again = again.accessible_name(format!("Set {name} again"));
            if again
                .on_hover_text("Click this mark again on the picture")
                .clicked()
            {
                *at = None;
            }
            remark(ui, state(*at, next == Some(index)));
        });
        let here = if index < 2 {
            InputPosition::Flow(index)
        } else {
            InputPosition::Head(index - 2)
        };
        if let Some(refused) = refused.filter(|refused| refused.at == here) {
            say_wrong(ui, &refused.why);
        }
    }
}

/// The progress of a mark.
fn state(at: Option<Dot>, is_next: bool) -> &'static str {
    match at {
        Some(_) => "set",
        None if is_next => "click it now",
        None => "not set",
    }
}

/// Draws the marks and traced points over the picture, which fills `rect` at `zoom`.
pub(super) fn overlay(ui: &Ui, (marks, dots): (&Marks, &[Dot]), (rect, zoom): (Rect, f32)) {
    let place = |dot: &Dot| -> Pos2 {
        // A picture has a few thousand pixels per side: the cast loses nothing.
        let at = vec2(dot.x as f32, dot.y as f32);
        rect.min + at * zoom
    };
    let painter = ui.painter();
    let paper = egui::Stroke::new(4.0, egui::Color32::WHITE);
    let ink = |ink: Ink| egui::Stroke::new(1.6, theme::color(Theme::Light, ink));
    for (index, at) in marks.at.iter().enumerate() {
        let Some(at) = at.as_ref().map(place) else {
            continue;
        };
        let kind = if index < 2 {
            Ink::WaterLine
        } else {
            Ink::Accent
        };
        for stroke in [paper, ink(kind)] {
            painter.line_segment([at - vec2(9.0, 0.0), at + vec2(9.0, 0.0)], stroke);
            painter.line_segment([at - vec2(0.0, 9.0), at + vec2(0.0, 9.0)], stroke);
        }
    }
    for at in dots.iter().map(place) {
        painter.circle_stroke(at, 4.5, paper);
        painter.circle_stroke(at, 4.5, ink(Ink::Problem));
    }
}
