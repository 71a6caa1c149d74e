//! Carries out the actions that panels ask for.

mod files;
mod look;
mod parts;
mod picture;

use super::action::Action;
use super::app::App;
use super::commands::{Command, CommandContext};
use super::dialogs::{AfterSaving, Dialog};
use super::panel;
use crate::draw::section::Pick;
use crate::edit::{self, Edit, EditError};
use crate::editor::Tool;
use crate::layout::Id;
use crate::units::UnitSystem;
use egui::ThemePreference;

impl App {
    /// Carries out an action.
    pub(super) fn dispatch(&mut self, ctx: &egui::Context, action: Action) {
        match action {
            Action::Do(command) => self.command(ctx, command),
            Action::Preview(edit) => {
                let done = self.session.preview(&edit);
                self.refused(done);
            }
            Action::LookAt(edit) => {
                let done = self.session.preview(&edit);
                if self.refused(done) {
                    self.previewed = Some(edit);
                }
            }
            Action::DropPreview => self.session.drop_preview(),
            Action::Make(edit) => {
                self.make(edit);
            }
            Action::MakeAnd(edit, made) => self.make_and(edit, &made),
            Action::Paste(text) => self.paste(&text),
            Action::Take(tool) => self.take(tool),
            Action::InRow(count, step) => self.row(count, step),
            Action::OnBlocks(count, block_m) => {
                let edit = edit::stand_on(
                    self.session.layout(),
                    &self.tool_state.parts(),
                    count,
                    block_m,
                );
                self.made(edit);
            }
            Action::Find(pick) => self.find(pick),
            Action::Show(state) => self.watch.show(state),
            Action::Way(way) => self.watch.run(way),
            Action::Outcome(which) => self.watch.turn_to(which),
            Action::Shut(run) => self.watch.shut(run),
            Action::Time(time_s) => self.watch.stop_at(time_s),
            Action::OpenFile(path) => self.leave_for(ctx, AfterSaving::Open(path)),
            Action::Curve(pump) => self.open_curve(&pump),
            Action::Plot(pump) => self.plot = Some(pump),
            Action::Put(text, words) => {
                ctx.copy_text(text.clone());
                self.copied = Some(text);
                self.said = Some(words);
            }
            Action::Picture(command, shot) => self.picture(ctx, command, shot),
            Action::Say(words) => {
                self.session.drop_preview();
                self.said = Some(words);
            }
        }
    }

    fn command(&mut self, ctx: &egui::Context, command: Command) {
        if !command.may_run(&CommandContext::of(&self.session, &self.tool_state)) {
            self.said = Some(format!("{}.", command.why_not()));
            return;
        }
        self.said = None;
        match command {
            Command::New => self.leave_for(ctx, AfterSaving::New),
            Command::Demo => self.leave_for(ctx, AfterSaving::Demo),
            Command::Open => self.leave_for(ctx, AfterSaving::Choose),
            Command::Quit => self.leave_for(ctx, AfterSaving::Quit),
            Command::About => self.dialog = Some(Dialog::About),
            Command::Save => self.save(ctx, None),
            Command::SaveAs => self.save_as(ctx, None),
            Command::Undo | Command::Redo => self.history(command),
            Command::Metric => self.units(UnitSystem::Metric),
            Command::Us => self.units(UnitSystem::Us),
            Command::Light => ctx.set_theme(ThemePreference::Light),
            Command::Dark => ctx.set_theme(ThemePreference::Dark),
            Command::SystemTheme => ctx.set_theme(ThemePreference::System),
            Command::SavePicture | Command::CopyPicture | Command::CopySvg => {
                self.picture_of_view(ctx, command);
            }
            Command::KeepBeside | Command::OpenBeside | Command::EndBeside => {
                self.compare(command);
            }
            Command::Watch(state) => self.watch.show(state),
            Command::Play => self.watch.play(),
            Command::TimeBar => self.time.away = !self.time.away,
            Command::NextEvent | Command::EventBefore => self.step_in_time(command),
            Command::TypeNumber => panel::type_number(ctx),
            Command::Survey => self.survey.open(),
            Command::LayPicture => self.lay_picture(),
            Command::ScalePicture => self.scale_picture(),
            Command::PictureAway => self.take_picture_away(),
            Command::TakeHand => self.take(Tool::Hand),
            Command::TakePipe => self.take(Tool::Pipe),
            Command::TakeManifold => self.take(Tool::Manifold),
            Command::TakeTape => self.take(Tool::Tape),
            Command::TakeJoint => self.take(Tool::Joint),
            Command::TakeFixed => self.take(Tool::Fixed),
            Command::Fit
            | Command::Larger
            | Command::Smaller
            | Command::OnlySection
            | Command::OnlyPlan
            | Command::BothDrawings
            | Command::OnlyGrade
            | Command::Shelf
            | Command::NextPart
            | Command::PartBefore
            | Command::NextPartToo
            | Command::NextCrest
            | Command::CrestBefore
            | Command::SelectAll
            | Command::Find => self.look(command),
            _ => self.on_parts(ctx, command),
        }
    }

    fn step_in_time(&mut self, command: Command) {
        let Some((film, _)) = self.session.series() else {
            return;
        };
        match command {
            Command::NextEvent => self.watch.next(film),
            _ => self.watch.before(film),
        }
    }

    fn take(&mut self, tool: Tool) {
        self.tool_state.take_tool(tool);
        self.session.drop_preview();
        self.said = (tool != Tool::Hand).then(|| format!("{}: {}", tool.words(), tool.hint()));
    }

    fn history(&mut self, command: Command) {
        let name = super::bar::step_name(&self.session, command);
        let verb = match command {
            Command::Undo => {
                self.session.undo();
                "Undone"
            }
            _ => {
                self.session.redo();
                "Redone"
            }
        };
        self.tool_state.forget_missing(self.session.layout());
        self.said = name.map(|name| format!("{verb}: {name}."));
    }

    /// Commits an edit and reports it; returns whether it was made.
    pub(super) fn make(&mut self, edit: Edit) -> bool {
        let layout = self.session.layout().clone();
        let name = edit
            .name
            .read(&|id| layout.name_of(id).to_owned(), layout.units);
        let done = self.session.commit(edit);
        let made = self.refused(done);
        if made {
            self.tool_state.forget_missing(self.session.layout());
            self.said = Some(format!("Done: {name}."));
        }
        made
    }

    /// Commits an edit, or reports why it could not be built.
    pub(super) fn made(&mut self, edit: Result<Edit, EditError>) -> bool {
        match edit {
            Ok(edit) => self.make(edit),
            Err(refused) => self.refused(Err(refused)),
        }
    }

    /// Commits an edit, selects the new parts, and describes a new run.
    fn make_and(&mut self, edit: Edit, made: &[Id]) {
        if !self.make(edit) {
            return;
        }
        self.tool_state.selected = made.iter().cloned().map(Pick::Part).collect();
        self.show_made(made);
        if let [one] = made
            && let Some(run) = self.session.layout().run(one)
        {
            let layout = self.session.layout();
            self.said = Some(super::panel::said_of(layout, run));
        }
    }

    /// Reports an edit that was refused; returns whether it was made.
    fn refused(&mut self, done: Result<(), EditError>) -> bool {
        match done {
            Ok(()) => true,
            Err(refused) => {
                let layout = self.session.layout();
                let words = refused.read(&|id| layout.name_of(id).to_owned(), layout.units);
                self.said = Some(words);
                false
            }
        }
    }

    fn units(&mut self, units: UnitSystem) {
        let edit = edit::units(self.session.layout(), units);
        self.made(edit);
    }
}
