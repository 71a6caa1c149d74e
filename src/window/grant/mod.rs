//! What is asked for is done here, and only here: by subject.

mod files;
mod look;
mod parts;
mod picture;

use super::app::App;
use super::commands::{About, Command};
use super::dialogs::Next;
use super::panel;
use super::wants::Want;
use crate::draw::section::Pick;
use crate::edit::{self, Edit, EditError};
use crate::editor::Tool;
use crate::layout::Id;
use crate::units::UnitSystem;
use egui::ThemePreference;

impl App {
    /// Does what was asked for.
    pub(super) fn grant(&mut self, ctx: &egui::Context, want: Want) {
        match want {
            Want::Do(command) => self.command(ctx, command),
            Want::Preview(edit) => {
                let done = self.session.preview(&edit);
                self.refused(done);
            }
            Want::LookAt(edit) => {
                let done = self.session.preview(&edit);
                if self.refused(done) {
                    self.previewed = Some(edit);
                }
            }
            Want::DropPreview => self.session.drop_preview(),
            Want::Make(edit) => {
                self.make(edit);
            }
            Want::MakeAnd(edit, made) => self.make_and(edit, &made),
            Want::Paste(text) => self.paste(&text),
            Want::Take(tool) => self.take(tool),
            Want::InRow(count, step) => self.row(count, step),
            Want::OnBlocks(count, block_m) => {
                let edit =
                    edit::stand_on(self.session.layout(), &self.hand.parts(), count, block_m);
                self.made(edit);
            }
            Want::Find(pick) => self.find(pick),
            Want::Show(state) => self.watch.show(state),
            Want::Way(way) => self.watch.run(way),
            Want::Outcome(which) => self.watch.turn_to(which),
            Want::Shut(run) => self.watch.shut(run),
            Want::Time(time_s) => self.watch.stop_at(time_s),
            Want::OpenFile(path) => self.leave_for(ctx, Next::Open(path)),
            Want::Curve(pump) => self.open_curve(&pump),
            Want::Plot(pump) => self.plot = Some(pump),
            Want::Put(text, words) => {
                ctx.copy_text(text.clone());
                self.copied = Some(text);
                self.said = Some(words);
            }
            Want::Picture(command, shot) => self.picture(ctx, command, shot),
            Want::Say(words) => {
                self.session.drop_preview();
                self.said = Some(words);
            }
        }
    }

    fn command(&mut self, ctx: &egui::Context, command: Command) {
        if !command.may_run(&About::of(&self.session, &self.hand)) {
            let words = format!(
                "{} has nothing to act on now. {}.",
                command.text(),
                command.tip()
            );
            self.said = Some(words);
            return;
        }
        self.said = None;
        match command {
            Command::New => self.leave_for(ctx, Next::New),
            Command::Demo => self.leave_for(ctx, Next::Demo),
            Command::Open => self.leave_for(ctx, Next::Choose),
            Command::Quit => self.leave_for(ctx, Next::Quit),
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
        self.hand.take_tool(tool);
        self.session.drop_preview();
        self.said = (tool != Tool::Hand).then(|| format!("{}: {}", tool.words(), tool.told()));
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
                "Done again"
            }
        };
        self.hand.forget_missing(self.session.layout());
        self.said = name.map(|name| format!("{verb}: {name}."));
    }

    /// Makes an edit and says so; whether it was made.
    pub(super) fn make(&mut self, edit: Edit) -> bool {
        let layout = self.session.layout().clone();
        let name = edit
            .name
            .read(&|id| layout.name_of(id).to_owned(), layout.units);
        let done = self.session.commit(edit);
        let made = self.refused(done);
        if made {
            self.hand.forget_missing(self.session.layout());
            self.said = Some(format!("Done: {name}."));
        }
        made
    }

    /// Makes an edit that was built, or says why it could not be.
    pub(super) fn made(&mut self, edit: Result<Edit, EditError>) -> bool {
        match edit {
            Ok(edit) => self.make(edit),
            Err(refused) => self.refused(Err(refused)),
        }
    }

    /// Makes an edit, selects what it made, and says what that is.
    fn make_and(&mut self, edit: Edit, made: &[Id]) {
        if !self.make(edit) {
            return;
        }
        self.hand.selected = made.iter().cloned().map(Pick::Part).collect();
        self.show_made(made);
        if let [one] = made
            && let Some(run) = self.session.layout().run(one)
        {
            let layout = self.session.layout();
            self.said = Some(super::panel::told_of(layout, run));
        }
    }

    /// Says why an edit was refused; whether it was made.
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
