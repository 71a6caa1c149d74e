//! A field that a number or a name is typed into.
//!
//! While it is typed the layout is previewed; Enter or leaving the field makes the edit, Escape drops it.

use super::{Facts, rows};
use crate::draw::shape::Ink;
use crate::edit::{self, Edit, EditError};
use crate::layout::Id as PartId;
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
    let shown_in = match field.quantity {
        // “1 h 5 min” has two.
        Quantity::Time => "",
        quantity => units::unit_for(quantity, field.value, facts.units).symbol,
    };
    let build = |text: &str| -> Result<Edit, String> {
        // A bare number has the unit that is shown, where one is.
        let value = units::read_in(field.quantity, text, (facts.units, shown_in))?;
        edit(value).map_err(|refused| refused.read(&|id| facts.layout.name_of(id).to_owned()))
    };
    typed(ui, (field.words, field.tip, Kind::Number), &stands, build)
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
    typed(ui, (label, tip, Kind::Words), stands, build)
}

/// The field for the name of a part; `stands`: the name that was given to it.
pub fn name(ui: &mut Ui, facts: &Facts<'_>, part: &PartId, stands: &str) -> Option<Want> {
    let label = ("Name", "What people call it", stands);
    words(ui, facts, label, |to| edit::rename(facts.layout, part, to))
}

/// A field for one number of a part: `name` is its field in the file, dotted.
pub fn number_of(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (part, name): (&PartId, &str),
    field: &Field<'_>,
) -> Option<Want> {
    let build = |to| edit::number(facts.layout, part, name, to, field.quantity);
    number(ui, facts, field, build)
}

/// A field for a share that is shown in percent: how far a valve is open, how fast a pump turns.
pub fn percent(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (label, tip, share): (&str, &str, f64),
    edit: impl Fn(f64) -> Result<Edit, EditError>,
) -> Option<Want> {
    let number = units::write(Quantity::Ratio, share * 100.0, facts.units);
    let stands = format!("{number} %");
    let build = |text: &str| -> Result<Edit, String> {
        // Whoever types a bare 70 here means percent.
        let bare = text.trim().trim_end_matches('%');
        let share = units::read(Quantity::Ratio, &format!("{bare} %"), facts.units)
            .map_err(|_| "Type a share in percent, such as 70 %.".to_owned())?;
        edit(share).map_err(|refused| refused.read(&|id| facts.layout.name_of(id).to_owned()))
    };
    typed(ui, (label, tip, Kind::Number), &stands, build)
}

/// Numbers stand at the right, words take what room there is.
#[derive(Clone, Copy)]
enum Kind {
    Number,
    Words,
}

fn typed(
    ui: &mut Ui,
    (label, tip, kind): (&str, &str, Kind),
    stands: &str,
    build: impl Fn(&str) -> Result<Edit, String>,
) -> Option<Want> {
    let wrong = ui.make_persistent_id(("wrong", label));
    let want = match edit_line(ui, (label, tip, kind), stands) {
        Typed::Nothing => None,
        Typed::Dropped => {
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

fn edit_line(ui: &mut Ui, (label, tip, kind): (&str, &str, Kind), stands: &str) -> Typed {
    let kept = ui.make_persistent_id(("typed", label));
    let (mut text, began) = ui
        .data(|data| data.get_temp::<(String, String)>(kept))
        .unwrap_or_else(|| (stands.to_owned(), stands.to_owned()));
    let response = rows::row(ui, label, tip, |ui, words| {
        let (most, align) = match kind {
            Kind::Number => (150.0, egui::Align2::RIGHT_CENTER),
            Kind::Words => (400.0, egui::Align2::LEFT_CENTER),
        };
        let edit = TextEdit::singleline(&mut text)
            .desired_width((ui.available_width() - 10.0).clamp(60.0, most))
            .align(align)
            .id_salt(("field", label));
        ui.add(edit).labelled_by(words.id).on_hover_text(tip)
    });
    let escaped = ui.input(|input| input.key_pressed(Key::Escape));
    // What is typed is previewed, so what stands now may be what was typed: held against what stood before.
    let same = text.trim() == began.trim();
    if response.lost_focus() {
        ui.data_mut(|data| data.remove::<(String, String)>(kept));
        return if escaped || same {
            Typed::Dropped
        } else {
            Typed::Done(text)
        };
    }
    if response.has_focus() {
        ui.data_mut(|data| data.insert_temp(kept, (text.clone(), began)));
    }
    match response.changed() {
        true if same => Typed::Dropped,
        true => Typed::Some(text),
        false => Typed::Nothing,
    }
}
