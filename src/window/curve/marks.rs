//! The marks on the axes of a picture: their fields, and where they are.

use super::{remark, say_wrong, words};
use crate::draw::shape::Ink;
use crate::draw::theme::Theme;
use crate::editor::curve::{CurveRefusal, Dot, InputPosition, MARKS, Marks};
use crate::window::theme;
use egui::{Pos2, Rect, TextEdit, Ui, vec2};

/// The fields of all four.
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
                .on_hover_text("What the sheet prints there");
            let again = ui.add_enabled(at.is_some(), egui::Button::new("Again").small());
            let again = again.accessible_name(format!("{name} again"));
            if again.on_hover_text("Sets this mark anew").clicked() {
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

/// How far it is with a mark.
fn state(at: Option<Dot>, is_next: bool) -> &'static str {
    match at {
        Some(_) => "set",
        None if is_next => "click it now",
        None => "to come",
    }
}

/// The marks and the dots along the line, over the picture that is drawn in `rect` at `zoom`.
pub(super) fn overlay(ui: &Ui, (marks, dots): (&Marks, &[Dot]), (rect, zoom): (Rect, f32)) {
    let place = |dot: &Dot| -> Pos2 {
        // A picture has some thousand dots: nothing is lost.
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
