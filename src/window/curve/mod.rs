//! The dialog “Curve of the pump”: four ways to say it, drawn while it is typed.
//!
//! It knows texts and clicks; what they mean is told by [`crate::editor::curve`], and what the pump then does by
//! the session, which is shown the curve as a preview.

mod files;
mod label;
mod picture;
mod plot;
mod points;
mod steps;
mod table;
mod unit;

use super::theme;
use crate::draw::shape::Ink;
use crate::editor::curve::{self, Bare, Refused};
use crate::layout::{CurveForm, Id};
use crate::session::Guess;
use crate::units::UnitSystem;
use egui::{Modal, RichText, Ui};
use picture::Traced;
use std::path::PathBuf;

/// Width of the dialog and height of its middle, points: both fit a window of 1100 by 700.
const WIDTH: f32 = 900.0;
const HEIGHT: f32 = 430.0;
/// Width of what is typed, at the left of what is drawn.
const FORM: f32 = 400.0;

/// A way of saying what a curve is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Points,
    Label,
    Table,
    Picture,
}

impl Way {
    const ALL: [(Way, &'static str, &'static str); 4] = [
        (Way::Points, "Points", "Points of its sheet, typed"),
        (Way::Label, "Label", "The two numbers of its label: a guess"),
        (Way::Table, "Table (CSV)", "A table from a spreadsheet"),
        (Way::Picture, "Picture", "A picture of its sheet, traced"),
    ];
}

/// The open dialog.
pub struct CurveDialog {
    pump: Id,
    /// What people call the pump.
    name: String,
    /// The curve as it stands in the layout.
    was: CurveForm,
    system: UnitSystem,
    way: Way,
    flow_unit: &'static str,
    head_unit: &'static str,
    rows: Vec<[String; 2]>,
    label: [String; 2],
    text: String,
    /// The name of a file as it is typed.
    path: String,
    picture: Option<Traced>,
    /// Why a file could not be read, or the curve not taken.
    wrong: Option<String>,
    /// The curve that the session was shown last.
    previewed: Option<CurveForm>,
}

/// What the pump does with the curve, as far as it is known.
#[derive(Clone, Copy, Default)]
struct Duty<'a> {
    /// Flow, m³/s, and head, m.
    at: Option<(f64, f64)>,
    /// Where the curve is a guess.
    guess: Option<&'a Guess>,
}

/// What is asked for.
enum Asked {
    Take(CurveForm),
    Leave,
    /// A file is to be chosen.
    Choose,
    /// The file with this name.
    Read(PathBuf),
}

impl CurveDialog {
    fn bare(&self) -> Bare<'static> {
        Bare {
            system: self.system,
            flow: self.flow_unit,
            head: self.head_unit,
        }
    }

    /// The curve that is meant by what is typed.
    fn curve(&self) -> Result<CurveForm, Refused> {
        match self.way {
            Way::Points => curve::points(&self.rows, self.bare()),
            Way::Label => {
                let [flow, head] = &self.label;
                curve::label(flow, head, self.bare())
            }
            Way::Table => curve::table(&self.text, self.bare()).map(|table| table.curve),
            Way::Picture => picture::curve(self.picture.as_ref(), self.bare()),
        }
    }

    /// Nothing is typed yet that could be wrong.
    fn is_untouched(&self) -> bool {
        match self.way {
            Way::Points => self
                .rows
                .iter()
                .flatten()
                .all(|text| text.trim().is_empty()),
            Way::Label => self.label.iter().all(|text| text.trim().is_empty()),
            Way::Table => self.text.trim().is_empty(),
            Way::Picture => self.picture.is_none(),
        }
    }
}

/// Shows the dialog; what is asked for, once something is.
fn show(ctx: &egui::Context, dialog: &mut CurveDialog, duty: Duty<'_>) -> Option<Asked> {
    let shown = Modal::new(egui::Id::unique("curve")).show(ctx, |ui| {
        ui.set_width(WIDTH);
        heading(ui, dialog);
        let curve = dialog.curve();
        let asked = body(ui, dialog, (&curve, duty));
        ui.add_space(6.0);
        let at_foot = foot(ui, dialog, curve);
        asked.or(at_foot)
    });
    if shown.should_close() {
        return shown.inner.or(Some(Asked::Leave));
    }
    shown.inner
}

fn heading(ui: &mut Ui, dialog: &mut CurveDialog) {
    let head = format!("Curve of {}", dialog.name);
    ui.label(RichText::new(head).font(theme::strong(16.0)));
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        for (way, words, tip) in Way::ALL {
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
    (curve, duty): (&Result<CurveForm, Refused>, Duty<'_>),
) -> Option<Asked> {
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
                    Way::Points => points::show(ui, dialog, refused.as_ref()),
                    Way::Label => label::show(ui, dialog, (refused.as_ref(), duty)),
                    Way::Table => table::show(ui, dialog, refused.as_ref()),
                    Way::Picture => picture::show(ui, dialog, refused.as_ref()),
                };
            },
        );
        ui.add_space(8.0);
        ui.vertical(|ui| {
            if dialog.way == Way::Picture && dialog.picture.is_some() {
                picture::sheet(ui, dialog);
            } else {
                plot::show(ui, dialog, (curve.as_ref().ok(), duty.at));
            }
        });
    });
    asked
}

/// What came out, and the buttons.
fn foot(ui: &mut Ui, dialog: &CurveDialog, curve: Result<CurveForm, Refused>) -> Option<Asked> {
    let mut asked = None;
    if let Some(wrong) = &dialog.wrong {
        say_wrong(ui, wrong);
    }
    ui.horizontal(|ui| {
        let take = RichText::new("Take this curve").font(theme::strong(theme::BODY));
        let entered = entered(ui);
        let clicked = ui
            .add_enabled(curve.is_ok(), egui::Button::new(take))
            .clicked();
        if let (true, Ok(curve)) = (clicked || entered, curve) {
            asked = Some(Asked::Take(curve));
        }
        if ui.button("Cancel").clicked() {
            asked = Some(Asked::Leave);
        }
    });
    asked
}

/// Enter while nothing else would answer to it: a text of many lines, a button.
fn entered(ui: &Ui) -> bool {
    let focused = ui.memory(egui::Memory::focused);
    let free =
        focused.is_none() || (ui.ctx().text_edit_focused() && focused != Some(table::field()));
    free && ui.input(|input| input.key_pressed(egui::Key::Enter))
}

/// A sentence about what is wrong.
fn say_wrong(ui: &mut Ui, words: &str) {
    let text = RichText::new(words).color(theme::ink(ui, Ink::Problem));
    ui.add(egui::Label::new(text).wrap());
}

/// A sentence in soft letters.
fn remark(ui: &mut Ui, words: &str) {
    let text = RichText::new(words).color(theme::ink(ui, Ink::SoftText));
    ui.add(egui::Label::new(text).wrap());
}
