//! A field for a number or a name.
//!
//! Typing previews the layout; Enter or leaving the field commits the edit, Escape cancels it. A refused value stays
//! in the field with the reason below it until it is corrected or cancelled.

use super::{Facts, rows};
use crate::draw::page::shape::Ink;
use crate::draw::page::text::begun;
use crate::edit::{self, Edit, EditError};
use crate::layout::{Id as PartId, NumberField};
use crate::units::{self, Quantity};
use crate::window::action::Action;
use crate::window::theme;
use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{Id, Key, RichText, TextEdit, Ui};

/// Description of a field.
pub struct Field<'a> {
    /// Its label.
    pub words: &'a str,
    /// The tooltip, with the unit.
    pub tip: &'a str,
    /// The present value, SI.
    pub value: f64,
    /// Its quantity.
    pub quantity: Quantity,
}

/// Moves the keyboard focus to the first number of the panel and selects its text.
pub fn type_number(ctx: &egui::Context) {
    ctx.data_mut(|data| data.insert_temp(asked(), true));
    ctx.request_repaint();
}

/// The key under which that request is stored.
fn asked() -> Id {
    Id::unique("the first number is to be typed")
}

/// Takes the request: true for the first field that asks.
fn is_asked(ui: &Ui) -> bool {
    ui.data_mut(|data| data.remove_temp::<bool>(asked()).is_some())
}

/// Result of one frame of typing.
enum FieldInput {
    Nothing,
    /// A value while it is typed.
    Some(String),
    /// The committed value.
    Done(String),
    Dropped,
}

/// Shows a field for a number. `edit` builds the edit for a new value.
pub fn number(
    ui: &mut Ui,
    facts: &Facts<'_>,
    field: &Field<'_>,
    edit: impl Fn(f64) -> Result<Edit, EditError>,
) -> Option<Action> {
    let stands = units::write(field.quantity, field.value, facts.units);
    let shown_in = match field.quantity {
        // A time such as “1 h 5 min” has two units.
        Quantity::Time => "",
        quantity => units::unit_for(quantity, field.value, facts.units).symbol,
    };
    let build = |text: &str| -> Result<Edit, String> {
        // A number without a unit is in the displayed unit, if there is one.
        let value = units::read_in(field.quantity, text, (facts.units, shown_in))?;
        allowed(facts, edit(value))
    };
    let stood = format!("{:e}", field.value);
    typed(
        ui,
        (field.words, field.tip, FieldKind::Number),
        (&stands, &stood),
        build,
    )
}

/// Shows a field for text.
pub fn words(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (label, tip, stands): (&str, &str, &str),
    edit: impl Fn(&str) -> Result<Edit, EditError>,
) -> Option<Action> {
    let build = |text: &str| allowed(facts, edit(text));
    typed(ui, (label, tip, FieldKind::Words), (stands, stands), build)
}

/// Shows the field for the name of a part; `stands`: the present name.
pub fn name(ui: &mut Ui, facts: &Facts<'_>, part: &PartId, stands: &str) -> Option<Action> {
    let label = ("Name", "Your name for it", stands);
    words(ui, facts, label, |to| edit::rename(facts.layout, part, to))
}

/// Shows a field for a number of a part; `name`: which one.
pub fn number_of(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (part, name): (&PartId, NumberField),
    field: &Field<'_>,
) -> Option<Action> {
    let build = |to| edit::number(facts.layout, part, name, to);
    number(ui, facts, field, build)
}

/// Shows a field for a share in percent, such as the opening of a valve or the speed of a pump.
pub fn percent(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (label, tip, share): (&str, &str, f64),
    edit: impl Fn(f64) -> Result<Edit, EditError>,
) -> Option<Action> {
    let number = units::write(Quantity::Ratio, share * 100.0, facts.units);
    let stands = format!("{number} %");
    let build = |text: &str| -> Result<Edit, String> {
        // A bare 70 here means percent.
        let bare = text.trim().trim_end_matches('%');
        let share = units::read(Quantity::Ratio, &format!("{bare} %"), facts.units)
            .map_err(|_| "Type a percentage, such as 70 %.".to_owned())?;
        allowed(facts, edit(share))
    };
    typed(
        ui,
        (label, tip, FieldKind::Number),
        (&stands, &stands),
        build,
    )
}

/// The edit, or why it is refused, for the user.
fn allowed(facts: &Facts<'_>, edit: Result<Edit, EditError>) -> Result<Edit, String> {
    let spared = edit.and_then(|edit| edit.spares_what_is_built().map(|()| edit));
    spared.map_err(|refused| begun(&facts.refusal(&refused)))
}

/// The kind of a field: numbers are right-aligned; text fills the available width.
#[derive(Clone, Copy)]
enum FieldKind {
    Number,
    Words,
}

fn typed(
    ui: &mut Ui,
    (label, tip, kind): (&str, &str, FieldKind),
    stands: (&str, &str),
    build: impl Fn(&str) -> Result<Edit, String>,
) -> Option<Action> {
    let kept = ui.make_persistent_id(("typed", label));
    let typed = edit_line(ui, kept, (label, tip, kind), stands);
    // A refused value stays in the field, to be corrected.
    let is_wrong = |ui: &Ui, wrong: bool| {
        ui.data_mut(|data| {
            if let Some(mut one) = data.get_temp::<FieldText>(kept) {
                one.wrong = wrong;
                data.insert_temp(kept, one);
            }
        });
    };
    let action = match typed {
        FieldInput::Nothing => None,
        FieldInput::Dropped => {
            is_wrong(ui, false);
            Some(Action::DropPreview)
        }
        FieldInput::Some(text) | FieldInput::Done(text) if build(&text).is_err() => {
            is_wrong(ui, true);
            Some(Action::DropPreview)
        }
        FieldInput::Some(text) => {
            is_wrong(ui, false);
            build(&text).ok().map(Action::Preview)
        }
        FieldInput::Done(text) => {
            ui.data_mut(|data| data.remove::<FieldText>(kept));
            build(&text).ok().map(Action::Make)
        }
    };
    let refused = ui.data(|data| data.get_temp::<FieldText>(kept));
    let refused = refused.filter(|kept| kept.wrong);
    // Built again, since the units may have changed meanwhile.
    if let Some(why) = refused.and_then(|kept| build(&kept.text).err()) {
        let text = RichText::new(why).color(theme::ink(ui, Ink::Problem));
        ui.add(egui::Label::new(text).wrap());
    }
    action
}

/// The text of a field while it is typed or refused.
#[derive(Clone)]
struct FieldText {
    text: String,
    /// The text before typing.
    began: String,
    /// The value before typing, independent of the units.
    stood: String,
    /// Whether the value is refused.
    wrong: bool,
    /// The pass in which text was last typed.
    pass: u64,
}

/// Largest number of passes between two updates of a field that is being edited: a drag lays out twice.
const PASSES: u64 = 4;

fn edit_line(
    ui: &mut Ui,
    id: Id,
    (label, tip, kind): (&str, &str, FieldKind),
    (stands, stood): (&str, &str),
) -> FieldInput {
    let pass = ui.ctx().cumulative_pass_nr();
    let mut kept = ui
        .data(|data| data.get_temp::<FieldText>(id))
        // A refused value is kept unless the number was changed elsewhere; unfinished text is dropped.
        .filter(|kept| {
            kept.wrong && kept.stood == stood || pass.saturating_sub(kept.pass) <= PASSES
        })
        .unwrap_or_else(|| FieldText {
            text: stands.to_owned(),
            began: stands.to_owned(),
            stood: stood.to_owned(),
            wrong: false,
            pass: 0,
        });
    let response = rows::row(ui, label, tip, |ui, words| {
        let (most, align) = match kind {
            FieldKind::Number => (150.0, egui::Align2::RIGHT_CENTER),
            FieldKind::Words => (400.0, egui::Align2::LEFT_CENTER),
        };
        if kept.wrong {
            outline(ui);
        }
        let edit = TextEdit::singleline(&mut kept.text)
            .desired_width((ui.available_width() - 10.0).clamp(60.0, most))
            .align(align)
            .id_salt(("field", label));
        let response = ui.add(edit).labelled_by(words.id).on_hover_text(tip);
        if matches!(kind, FieldKind::Number) && is_asked(ui) {
            take_all(ui, &response, &kept.text);
        }
        response
    });
    let escaped = ui.input(|input| input.key_pressed(Key::Escape));
    // Typing previews the value, so the present one may be what was typed: compare with the one before.
    let same = kept.text.trim() == kept.began.trim();
    kept.pass = pass;
    let text = kept.text.clone();
    if response.lost_focus() && escaped {
        // Here Escape cancels the typing and keeps the selection.
        ui.input_mut(|input| input.consume_key(egui::Modifiers::NONE, Key::Escape));
    }
    if response.lost_focus() && (escaped || same) {
        ui.data_mut(|data| data.remove::<FieldText>(id));
        return FieldInput::Dropped;
    }
    if response.lost_focus() || response.has_focus() {
        ui.data_mut(|data| data.insert_temp(id, kept));
    }
    match response.changed() {
        _ if response.lost_focus() => FieldInput::Done(text),
        true if same => FieldInput::Dropped,
        true => FieldInput::Some(text),
        false => FieldInput::Nothing,
    }
}

/// Moves the focus to a field and selects its text.
fn take_all(ui: &Ui, response: &egui::Response, text: &str) {
    response.request_focus();
    response.scroll_to_me(None);
    let mut state = TextEditState::load(ui.ctx(), response.id).unwrap_or_default();
    let all = CCursorRange::two(CCursor::new(0), CCursor::new(text.chars().count()));
    state.cursor.set_char_range(Some(all));
    state.store(ui.ctx(), response.id);
}

/// Marks the edge of a field with a refused value.
fn outline(ui: &mut Ui) {
    let edge = egui::Stroke::new(1.5, theme::ink(ui, Ink::Problem));
    let visuals = ui.visuals_mut();
    visuals.selection.stroke = edge;
    let widgets = &mut visuals.widgets;
    for widget in [
        &mut widgets.inactive,
        &mut widgets.hovered,
        &mut widgets.active,
    ] {
        widget.bg_stroke = edge;
    }
}
