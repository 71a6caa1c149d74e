//! The readings of each part, and the heights computed from them.

use super::form::{FormField, SurveyForm, SurveyRead, readable};
use super::head::{NARROW, soft};
use crate::draw::page::shape::Ink;
use crate::edit::{ReadPoint, Surveyed, SurveyedHeights};
use crate::layout::{Id, Layout};
use crate::units::{self, Quantity};
use crate::window::theme;
use egui::{Align, Frame, Layout as Laid, Margin, RichText, ScrollArea, TextEdit, Ui, vec2};

/// Widths of the columns, points.
const NAME: f32 = 112.0;
const RIM: f32 = 124.0;
const RESULT: f32 = 88.0;
const SMALL_RESULT: f32 = 74.0;
const MOVES: f32 = 128.0;
const WIDTHS: [f32; 7] = [NAME, NARROW, RIM, RESULT, RESULT, SMALL_RESULT, MOVES];

const HEADS: [(&str, &str); 7] = [
    (
        "Part",
        "Vessels, then joints and fixed levels, in the order of the layout",
    ),
    (
        "Floor reading",
        "Reading on the inside bottom; on the centre of a joint, on the water of a fixed level",
    ),
    (
        "Rim readings",
        "All readings on the rim, separated by ; (the lowest place counts)",
    ),
    (
        "Floor",
        "Inside bottom above the datum; for a joint, its centre",
    ),
    (
        "Rim",
        "The level at which it spills: the lowest place of the rim",
    ),
    (
        "Out of level",
        "Difference between the highest and the lowest place of the rim",
    ),
    (
        "Moves",
        "How far the floor moves from the drawing, with everything in the vessel",
    ),
];

/// Inputs of the rows.
pub(super) struct SurveyFacts<'a> {
    pub layout: &'a Layout,
    pub taken: &'a SurveyRead,
    /// The computed heights.
    pub found: &'a [Surveyed],
}

impl SurveyFacts<'_> {
    fn found(&self, id: &Id) -> Option<&Surveyed> {
        self.found.iter().find(|one| one.part == *id)
    }

    fn height(&self, height_m: f64) -> String {
        units::write(Quantity::Height, height_m, self.layout.units)
    }
}

/// Shows all rows, within the available height.
pub(super) fn show(ui: &mut Ui, form: &mut SurveyForm, facts: &SurveyFacts<'_>, most_high: f32) {
    ScrollArea::both()
        .max_height(most_high)
        .auto_shrink([false, true])
        .show(ui, |ui| {
            ui.horizontal(|ui| {
                for ((words, tip), width) in HEADS.into_iter().zip(WIDTHS) {
                    let words = RichText::new(words).font(theme::strong(theme::SMALL));
                    cell(ui, width, words).on_hover_text(tip);
                }
            });
            let layout = facts.layout;
            let mut ids: Vec<&Id> = readable(layout).map(|(id, _)| id).collect();
            ids.dedup();
            for (index, id) in ids.into_iter().enumerate() {
                let fill = match index % 2 {
                    0 => ui.visuals().faint_bg_color,
                    _ => ui.visuals().panel_fill,
                };
                let striped = Frame::new()
                    .fill(fill)
                    .inner_margin(Margin::symmetric(0, 3));
                striped.show(ui, |ui| {
                    ui.horizontal(|ui| row(ui, form, facts, id));
                });
            }
        });
}

fn row(ui: &mut Ui, form: &mut SurveyForm, facts: &SurveyFacts<'_>, id: &Id) {
    let name = facts.layout.name_of(id);
    cell(ui, NAME, RichText::new(name));
    if facts.layout.vessel(id).is_some() {
        let words = format!("Floor of {name} read");
        field(ui, form, facts, (id, ReadPoint::Floor, &words));
        let words = format!("Rim of {name} read");
        field(ui, form, facts, (id, ReadPoint::Rim, &words));
    } else {
        let words = format!("Height of {name} read");
        field(ui, form, facts, (id, ReadPoint::Height, &words));
        cell(ui, RIM, RichText::new(""));
    }
    results(ui, facts, id);
}

fn field(
    ui: &mut Ui,
    form: &mut SurveyForm,
    facts: &SurveyFacts<'_>,
    (id, point, words): (&Id, ReadPoint, &str),
) {
    let here = form.shown;
    let why = facts.taken.why(&FormField::Row(here, id.clone(), point));
    let Some(standing) = form.standing() else {
        return;
    };
    let text = standing.rows.entry((id.clone(), point)).or_default();
    let width = if point == ReadPoint::Rim { RIM } else { NARROW };
    let mut edit = TextEdit::singleline(text).id_salt((here, id, words));
    if why.is_some() {
        edit = edit.text_color(theme::ink(ui, Ink::Problem));
    }
    let height = ui.spacing().interact_size.y;
    let response = ui.add_sized([width, height], edit).accessible_name(words);
    if let Some(why) = why {
        response.on_hover_text(why);
    }
}

fn results(ui: &mut Ui, facts: &SurveyFacts<'_>, id: &Id) {
    let Some(found) = facts.found(id) else {
        return;
    };
    let (floor, rim, out) = match found.stands {
        SurveyedHeights::Vessel {
            floor_m,
            rim_m,
            out_of_level_m,
        } => (
            facts.height(floor_m),
            facts.height(rim_m),
            out_of_level_m.map(|out_m| facts.height(out_m)),
        ),
        SurveyedHeights::At { height_m } => (facts.height(height_m), String::new(), None),
    };
    for text in [floor, rim] {
        let text = RichText::new(text).font(theme::strong(theme::BODY));
        cell(ui, RESULT, text);
    }
    cell(ui, SMALL_RESULT, RichText::new(out.unwrap_or_default()));
    let words = soft(ui, &moves(facts, found.moved_m));
    cell(ui, MOVES, words);
}

/// Shows left-aligned text in a cell of this width.
fn cell(ui: &mut Ui, width: f32, words: RichText) -> egui::Response {
    let size = vec2(width, ui.spacing().interact_size.y);
    let laid = Laid::left_to_right(Align::Center);
    ui.allocate_ui_with_layout(size, laid, |ui| {
        ui.set_min_width(width);
        ui.add(egui::Label::new(words).truncate())
    })
    .inner
}

/// A displacement in words.
fn moves(facts: &SurveyFacts<'_>, moved_m: f64) -> String {
    let far = facts.height(moved_m.abs());
    match far.starts_with("0 ") {
        true => "unchanged".to_owned(),
        false if moved_m > 0.0 => format!("{far} up"),
        false => format!("{far} down"),
    }
}
