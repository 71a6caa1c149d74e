//! The survey dialog: readings at the left, computed heights next to them. The levels are visible behind it.
//!
//! Invariant: changes only the typed text; `edit` computes the heights.

mod form;
mod head;
mod messages;
mod rows;

use super::app::App;
use super::theme;
use crate::edit::{self, Edit, Survey};
use crate::layout::Layout;
use crate::session::Session;
use egui::{Align2, Color32, Id, Key, Modal, Modifiers, RichText, Ui};
use form::{SurveyForm, SurveyRead};

/// Width of the dialog, and the total width left free at its sides, points.
const WIDTH: f32 = 770.0;
const SIDE_WIDTH: f32 = 40.0;
/// Height of the dialog without its rows, and least height of the rows, points.
const ABOVE_AND_BELOW: f32 = 420.0;
const LEAST_ROWS: f32 = 110.0;

/// The survey; its text is kept while the dialog is closed.
#[derive(Default)]
pub(super) struct SurveyDialog {
    form: SurveyForm,
    open: bool,
    /// Whether it was just opened, so that the first field takes the focus.
    fresh: bool,
    /// The readings previewed last, and why their edit was refused.
    previewed: Option<Survey>,
    refused: Option<String>,
}

/// A request of the dialog.
#[derive(Clone, Copy, PartialEq, Eq)]
enum SurveyAction {
    Take,
    Anew,
    Drop,
}

impl SurveyDialog {
    pub(super) fn is_open(&self) -> bool {
        self.open
    }

    /// Opens the dialog with the text typed before.
    pub(super) fn open(&mut self) {
        (self.open, self.fresh) = (true, true);
        (self.previewed, self.refused) = (None, None);
    }

    /// Clears the text, because another layout is open.
    pub(super) fn forget(&mut self) {
        *self = SurveyDialog::default();
    }

    /// Previews the readings where they have changed; returns whether they have.
    fn preview(&mut self, session: &mut Session, now: Option<Survey>) -> bool {
        if self.previewed == now {
            return false;
        }
        let read = now.as_ref().filter(|survey| reads_something(survey));
        let edit = read.map(|survey| edit::survey(session.layout(), survey));
        let done = match &edit {
            Some(Ok(edit)) => session.preview(edit),
            _ => {
                session.drop_preview();
                Ok(())
            }
        };
        let refused = edit.and_then(Result::err).or(done.err());
        let layout = session.layout();
        let name = |id: &crate::layout::Id| layout.name_of(id).to_owned();
        self.refused = refused.map(|why| why.read(&name, layout.units));
        self.previewed = now;
        true
    }

    /// The edit for the readings, where they are valid.
    fn edit(&self, layout: &Layout, taken: &SurveyRead) -> Option<Edit> {
        let survey = taken.survey.as_ref()?;
        if !taken.wrong.is_empty() || !reads_something(survey) {
            return None;
        }
        edit::survey(layout, survey).ok()
    }
}

fn reads_something(survey: &Survey) -> bool {
    survey.set_ups.iter().any(|one| !one.sights.is_empty())
}

impl App {
    /// Shows the dialog while it is open, and carries out its requests.
    pub(super) fn take_down(&mut self, ctx: &egui::Context) {
        if !self.survey.open {
            return;
        }
        let layout = self.session.layout().clone();
        let room = ctx.content_rect();
        let area = Modal::default_area(Id::unique("survey"))
            .anchor(Align2::RIGHT_CENTER, egui::vec2(-SIDE_WIDTH / 2.0, 0.0));
        // The background of the panels makes the fields visible.
        let style = ctx.global_style();
        let frame = egui::Frame::popup(&style)
            .fill(style.visuals.panel_fill)
            .inner_margin(14.0);
        let modal = Modal::new(Id::unique("survey"))
            .area(area)
            .frame(frame)
            // The levels behind the dialog stay visible, since they follow the readings.
            .backdrop_color(Color32::TRANSPARENT);
        let shown = modal.show(ctx, |ui| {
            ui.set_width(WIDTH.min(room.width() - SIDE_WIDTH));
            let most_high = (room.height() - ABOVE_AND_BELOW).max(LEAST_ROWS);
            dialog(ui, &mut self.survey, &layout, most_high)
        });
        // A stray click beside the dialog must not close it, only Escape.
        let escaped = shown.is_top_modal
            && ctx.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape));
        let taken = self.survey.form.read(&layout);
        if self.survey.preview(&mut self.session, taken.survey.clone()) {
            // The results in this frame still belong to the previous readings.
            ctx.request_repaint();
        }
        match shown.inner {
            _ if escaped => self.shut(),
            Some(SurveyAction::Drop) => self.shut(),
            Some(SurveyAction::Anew) => {
                self.session.drop_preview();
                self.survey.forget();
                self.survey.open();
            }
            Some(SurveyAction::Take) => {
                if let Some(edit) = self.survey.edit(&layout, &taken) {
                    self.survey.forget();
                    self.make(edit);
                }
            }
            None => {}
        }
    }

    fn shut(&mut self) {
        self.survey.open = false;
        self.session.drop_preview();
        let words = "Nothing changed. The readings are kept for the next time.";
        self.said = Some(words.to_owned());
    }
}

fn dialog(
    ui: &mut Ui,
    book: &mut SurveyDialog,
    layout: &Layout,
    most_high: f32,
) -> Option<SurveyAction> {
    let taken = book.form.read(layout);
    let survey = taken.survey.as_ref();
    let found = survey.and_then(|survey| edit::surveyed(layout, survey).ok());
    let found = found.unwrap_or_default();
    let levels = survey.and_then(|survey| survey.levels().ok());
    ui.label(RichText::new("Survey").font(theme::strong(16.0)));
    let first = head::mark(ui, &mut book.form, &taken, layout.units);
    if std::mem::take(&mut book.fresh) {
        first.request_focus();
    }
    head::set_ups(ui, &mut book.form, &taken);
    ui.separator();
    let facts = rows::SurveyFacts {
        layout,
        taken: &taken,
        found: &found,
    };
    rows::show(ui, &mut book.form, &facts, most_high);
    ui.separator();
    head::closing(ui, &mut book.form, &taken);
    messages::closed(ui, layout, levels.and_then(|levels| levels.closed));
    messages::not_read(ui, layout, &found);
    let refused = book.refused.as_deref();
    messages::wrong(ui, layout, (&book.form, &taken), refused);
    ui.add_space(4.0);
    let may_take = book.edit(layout, &taken).is_some();
    ui.horizontal(|ui| buttons(ui, may_take)).inner
}

fn buttons(ui: &mut Ui, may_take: bool) -> Option<SurveyAction> {
    let strong = RichText::new("Apply heights").font(theme::strong(theme::BODY));
    let take = ui
        .add_enabled(may_take, egui::Button::new(strong))
        .on_hover_text("Sets floors and rims as one step")
        .on_disabled_hover_text("No heights to apply yet");
    let drop = ui
        .button("Cancel")
        .on_hover_text("Changes nothing; the readings are kept");
    let anew = ui.button("Start over").on_hover_text("Clears all fields");
    if take.clicked() {
        Some(SurveyAction::Take)
    } else if drop.clicked() {
        Some(SurveyAction::Drop)
    } else {
        anew.clicked().then_some(SurveyAction::Anew)
    }
}
