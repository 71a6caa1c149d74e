//! The dialog “Curve of the pump”: four ways to say it, drawn while it is typed.
//!
//! It knows texts and clicks; what they mean is told by [`crate::editor::curve`], and what the pump then does by
//! the session, which is shown the curve as a preview.

mod axes;
mod files;
mod frame;
mod label;
mod marks;
mod picture;
mod plot;
mod points;
mod steps;
mod table;
mod unit;

use super::theme;
use crate::draw::shape::Ink;
use crate::editor::curve::{self, CurveRefusal, DefaultUnits};
use crate::layout::{CurveForm, Id};
use crate::session::Guess;
use crate::units::UnitSystem;
use egui::{RichText, Ui};
use picture::CurvePicture;
use std::path::PathBuf;

/// A way of saying what a curve is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum CurveInput {
    Points,
    Label,
    Table,
    Picture,
}

impl CurveInput {
    const ALL: [(CurveInput, &'static str, &'static str); 4] = [
        (CurveInput::Points, "Points", "Points of its sheet, typed"),
        (
            CurveInput::Label,
            "Label",
            "The two numbers of its label: a guess",
        ),
        (
            CurveInput::Table,
            "Table (CSV)",
            "A table from a spreadsheet",
        ),
        (
            CurveInput::Picture,
            "Picture",
            "A picture of its sheet, traced",
        ),
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
    way: CurveInput,
    flow_unit: &'static str,
    head_unit: &'static str,
    rows: Vec<[String; 2]>,
    label: [String; 2],
    text: String,
    /// The name of a file as it is typed.
    path: String,
    picture: Option<CurvePicture>,
    /// Why a file could not be read, or the curve not taken.
    wrong: Option<String>,
    /// The curve that the session was shown last.
    previewed: Option<CurveForm>,
}

/// What the pump does with the curve, as far as it is known.
#[derive(Clone, Copy, Default)]
struct CurveDuty<'a> {
    /// Flow, m³/s, and head, m.
    at: Option<(f64, f64)>,
    /// Where the curve is a guess.
    guess: Option<&'a Guess>,
}

/// What is asked for.
enum CurveAction {
    Take(CurveForm),
    Leave,
    /// A file is to be chosen.
    Choose,
    /// The file with this name.
    Read(PathBuf),
}

impl CurveDialog {
    fn bare(&self) -> DefaultUnits<'static> {
        DefaultUnits {
            system: self.system,
            flow: self.flow_unit,
            head: self.head_unit,
        }
    }

    /// The curve that is meant by what is typed.
    fn curve(&self) -> Result<CurveForm, CurveRefusal> {
        match self.way {
            CurveInput::Points => curve::points(&self.rows, self.bare()),
            CurveInput::Label => {
                let [flow, head] = &self.label;
                curve::label(flow, head, self.bare())
            }
            CurveInput::Table => curve::table(&self.text, self.bare()).map(|table| table.curve),
            CurveInput::Picture => picture::curve(self.picture.as_ref(), self.bare()),
        }
    }

    /// Nothing is typed yet that could be wrong.
    fn is_untouched(&self) -> bool {
        match self.way {
            CurveInput::Points => self
                .rows
                .iter()
                .flatten()
                .all(|text| text.trim().is_empty()),
            CurveInput::Label => self.label.iter().all(|text| text.trim().is_empty()),
            CurveInput::Table => self.text.trim().is_empty(),
            CurveInput::Picture => self.picture.is_none(),
        }
    }
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

/// Words at the left of a place of this width.
fn words(ui: &mut Ui, words: &str, width: f32) -> egui::Response {
    let place = egui::vec2(width, ui.spacing().interact_size.y);
    let left = egui::Layout::left_to_right(egui::Align::Center);
    let shown = ui.allocate_ui_with_layout(place, left, |ui| {
        ui.set_min_width(width);
        ui.label(words)
    });
    shown.inner
}
