//! A field that a number or a name is typed into.
//!
//! While it is typed the layout is previewed; Enter or leaving the field makes the edit, Escape drops it.

use super::{Facts, rows};
use crate::draw::shape::Ink;
use crate::edit::{Edit, EditError};
use crate::units::{self, Quantity};
use crate::window::theme;
use crate::window::wants::Want;
use egui::{Id, Key, RichText, TextEdit, Ui};

/// What a field is for.
pub struct Field<'a> {
    /// Its label.
    pub words: &'a str,
    /// What it means, with the unit.
    pub tip: &'a str,
    /// What it stands at now, SI.
    pub value: f64,
    /// What it measures.
    pub quantity: Quantity,
}

/// What came of a frame of typing.
enum Typed {
    Nothing,
    /// So far.
    Some(String),
    /// For good.
    Done(String),
    Dropped,
}

/// A field for a number. `edit` builds what a new value would change.
pub fn number(
    ui: &mut Ui,
    facts: &Facts<'_>,
    field: &Field<'_>,
    edit: impl Fn(f64) -> Result<Edit, EditError>,
) -> Option<Want> {
    let stands = units::write(field.quantity, field.value, facts.units);
    let build = |text: &str| -> Result<Edit, String> {
        let value = units::read(field.quantity, text, facts.units)?;
        edit(value).map_err(|refused| refused.read(&|id| facts.layout.name_of(id).to_owned()))
    };
    typed(ui, (field.words, field.tip), &stands, build)
}

/// A field for words.
pub fn words(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (label, tip, stands): (&str, &str, &str),
    edit: impl Fn(&str) -> Result<Edit, EditError>,
) -> Option<Want> {
    let build = |text: &str| {
        edit(text).map_err(|refused| refused.read(&|id| facts.layout.name_of(id).to_owned()))
    };
    typed(ui, (label, tip), stands, build)
}

fn typed(
    ui: &mut Ui,
    (label, tip): (&str, &str),
    stands: &str,
    build: impl Fn(&str) -> Result<Edit, String>,
) -> Option<Want> {
    let wrong = ui.make_persistent_id(("wrong", label));
    let want = match edit_line(ui, (label, tip), stands) {
        Typed::Nothing => None,
        Typed::Dropped => {
            say_wrong(ui, wrong, None);
            Some(Want::DropPreview)
        }
        Typed::Some(text) if text.trim() == stands => {
            say_wrong(ui, wrong, None);
            Some(Want::DropPreview)
        }
        Typed::Some(text) => match build(&text) {
            Ok(edit) => {
                say_wrong(ui, wrong, None);
                Some(Want::Preview(edit))
            }
            Err(why) => {
                say_wrong(ui, wrong, Some(why));
                Some(Want::DropPreview)
            }
        },
        Typed::Done(text) => {
            say_wrong(ui, wrong, None);
            match build(&text) {
                Ok(edit) => Some(Want::Make(edit)),
                Err(why) => Some(Want::Say(why)),
            }
        }
    };
    if let Some(why) = ui.data(|data| data.get_temp::<String>(wrong)) {
        let text = RichText::new(why).color(theme::ink(ui, Ink::Problem));
        ui.add(egui::Label::new(text).wrap());
    }
    want
}

fn say_wrong(ui: &Ui, id: Id, why: Option<String>) {
    ui.data_mut(|data| match why {
        Some(why) => {
            data.insert_temp(id, why);
        }
        None => data.remove::<String>(id),
    });
}

fn edit_line(ui: &mut Ui, (label, tip): (&str, &str), stands: &str) -> Typed {
    let kept = ui.make_persistent_id(("typed", label));
    let mut text = ui
        .data(|data| data.get_temp::<String>(kept))
        .unwrap_or_else(|| stands.to_owned());
    let response = rows::row(ui, label, tip, |ui, words| {
        let wide = ui.available_width().clamp(60.0, 150.0);
        let edit = TextEdit::singleline(&mut text)
            .desired_width(wide)
            .align(egui::Align2::RIGHT_CENTER)
            .id_salt(("field", label));
        ui.add(edit).labelled_by(words.id).on_hover_text(tip)
    });
    let escaped = ui.input(|input| input.key_pressed(Key::Escape));
    if response.lost_focus() {
        ui.data_mut(|data| data.remove::<String>(kept));
        return match text.trim() == stands {
            _ if escaped => Typed::Dropped,
            true => Typed::Dropped,
            false => Typed::Done(text),
        };
    }
    if response.has_focus() {
        ui.data_mut(|data| data.insert_temp(kept, text.clone()));
    }
    if response.changed() {
        Typed::Some(text)
    } else {
        Typed::Nothing
    }
}
