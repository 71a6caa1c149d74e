//! The dialog “Curve of the pump”: four kinds of input, plotted while they are typed.
//!
//! It handles text and clicks. [`crate::editor::curve`] reads them, and the session shows the curve as a preview.

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
use crate::draw::page::shape::Ink;
use crate::editor::curve::{self, CurveRefusal, DefaultUnits};
use crate::layout::{CurveForm, Id};
use crate::session::Guess;
use crate::units::UnitSystem;
use egui::{RichText, Ui};
use picture::CurvePicture;
use std::path::PathBuf;

/// A kind of input for a curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum CurveInput {
    Points,
    Label,
    Table,
    Picture,
}

impl CurveInput {
    const ALL: [(CurveInput, &'static str, &'static str); 4] = [
        (
            CurveInput::Points,
            "Points",
            "Points from the data sheet, typed in",
        ),
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
            "A picture of the data sheet, traced",
        ),
    ];
}

/// The open dialog.
pub struct CurveDialog {
    pump: Id,
    /// The name of the pump.
    name: String,
    /// The curve in the layout.
    was: CurveForm,
    system: UnitSystem,
    way: CurveInput,
    flow_unit: &'static str,
    head_unit: &'static str,
    rows: Vec<[String; 2]>,
    label: [String; 2],
    text: String,
    /// The path of a file as typed.
    path: String,
    picture: Option<CurvePicture>,
    /// Why a file could not be read, or the curve not used.
    wrong: Option<String>,
    /// The curve that the session previewed last.
    previewed: Option<CurveForm>,
}

/// The duty of the pump with the curve, where it is known.
#[derive(Clone, Copy, Default)]
struct CurveDuty<'a> {
    /// Flow, m³/s, and head, m.
    at: Option<(f64, f64)>,
    /// The duties at both edges of the band of a guessed curve.
    guess: Option<&'a Guess>,
}

/// A request of the dialog.
enum CurveAction {
    Take(CurveForm),
    Leave,
    /// Choose a file.
    Choose,
    /// Open the file with this path.
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

    /// The curve that the input describes.
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

    /// Whether nothing has been entered yet, so that no error is shown.
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

/// Shows an error message.
fn say_wrong(ui: &mut Ui, words: &str) {
    let text = RichText::new(words).color(theme::ink(ui, Ink::Problem));
    ui.add(egui::Label::new(text).wrap());
}

/// Shows a remark in soft text.
fn remark(ui: &mut Ui, words: &str) {
    let text = RichText::new(words).color(theme::ink(ui, Ink::SoftText));
    ui.add(egui::Label::new(text).wrap());
}

/// Shows left-aligned text in a cell of this width.
fn words(ui: &mut Ui, words: &str, width: f32) -> egui::Response {
    let place = egui::vec2(width, ui.spacing().interact_size.y);
    let left = egui::Layout::left_to_right(egui::Align::Center);
    let shown = ui.allocate_ui_with_layout(place, left, |ui| {
        ui.set_min_width(width);
        ui.label(words)
    });
    shown.inner
}
