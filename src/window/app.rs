//! The window from frame to frame.

use super::action::{Action, Snapshot};
use super::canvas::{self, Canvas, Views};
use super::commands::{Command, CommandContext};
use super::curve::CurveDialog;
use super::dialogs::{self, AfterSaving, Dialog};
use super::file_dialogs::FileDialogs;
use super::prompts::{Answered, Prompt};
use super::recovery::Recovery;
use super::rename::Renaming;
use super::time::{self, TimeView};
use super::{bar, focus, paint, panel_sizes, shelf, survey, table, theme};
use crate::draw::shape::Ink;
use crate::draw::view::at;
use crate::edit::Edit;
use crate::editor::{DrawingKind, ToolState};
use crate::layout::Id;
use crate::session::Session;
use egui::{CentralPanel, Panel, RichText, Ui, ViewportCommand};
use std::path::Path;

/// What the grade line is.
const GRADE: &str = "Grade line: distances run along the pipes. Point to a place for its numbers; select parts to choose the path.";

/// Said while something is shown that is not done.
const PREVIEW: &str = "This is a preview: nothing is changed yet. Escape drops it.";

/// The window.
pub struct App {
    pub(super) session: Session,
    pub(super) tool_state: ToolState,
    pub(super) canvas: Canvas,
    /// The state that is shown, in which way it runs, and at which moment.
    pub(super) watch: TimeView,
    pub(super) time: time::TimeBarState,
    pub(super) dialog: Option<Dialog>,
    /// The curve of a pump is being given.
    pub(super) curve: Option<CurveDialog>,
    /// The pump whose duty is plotted large.
    pub(super) plot: Option<Id>,
    /// The tables, and which of them is shown.
    pub(super) tables: table::Tables,
    /// What was said last, in the line at the bottom.
    pub(super) said: Option<String>,
    pub(super) choose: Box<dyn FileDialogs>,
    /// Which drawings are shown.
    pub(super) views: Views,
    /// The shelf is shown.
    pub(super) shelf: bool,
    /// A small question that is open.
    pub(super) form: Option<Prompt>,
    /// A part that is renamed in its place.
    pub(super) rename: Option<Renaming>,
    /// What was copied last, where the system keeps nothing.
    pub(super) copied: Option<String>,
    /// A picture that is to be saved, while its name is asked for.
    pub(super) shot: Option<Snapshot>,
    /// A cure that is looked at and not made.
    pub(super) previewed: Option<Edit>,
    /// The survey that is taken down.
    pub(super) survey: survey::SurveyDialog,
    /// How large the areas are.
    pub(super) room: panel_sizes::PanelSizes,
    /// The program may end, whatever is not saved.
    pub(super) may_end: bool,
    /// What is minded so that nothing is lost.
    pub(super) care: Recovery,
    titled: String,
}

impl App {
    /// The window of a session; its fonts and colours are set by [`super::install`].
    pub fn new(session: Session, choose: Box<dyn FileDialogs>) -> App {
        App {
            session,
            tool_state: ToolState::default(),
            canvas: Canvas::default(),
            watch: TimeView::default(),
            time: time::TimeBarState::default(),
            dialog: None,
            curve: None,
            plot: None,
            tables: table::Tables::default(),
            said: None,
            choose,
            views: Views::default(),
            shelf: true,
            form: None,
            rename: None,
            copied: None,
            shot: None,
            previewed: None,
            survey: survey::SurveyDialog::default(),
            room: panel_sizes::PanelSizes::default(),
            may_end: false,
            care: Recovery::default(),
            titled: String::new(),
        }
    }

    /// The session that is shown.
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// The session, for tests that wait for it.
    pub fn session_mut(&mut self) -> &mut Session {
        &mut self.session
    }

    /// Opens a file; what stands against it is said in the window.
    pub fn open(&mut self, file: &Path) {
        self.open_now(file);
    }

    /// The hand on the drawing: what is selected and how the page lies.
    pub fn tool_state(&self) -> &ToolState {
        &self.tool_state
    }

    /// The report that is drawn and told, of what is watched at its moment.
    pub fn water(&self) -> Option<crate::states::report::StateReport> {
        self.watch.water(&self.session.shown()).0.cloned()
    }

    /// The moment that is watched, s; none at the end.
    pub fn time_s(&self) -> Option<f64> {
        self.watch.time_s
    }

    /// Says what the drawing is in the line at the bottom, and no longer what was said last.
    pub fn say_nothing(&mut self) {
        self.said = None;
    }

    /// What was said last in the line at the bottom.
    pub fn said(&self) -> Option<&str> {
        self.said.as_deref()
    }

    /// Where in the window something is that can be picked; none where it is not drawn.
    pub fn place_of(&self, pick: &crate::draw::section::Pick) -> Option<egui::Pos2> {
        self.canvas.place_of(pick)
    }

    /// Where in the window something was drawn that can be picked, on one of the drawings.
    pub fn place_on(
        &self,
        sheet: DrawingKind,
        pick: &crate::draw::section::Pick,
    ) -> Option<egui::Pos2> {
        self.canvas.place_on(sheet, pick)
    }

    /// Where in the window a place of the plan is, metres; none where the plan is not shown.
    pub fn point_in_plan(&self, x_m: f64, y_m: f64) -> Option<egui::Pos2> {
        let view = self.tool_state.plan.view()?;
        let point = paint::pos(view.page_from_section(at(x_m, y_m)));
        Some(self.canvas.origin(DrawingKind::Plan) + point.to_vec2())
    }

    /// What was copied last.
    pub fn copied(&self) -> Option<&str> {
        self.copied.as_deref()
    }

    /// All of one frame: what came in since the last, then everything that is laid out.
    pub fn step(&mut self, ui: &mut Ui) {
        self.guarded_unseen(&ui.ctx().clone(), App::before);
        self.guarded(ui, App::frame);
    }

    fn frame(&mut self, ui: &mut Ui) {
        let mut wants = Vec::new();
        let revision = self.session.shown().revision;
        self.time_goes_on(ui.ctx());
        self.leave_scaling(ui.ctx());
        let free = self.dialog.is_none()
            && self.curve.is_none()
            && self.form.is_none()
            && self.rename.is_none()
            && !self.survey.is_open();
        if free {
            wants.extend(Command::pressed(ui.ctx()).map(Action::Do));
            wants.extend(pasted(ui.ctx()));
        }
        let padded = egui::Frame::new()
            .fill(ui.visuals().panel_fill)
            .inner_margin(egui::Margin::symmetric(12, 8));
        Panel::top("bar").frame(padded).show(ui, |ui| {
            let about = CommandContext::of(&self.session, &self.tool_state);
            wants.extend(bar::show(ui, &self.session, &about, self.views));
        });
        wants.extend(self.show_notices(ui));
        Panel::bottom("line")
            .frame(padded.inner_margin(egui::Margin::symmetric(12, 4)))
            .resizable(false)
            .show(ui, |ui| self.line(ui));
        if self.shelf {
            Panel::left("shelf")
                .frame(padded.inner_margin(egui::Margin::symmetric(8, 8)))
                .exact_size(shelf::WIDTH)
                .show(ui, |ui| wants.extend(shelf::show(ui, self.tool_state.tool)));
        }
        self.room.remember(ui.ctx(), &self.session);
        wants.extend(self.part_area(ui, padded));
        wants.extend(self.below_area(ui, padded));
        wants.extend(self.time_area(ui, padded));
        CentralPanel::no_frame().show(ui, |ui| {
            let session = (&mut self.session, &self.watch, self.views);
            let canvas = (&mut self.canvas, &mut self.room.section);
            wants.extend(canvas::show(ui, canvas, &mut self.tool_state, session));
        });
        self.mind_duty();
        wants.extend(self.duty_window(ui.ctx()));
        self.curve_frame(ui.ctx());
        self.answered(ui.ctx());
        wants.extend(self.formed(ui.ctx()));
        wants.extend(self.renamed(ui.ctx()));
        self.take_down(ui.ctx());
        wants.extend(self.mind_picture(ui.ctx()));
        for want in wants {
            self.dispatch(ui.ctx(), want);
        }
        if !self.session.previewing() || self.tool_state.drags() {
            self.previewed = None;
        }
        if self.tool_state.drags() && self.session.previewing() {
            // What was said last is of a change before this one.
            self.said = None;
        }
        if self.tool_state.drags() && self.session.shown().revision != revision {
            // Panels are laid out before the drawing: once more, so that their numbers follow in this frame too.
            ui.ctx().request_discard("something was dragged");
        }
        focus::ring(ui);
        drop_here(ui);
        self.keep_look();
    }

    /// What is watched is filmed; while it plays the next frame follows at once, and else none does.
    fn time_goes_on(&mut self, ctx: &egui::Context) {
        let frame_s = ctx.input(|input| input.stable_dt);
        self.watch.update(&mut self.session, f64::from(frame_s));
        if self.watch.playing {
            ctx.request_repaint();
        }
    }

    /// The line at the bottom: what was said last, else what the drawing is.
    fn line(&self, ui: &mut Ui) {
        ui.horizontal(|ui| {
            let held = self.session.previewing() && !self.tool_state.drags();
            let words = match &self.said {
                _ if held => RichText::new(PREVIEW).color(theme::ink(ui, Ink::Accent)),
                Some(said) => RichText::new(said).color(theme::ink(ui, Ink::Text)),
                None => RichText::new(self.about()).color(theme::ink(ui, Ink::SoftText)),
            };
            ui.add(egui::Label::new(words.size(theme::SMALL)).truncate());
        });
    }

    fn about(&self) -> String {
        let stretch = self.tool_state.look.view().map_or(1.0, |view| {
            view.points_per_metre_up / view.points_per_metre_along
        });
        let section = if stretch > 1.05 {
            format!("Section: heights are drawn {stretch:.1} times as large as lengths.")
        } else {
            "Section: heights and lengths have one scale.".to_owned()
        };
        let plan = "Plan: one scale in both directions.";
        let scale = match self.views {
            Views::Section => section,
            Views::Plan => plan.to_owned(),
            Views::Both => format!("{section} {plan}"),
            Views::Grade => GRADE.to_owned(),
        };
        let shown = self.session.shown();
        if shown.layout.vessels.is_empty() {
            return "The page is empty: take a vessel from the shelf and set it down.".to_owned();
        }
        let state = match shown.levels {
            crate::session::Freshness::Solved => "The levels are solved.",
            crate::session::Freshness::Preview => {
                "The levels are a preview; the whole way is being solved."
            }
            crate::session::Freshness::Stale => match shown.age.map(|age| age.as_secs()) {
                None | Some(0) => "The levels are of the drawing before; solving.",
                Some(age_s) => {
                    let age = crate::units::span(age_s as f64);
                    return format!("The levels are of the drawing {age} ago; solving. {scale}");
                }
            },
        };
        format!("{state} {scale}")
    }

    /// The small question that is open, and what it came to.
    fn formed(&mut self, ctx: &egui::Context) -> Vec<Action> {
        let Some(mut form) = self.form.take() else {
            return Vec::new();
        };
        let about = CommandContext::of(&self.session, &self.tool_state);
        match form.show(ctx, self.session.layout(), &about) {
            Answered::Open => self.form = Some(form),
            Answered::Left => {}
            Answered::Wants(wants) => return wants,
        }
        Vec::new()
    }

    fn answered(&mut self, ctx: &egui::Context) {
        let Some(mut dialog) = self.dialog.take() else {
            return;
        };
        let title = self.session.layout().title.clone();
        match dialogs::show(ctx, &mut dialog, &title) {
            Some(answer) => self.answer(ctx, &dialog, answer),
            None => self.dialog = Some(dialog),
        }
    }

    /// Work that came in, files that were dropped, and the wish to end.
    fn before(&mut self, ctx: &egui::Context) {
        if self.session.poll() {
            self.tool_state.forget_missing(self.session.layout());
        }
        self.mind_solving();
        if self.session.shown().age.is_some() {
            // How old it is, is said by the second.
            ctx.request_repaint_after(std::time::Duration::from_secs(1));
        }
        let dropped = ctx.input(|input| {
            let first = input.raw.dropped_files.first();
            first.map(|file| file.path().to_path_buf())
        });
        if let Some(path) = dropped {
            self.leave_for(ctx, AfterSaving::Open(path));
        }
        let closing = ctx.input(|input| input.viewport().close_requested());
        if closing && self.session.unsaved() && !self.may_end && !self.broken() {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.dialog = Some(Dialog::Unsaved(AfterSaving::Quit));
        }
        self.name_window(ctx);
    }

    fn name_window(&mut self, ctx: &egui::Context) {
        let star = if self.session.unsaved() { "*" } else { "" };
        let title = format!("{star}{} – Fallwright", self.session.layout().title);
        if title != self.titled {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.titled = title;
        }
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        self.guarded_unseen(ctx, App::before);
    }

    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.guarded(ui, App::frame);
    }

    /// What nothing is drawn over: by itself the toolkit takes nearly black in either theme.
    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        visuals.panel_fill.to_normalized_gamma_f32()
    }
}

/// What the system put in from the clipboard, where nobody types.
fn pasted(ctx: &egui::Context) -> Option<Action> {
    if ctx.text_edit_focused() {
        return None;
    }
    ctx.input(|input| {
        input.events.iter().find_map(|event| match event {
            egui::Event::Paste(text) => Some(Action::Paste(text.clone())),
            _ => None,
        })
    })
}

/// Says what letting go of a file here would do.
fn drop_here(ui: &Ui) {
    let hovering = ui.input(|input| !input.raw.hovered_files.is_empty());
    if !hovering {
        return;
    }
    let rect = ui.ctx().content_rect();
    let layer = egui::LayerId::new(egui::Order::Foreground, egui::Id::unique("drop"));
    let painter = ui.ctx().layer_painter(layer);
    painter.rect_filled(rect, 0.0, theme::ink(ui, Ink::Page).gamma_multiply(0.85));
    painter.text(
        rect.center(),
        egui::Align2::CENTER_CENTER,
        "Let go to open this layout",
        theme::strong(22.0),
        theme::ink(ui, Ink::Text),
    );
}
