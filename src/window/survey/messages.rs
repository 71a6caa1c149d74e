//! Messages below the readings: the closing error, what is missing, what is wrong.

use super::form::{FormField, SurveyForm, SurveyRead};
use super::head::soft;
use crate::draw::page::shape::Ink;
use crate::edit::{Closed, Surveyed};
use crate::layout::{Id, Layout};
use crate::units::{self, Quantity};
use crate::window::theme;
use egui::{Label, RichText, Ui};

/// Most names listed in a message.
const MOST_NAMED: usize = 4;

/// Shows the closing error, and whether it is acceptable.
pub(super) fn closed(ui: &mut Ui, layout: &Layout, closed: Option<Closed>) {
    let Some(closed) = closed else { return };
    // As fine as a bore: a misclosure is a few millimetres, and a height is shown to the millimetre.
    let write = |error_m| units::write(Quantity::Bore, error_m, layout.units);
    let error_m = closed.error_m;
    let way = if error_m < 0.0 { "low" } else { "high" };
    let found = format!("The closing reading is {} too {way}.", write(error_m.abs()));
    let (verdict, ink) = match closed.allowed_m {
        None => (
            "Type the distance walked to judge that.".to_owned(),
            Ink::Text,
        ),
        Some(allowed_m) if error_m.abs() <= allowed_m => (
            format!("Third-order levelling allows {}.", write(allowed_m)),
            Ink::Text,
        ),
        Some(allowed_m) => (
            format!(
                "Third-order levelling allows {}: look for a wrong reading, or \
                 level again.",
                write(allowed_m)
            ),
            Ink::Warning,
        ),
    };
    let text = format!("{found} {verdict} The error is not distributed.");
    say(ui, &text, ink);
}

/// Lists the parts that keep their drawn heights.
pub(super) fn not_read(ui: &mut Ui, layout: &Layout, found: &[Surveyed]) {
    if found.is_empty() {
        return;
    }
    let vessels = layout.vessels.iter().map(|part| &part.id);
    let joints = layout.joints.iter().map(|part| &part.id);
    let all = vessels
        .chain(joints)
        .chain(layout.fixed.iter().map(|part| &part.id));
    let left: Vec<&str> = all
        .filter(|id: &&Id| found.iter().all(|one| one.part != **id))
        .map(|id| layout.name_of(id))
        .collect();
    if left.is_empty() {
        return;
    }
    let named: Vec<&str> = left.iter().copied().take(MOST_NAMED).collect();
    let more = match left.len() - named.len() {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let words = format!("No readings, left as drawn: {}{more}.", named.join(", "));
    let words = soft(ui, &words);
    ui.add(Label::new(words).wrap());
}

/// Shows the first error in the readings, else what to type first.
pub(super) fn wrong(
    ui: &mut Ui,
    layout: &Layout,
    (form, taken): (&SurveyForm, &SurveyRead),
    refused: Option<&str>,
) {
    if let Some((place, why)) = taken.wrong.first() {
        let text = format!("{}: {why}", words(layout, place));
        return say(ui, &text, Ink::Problem);
    }
    if let Some(why) = refused {
        return say(ui, &format!("{why}."), Ink::Problem);
    }
    if taken.survey.is_none() {
        let text = match form
            .set_ups
            .iter()
            .position(|one| one.on_known.trim().is_empty())
        {
            _ if form.mark_height.trim().is_empty() => "Type the height of the mark.".to_owned(),
            Some(0) | None => "Type the reading on the mark, then floors and rims.".to_owned(),
            Some(index) => format!(
                "Type the reading on the turning point from set-up {}.",
                index + 1
            ),
        };
        let text = soft(ui, &text);
        ui.add(Label::new(text).wrap());
    }
}

/// The name of a field.
fn words(layout: &Layout, place: &FormField) -> String {
    let set_up = |index: usize| format!("Turning point from set-up {}", index + 1);
    match place {
        FormField::MarkHeight => "Height of the mark".to_owned(),
        FormField::Known(0) => "Reading on the mark".to_owned(),
        FormField::Known(index) | FormField::Next(index) => set_up(*index),
        FormField::Row(index, part, _) => {
            format!("{}, set-up {}", layout.name_of(part), index + 1)
        }
        FormField::Closing => "Closing reading".to_owned(),
        FormField::ClosingHeight => "Known height".to_owned(),
        FormField::Walked => "Distance walked".to_owned(),
    }
}

fn say(ui: &mut Ui, text: &str, ink: Ink) {
    let text = RichText::new(text).color(theme::ink(ui, ink));
    ui.add(Label::new(text).wrap());
}
