//! The upper part of the dialog: the mark, the kind of reading and the set-ups.

use super::form::{BareUnit, FormField, InstrumentForm, SurveyForm, SurveyRead, word};
use crate::draw::page::shape::Ink;
use crate::edit::Reading;
use crate::units::UnitSystem;
use crate::window::theme;
use egui::{RichText, TextEdit, Ui};

/// Width of a field for a reading, points.
pub(super) const NARROW: f32 = 78.0;

const BY_STAFF: &str = "Staff, read at the line of sight";
const BY_TAPE: &str = "Height above the mark";

/// A field with its label in front.
struct LabelledField<'a> {
    words: &'a str,
    tip: &'a str,
    hint: &'static str,
    width: f32,
}

impl LabelledField<'_> {
    fn show(&self, ui: &mut Ui, text: &mut String, wrong: Option<&str>) -> egui::Response {
        let label = ui.label(self.words).on_hover_text(self.tip);
        let mut edit = TextEdit::singleline(text)
            .desired_width(self.width)
            .hint_text(self.hint)
            .id_salt(self.words);
        if wrong.is_some() {
            edit = edit.text_color(theme::ink(ui, Ink::Problem));
        }
        let tip = wrong.unwrap_or(self.tip);
        ui.add(edit).labelled_by(label.id).on_hover_text(tip)
    }
}

/// A field for a number, not yet shown.
fn number<'a>(words: &'a str, tip: &'a str) -> LabelledField<'a> {
    LabelledField {
        words,
        tip,
        hint: "",
        width: NARROW,
    }
}

/// Shows the mark and the kind of reading; returns the first field, which gets the focus on opening.
pub(super) fn mark(
    ui: &mut Ui,
    form: &mut SurveyForm,
    taken: &SurveyRead,
    units: UnitSystem,
) -> egui::Response {
    let first = ui
        .horizontal_wrapped(|ui| {
            let named = LabelledField {
                words: "Mark",
                tip: "The point that all levels refer to; it must not move until everything is built",
                hint: "for example the door sill",
                width: 150.0,
            };
            let first = named.show(ui, &mut form.mark, None);
            let why = taken.why(&FormField::MarkHeight);
            number("Height of the mark", "Its height above the datum of this layout")
                .show(ui, &mut form.mark_height, why);
            ui.separator();
            bare(ui, form, units);
            first
        })
        .inner;
    ui.horizontal_wrapped(|ui| {
        let kinds = [
            (
                Reading::Staff,
                BY_STAFF,
                "The staff or laser receiver rod stands on the point: a smaller reading means \
                 a higher point",
            ),
            (
                Reading::AboveMark,
                BY_TAPE,
                "By tape, water level or height rod: a larger reading means a higher \
                 point, a negative one a point below the mark",
            ),
        ];
        for (kind, words, tip) in kinds {
            ui.selectable_value(&mut form.reads, kind, words)
                .on_hover_text(tip);
        }
    });
    first
}

fn bare(ui: &mut Ui, form: &mut SurveyForm, units: UnitSystem) {
    ui.label("Numbers without a unit:");
    for kind in [BareUnit::Small, BareUnit::Large] {
        ui.selectable_value(&mut form.bare, kind, word(kind, units))
            .on_hover_text("You can type any other unit after a number");
    }
}

/// Shows the set-ups of the instrument, and the readings that carry the height from one to the next.
pub(super) fn set_ups(ui: &mut Ui, form: &mut SurveyForm, taken: &SurveyRead) {
    ui.horizontal_wrapped(|ui| {
        for index in 0..form.set_ups.len() {
            let words = format!("Set-up {}", index + 1);
            ui.selectable_value(&mut form.shown, index, words)
                .on_hover_text("The readings from one place of the instrument");
        }
        let moved = ui.button("Add set-up").on_hover_text(
            "Use this after moving the instrument. Read one point, the turning point, from the old place and from the new",
        );
        if moved.clicked() {
            form.set_ups.push(InstrumentForm::default());
            form.shown = form.set_ups.len() - 1;
        }
        let several = form.set_ups.len() > 1;
        if several && ui.button("Remove last set-up").clicked() {
            form.set_ups.pop();
            form.shown = form.shown.min(form.set_ups.len() - 1);
        }
    });
    ui.horizontal_wrapped(|ui| known(ui, form, taken));
}

/// Shows the readings that give the height of the instrument.
fn known(ui: &mut Ui, form: &mut SurveyForm, taken: &SurveyRead) {
    let here = form.shown;
    if let Some(before) = here.checked_sub(1) {
        let words = format!("Turning point from set-up {here}");
        let tip = "The reading on the turning point, before the instrument was moved";
        let why = taken.why(&FormField::Next(before));
        if let Some(typed) = form.set_ups.get_mut(before) {
            number(&words, tip).show(ui, &mut typed.on_next, why);
        }
    }
    let words = match here {
        0 => "Reading on the mark".to_owned(),
        here => format!("Turning point from set-up {}", here + 1),
    };
    let tip = match (here, form.reads) {
        (0, Reading::AboveMark) => {
            "Reading on the mark itself; leave empty where heights are measured from it"
        }
        (0, Reading::Staff) => "Reading of the staff on the mark",
        _ => "The reading on the same point, from the new place",
    };
    let why = taken.why(&FormField::Known(here));
    if let Some(typed) = form.standing() {
        number(&words, tip).show(ui, &mut typed.on_known, why);
    }
}

/// Shows the closing reading, its known height and the distance walked.
pub(super) fn closing(ui: &mut Ui, form: &mut SurveyForm, taken: &SurveyRead) {
    ui.horizontal_wrapped(|ui| {
        let fields = [
            (
                "Closing reading",
                "The last reading, on the mark or on another point of known height: it shows errors made on \
                 the way",
                FormField::Closing,
                &mut form.closing,
            ),
            (
                "Known height",
                "Height of that point above the datum; leave empty for the mark itself",
                FormField::ClosingHeight,
                &mut form.closing_height,
            ),
            (
                "Distance walked",
                "Length of the whole survey: the allowed error grows with it",
                FormField::Walked,
                &mut form.walked,
            ),
        ];
        for (words, tip, place, text) in fields {
            number(words, tip).show(ui, text, taken.why(&place));
        }
    });
}

/// Text in the soft colour.
pub(super) fn soft(ui: &Ui, words: &str) -> RichText {
    RichText::new(words).color(theme::ink(ui, Ink::SoftText))
}
