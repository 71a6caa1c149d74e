//! The application window, frame by frame.

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
use crate::draw::page::shape::Ink;
use crate::draw::page::view::at;
use crate::edit::Edit;
use crate::editor::{DrawingKind, ToolState};
use crate::layout::Id;
use crate::session::Session;
use egui::{CentralPanel, Panel, RichText, Ui, ViewportCommand};
use std::path::Path;

/// Explains the grade line in the status bar.
const GRADE: &str = "Grade line: distances are measured along the pipes. Point at it for values; select parts to choose the path.";

/// Shown in the status bar while a preview is on the screen.
const PREVIEW: &str = "Preview: nothing has changed yet. Press Escape to cancel.";

/// The application window.
pub struct App {
    pub(super) session: Session,
    pub(super) tool_state: ToolState,
    pub(super) canvas: Canvas,
    /// The state, operating mode and time that are shown.
    pub(super) watch: TimeView,
    pub(super) time: time::TimeBarState,
    pub(super) dialog: Option<Dialog>,
    /// The open dialog for a pump curve.
    pub(super) curve: Option<CurveDialog>,
    /// The pump whose duty plot is open.
    pub(super) plot: Option<Id>,
    /// The tables of the lower panel, and which one is shown.
    pub(super) tables: table::Tables,
    /// The last message in the status bar.
    pub(super) said: Option<String>,
    pub(super) choose: Box<dyn FileDialogs>,
    /// The drawings that are shown.
    pub(super) views: Views,
    /// Whether the shelf is shown.
    pub(super) shelf: bool,
    /// The open form.
    pub(super) form: Option<Prompt>,
    /// The part being renamed in place.
    pub(super) rename: Option<Renaming>,
    /// The last copy, for systems without a clipboard.
    pub(super) copied: Option<String>,
    /// The picture to save, while its file name is asked for.
    pub(super) shot: Option<Snapshot>,
    /// A cure that is previewed and not applied.
    pub(super) previewed: Option<Edit>,
    /// The survey dialog.
    pub(super) survey: survey::SurveyDialog,
    /// Sizes of the areas.
    pub(super) room: panel_sizes::PanelSizes,
    /// Whether the program may quit with unsaved work.
    pub(super) may_end: bool,
    /// The recovery of unsaved work.
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

    /// Opens a file; an error is reported in the window.
    pub fn open(&mut self, file: &Path) {
        self.open_now(file);
    }

    /// The tool state: the selection and the view of each page.
    pub fn tool_state(&self) -> &ToolState {
        &self.tool_state
    }

    /// The report that is shown, for the state and time of the time bar.
    pub fn water(&self) -> Option<crate::states::report::StateReport> {
        self.watch.water(&self.session.shown()).0.cloned()
    }

    /// The time that is shown, s; none at the end.
    pub fn time_s(&self) -> Option<f64> {
        self.watch.time_s
    }

    /// Clears the last message, so that the status bar describes the drawing.
    pub fn say_nothing(&mut self) {
        self.said = None;
    }

    /// The last message in the status bar.
    pub fn said(&self) -> Option<&str> {
        self.said.as_deref()
    }

    /// The position of a target in the window; none where it is not drawn.
    pub fn place_of(&self, pick: &crate::draw::section::Pick) -> Option<egui::Pos2> {
        self.canvas.place_of(pick)
    }

    /// The position of a target in the window, on one of the drawings.
    pub fn place_on(
        &self,
        sheet: DrawingKind,
        pick: &crate::draw::section::Pick,
    ) -> Option<egui::Pos2> {
        self.canvas.place_on(sheet, pick)
    }

    /// The position in the window of a point of the plan (metres); none where the plan is not shown.
    pub fn point_in_plan(&self, x_m: f64, y_m: f64) -> Option<egui::Pos2> {
        let view = self.tool_state.plan.view()?;
        let point = paint::pos(view.page_from_section(at(x_m, y_m)));
        Some(self.canvas.origin(DrawingKind::Plan) + point.to_vec2())
    }

    /// The last text that was copied.
    pub fn copied(&self) -> Option<&str> {
        self.copied.as_deref()
    }

    /// Runs one whole frame: takes in everything since the last one, then lays out the window.
    pub fn step(&mut self, ui: &mut Ui) {
        self.guarded_unseen(&ui.ctx().clone(), App::before);
        self.guarded(ui, App::frame);
    }

    fn frame(&mut self, ui: &mut Ui) {
        let mut actions = Vec::new();
        let revision = self.session.shown().revision;
        self.time_goes_on(ui.ctx());
        self.leave_scaling(ui.ctx());
        let free = self.dialog.is_none()
            && self.curve.is_none()
            && self.form.is_none()
            && self.rename.is_none()
            && !self.survey.is_open();
        if free {
            actions.extend(Command::pressed(ui.ctx()).map(Action::Do));
            actions.extend(pasted(ui.ctx()));
        }
        let padded = egui::Frame::new()
            .fill(ui.visuals().panel_fill)
            .inner_margin(egui::Margin::symmetric(12, 8));
        Panel::top("bar").frame(padded).show(ui, |ui| {
            let about = CommandContext::of(&self.session, &self.tool_state);
            actions.extend(bar::show(ui, &self.session, &about, self.views));
        });
        actions.extend(self.show_notices(ui));
        Panel::bottom("line")
            .frame(padded.inner_margin(egui::Margin::symmetric(12, 4)))
            .resizable(false)
            .show(ui, |ui| self.line(ui));
        if self.shelf {
            Panel::left("shelf")
                .frame(padded.inner_margin(egui::Margin::symmetric(8, 8)))
                .exact_size(shelf::WIDTH)
                .show(ui, |ui| {
                    actions.extend(shelf::show(ui, self.tool_state.tool))
                });
        }
        self.room.remember(ui.ctx(), &self.session);
        actions.extend(self.part_area(ui, padded));
        actions.extend(self.below_area(ui, padded));
        actions.extend(self.time_area(ui, padded));
        CentralPanel::no_frame().show(ui, |ui| {
            let session = (&mut self.session, &self.watch, self.views);
            let canvas = (&mut self.canvas, &mut self.room.section);
            actions.extend(canvas::show(ui, canvas, &mut self.tool_state, session));
        });
        self.mind_duty();
        actions.extend(self.duty_window(ui.ctx()));
        self.curve_frame(ui.ctx());
        self.answered(ui.ctx());
        actions.extend(self.formed(ui.ctx()));
        actions.extend(self.renamed(ui.ctx()));
        self.take_down(ui.ctx());
        actions.extend(self.mind_picture(ui.ctx()));
        for action in actions {
            self.dispatch(ui.ctx(), action);
        }
        if !self.session.previewing() || self.tool_state.drags() {
            self.previewed = None;
        }
        if self.tool_state.drags() && self.session.previewing() {
            // The last message belongs to an earlier change.
            self.said = None;
        }
        if self.tool_state.drags() && self.session.shown().revision != revision {
            // Panels are laid out before the drawing: lay out again, so that their numbers update in this frame.
            ui.ctx().request_discard("something was dragged");
        }
        focus::ring(ui);
        drop_here(ui);
        self.keep_look();
    }

    /// Advances the time bar and its simulation; requests the next frame only while it plays.
    fn time_goes_on(&mut self, ctx: &egui::Context) {
        let frame_s = ctx.input(|input| input.stable_dt);
        self.watch.update(&mut self.session, f64::from(frame_s));
        if self.watch.playing {
            ctx.request_repaint();
        }
    }

    /// The status bar: the last message, or a description of the drawing.
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
            format!("Section: heights are enlarged {stretch:.1} times.")
        } else {
            "Section: heights and lengths to the same scale.".to_owned()
        };
        let plan = "Plan: to the same scale in both directions.";
        let scale = match self.views {
            Views::Section => section,
            Views::Plan => plan.to_owned(),
            Views::Both => format!("{section} {plan}"),
            Views::Grade => GRADE.to_owned(),
        };
        let shown = self.session.shown();
        if shown.layout.vessels.is_empty() {
            return "Nothing here yet: drag a vessel from the shelf onto the drawing.".to_owned();
        }
        let state = match shown.levels {
            crate::session::Freshness::Solved => "Levels are up to date.",
            crate::session::Freshness::Preview => {
                "Levels are a preview; the full solve is running."
            }
            crate::session::Freshness::Stale => "Updating levels…",
        };
        format!("{state} {scale}")
    }

    /// The open form and its answer.
    fn formed(&mut self, ctx: &egui::Context) -> Vec<Action> {
        let Some(mut form) = self.form.take() else {
            return Vec::new();
        };
        let about = CommandContext::of(&self.session, &self.tool_state);
        match form.show(ctx, self.session.layout(), &about) {
            Answered::Open => self.form = Some(form),
            Answered::Left => {}
            Answered::Wants(actions) => return actions,
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

    /// Takes in finished work, dropped files and a request to quit.
    fn before(&mut self, ctx: &egui::Context) {
        if self.session.poll() {
            self.tool_state.forget_missing(self.session.layout());
        }
        self.mind_solving();
        if self.session.shown().age.is_some() {
            // The age of stale results is displayed in whole seconds.
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

    /// The background colour: the default of the toolkit is nearly black in either theme.
    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        visuals.panel_fill.to_normalized_gamma_f32()
    }
}

/// Pastes from the system clipboard, unless a text field has the focus.
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

/// Shows what dropping a file here would do.
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
        "Drop to open this layout",
        theme::strong(22.0),
        theme::ink(ui, Ink::Text),
    );
}
