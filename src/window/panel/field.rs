//! A field that a number or a name is typed into.
//!
//! While it is typed the layout is previewed; Enter or leaving the field makes the edit, Escape drops it. What is
//! refused stays in the field, and why stands under it, until it is mended or dropped.

use super::{Facts, rows};
use crate::draw::shape::Ink;
use crate::draw::text::begun;
use crate::edit::{self, Edit, EditError};
use crate::layout::Id as PartId;
use crate::units::{self, Quantity};
use crate::window::action::Action;
use crate::window::theme;
use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
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

/// Puts the keyboard into the first number of the panel, with all of it selected.
pub fn type_number(ctx: &egui::Context) {
    ctx.data_mut(|data| data.insert_temp(asked(), true));
    ctx.request_repaint();
}

/// Where it is kept that this was asked for.
fn asked() -> Id {
    Id::unique("the first number is to be typed")
}

/// It was, and this is the field.
fn is_asked(ui: &Ui) -> bool {
    ui.data_mut(|data| data.remove_temp::<bool>(asked()).is_some())
}

/// What came of a frame of typing.
enum FieldInput {
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
) -> Option<Action> {
    let stands = units::write(field.quantity, field.value, facts.units);
    let shown_in = match field.quantity {
        // “1 h 5 min” has two.
        Quantity::Time => "",
        quantity => units::unit_for(quantity, field.value, facts.units).symbol,
    };
    let build = |text: &str| -> Result<Edit, String> {
        // A bare number has the unit that is shown, where one is.
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

/// A field for words.
pub fn words(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (label, tip, stands): (&str, &str, &str),
    edit: impl Fn(&str) -> Result<Edit, EditError>,
) -> Option<Action> {
    let build = |text: &str| allowed(facts, edit(text));
    typed(ui, (label, tip, FieldKind::Words), (stands, stands), build)
}

/// The field for the name of a part; `stands`: the name that was given to it.
pub fn name(ui: &mut Ui, facts: &Facts<'_>, part: &PartId, stands: &str) -> Option<Action> {
    let label = ("Name", "What people call it", stands);
    words(ui, facts, label, |to| edit::rename(facts.layout, part, to))
}

/// A field for one number of a part: `name` is its field in the file, dotted.
pub fn number_of(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (part, name): (&PartId, &str),
    field: &Field<'_>,
) -> Option<Action> {
    let build = |to| edit::number(facts.layout, part, name, to, field.quantity);
    number(ui, facts, field, build)
}

/// A field for a share that is shown in percent: how far a valve is open, how fast a pump turns.
pub fn percent(
    ui: &mut Ui,
    facts: &Facts<'_>,
    (label, tip, share): (&str, &str, f64),
    edit: impl Fn(f64) -> Result<Edit, EditError>,
) -> Option<Action> {
    let number = units::write(Quantity::Ratio, share * 100.0, facts.units);
    let stands = format!("{number} %");
    let build = |text: &str| -> Result<Edit, String> {
        // Whoever types a bare 70 here means percent.
        let bare = text.trim().trim_end_matches('%');
        let share = units::read(Quantity::Ratio, &format!("{bare} %"), facts.units)
            .map_err(|_| "Type a share in percent, such as 70 %.".to_owned())?;
        allowed(facts, edit(share))
    };
    typed(
        ui,
        (label, tip, FieldKind::Number),
        (&stands, &stands),
        build,
    )
}

/// An edit that can be made, or why it cannot, for the reader.
fn allowed(facts: &Facts<'_>, edit: Result<Edit, EditError>) -> Result<Edit, String> {
    let spared = edit.and_then(|edit| edit.spares_what_is_built().map(|()| edit));
    spared.map_err(|refused| begun(&facts.refusal(&refused)))
}

/// Numbers stand at the right, words take what room there is.
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
    // What was typed stays in the field, to be mended.
    let is_wrong = |ui: &Ui, wrong: bool| {
        ui.data_mut(|data| {
            if let Some(mut one) = data.get_temp::<FieldText>(kept) {
                one.wrong = wrong;
                data.insert_temp(kept, one);
            }
        });
    };
    let want = match typed {
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
    // Built anew: the reader may have changed the units meanwhile.
    if let Some(why) = refused.and_then(|kept| build(&kept.text).err()) {
        let text = RichText::new(why).color(theme::ink(ui, Ink::Problem));
        ui.add(egui::Label::new(text).wrap());
    }
    want
}

/// What is typed into a field, while it is and while it is refused.
#[derive(Clone)]
struct FieldText {
    text: String,
    /// What was written in the field before.
    began: String,
    /// What that stood for, whatever the units.
    stood: String,
    /// It is refused.
    wrong: bool,
    /// The pass in which the field was typed into last.
    pass: u64,
}

/// So many passes may lie between two looks at a field that is typed into: what is dragged is laid out twice.
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
        // What was refused waits, unless the number was changed from elsewhere; what was left half typed does not.
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
    // What is typed is previewed, so what stands now may be what was typed: held against what stood before.
    let same = kept.text.trim() == kept.began.trim();
    kept.pass = pass;
    let text = kept.text.clone();
    if response.lost_focus() && escaped {
        // Here it drops what was typed, and not what is selected as well.
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

/// Puts the keyboard into a field, with all that stands in it selected.
fn take_all(ui: &Ui, response: &egui::Response, text: &str) {
    response.request_focus();
    response.scroll_to_me(None);
    let mut state = TextEditState::load(ui.ctx(), response.id).unwrap_or_default();
    let all = CCursorRange::two(CCursor::new(0), CCursor::new(text.chars().count()));
    state.cursor.set_char_range(Some(all));
    state.store(ui.ctx(), response.id);
}

/// What is typed here is refused: its edge says so.
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
