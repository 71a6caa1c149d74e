//! What is asked for is done here, and only here.

use super::app::App;
use super::choose::Chosen;
use super::commands::Command;
use super::dialogs::{Answer, Dialog, Next, Wish};
use super::wants::Want;
use crate::draw::section::Pick;
use crate::edit::{self, Edit, EditError};
use crate::session::FileError;
use crate::session::Saved;
use crate::units::UnitSystem;
use egui::{ThemePreference, ViewportCommand};
use std::path::{Path, PathBuf};

/// One press of a key enlarges this much.
const ZOOM_STEP: f64 = 1.25;

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
            Want::Make(edit) => self.make(edit),
            Want::Find(pick) => self.find(pick),
            Want::Show(state) => self.state = state,
            Want::OpenFile(path) => self.leave_for(ctx, Next::Open(path)),
            Want::Say(words) => {
                self.session.drop_preview();
                self.said = Some(words);
            }
        }
    }

    fn command(&mut self, ctx: &egui::Context, command: Command) {
        match command {
            Command::Demo => self.leave_for(ctx, Next::Demo),
            Command::Open => self.leave_for(ctx, Next::Choose),
            Command::Quit => self.leave_for(ctx, Next::Quit),
            Command::Save => self.save(ctx, None),
            Command::SaveAs => self.save_as(ctx, None),
            Command::Undo | Command::Redo => self.history(command),
            Command::Fit => self.hand.look.fit(),
            Command::Larger => self.zoom(ZOOM_STEP),
            Command::Smaller => self.zoom(1.0 / ZOOM_STEP),
            Command::NextCrest => self.next_crest(1),
            Command::CrestBefore => self.next_crest(-1),
            Command::Metric => self.units(UnitSystem::Metric),
            Command::Us => self.units(UnitSystem::Us),
            Command::Light => ctx.set_theme(ThemePreference::Light),
            Command::Dark => ctx.set_theme(ThemePreference::Dark),
            Command::SystemTheme => ctx.set_theme(ThemePreference::System),
            Command::Survey => self.survey.open(),
            Command::LayPicture => self.lay_picture(),
            Command::ScalePicture => self.scale_picture(),
            Command::PictureAway => self.take_picture_away(),
        }
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

    pub(super) fn make(&mut self, edit: Edit) {
        let layout = self.session.layout().clone();
        let name = edit
            .name
            .read(&|id| layout.name_of(id).to_owned(), layout.units);
        let done = self.session.commit(edit);
        if self.refused(done) {
            self.said = Some(format!("Done: {name}."));
        }
    }

    /// Says why an edit was refused; whether it was made.
    fn refused(&mut self, done: Result<(), EditError>) -> bool {
        match done {
            Ok(()) => true,
            Err(refused) => {
                let layout = self.session.layout();
                let words = refused.read(&|id| layout.name_of(id).to_owned());
                self.said = Some(words);
                false
            }
        }
    }

    fn units(&mut self, units: UnitSystem) {
        match edit::units(self.session.layout(), units) {
            Ok(edit) => self.make(edit),
            Err(refused) => {
                self.refused(Err(refused));
            }
        }
    }

    fn find(&mut self, pick: Pick) {
        let target = self
            .canvas
            .targets
            .iter()
            .find(|target| target.pick == pick);
        if let Some(target) = target {
            self.hand.look.bring(target.reach.bounds());
        }
        self.hand.selected = Some(pick);
    }

    fn zoom(&mut self, by: f64) {
        if let Some(view) = self.hand.look.view() {
            self.hand.look.zoom(by, view.page.centre());
        }
    }

    /// Selects the crest that comes `step` after the selected one, round and round.
    fn next_crest(&mut self, step: isize) {
        let targets = self.canvas.targets.iter();
        let mut crests: Vec<(f64, Pick)> = targets
            .filter(|target| matches!(target.pick, Pick::Crest { .. }))
            .map(|target| (target.reach.bounds().left, target.pick.clone()))
            .collect();
        // From left to right, as water falls.
        crests.sort_by(|a, b| a.0.total_cmp(&b.0));
        let crests: Vec<Pick> = crests.into_iter().map(|(_, pick)| pick).collect();
        let now = crests
            .iter()
            .position(|pick| Some(pick) == self.hand.selected.as_ref());
        let count = isize::try_from(crests.len()).unwrap_or(0);
        if count == 0 {
            return;
        }
        let next = match now.and_then(|now| isize::try_from(now).ok()) {
            Some(now) => (now + step).rem_euclid(count),
            None if step < 0 => count - 1,
            None => 0,
        };
        let next = usize::try_from(next).ok().and_then(|next| crests.get(next));
        if let Some(pick) = next {
            self.find(pick.clone());
        }
    }

    /// Goes on to something else, and asks first where work is not saved.
    pub(super) fn leave_for(&mut self, ctx: &egui::Context, next: Next) {
        if self.session.unsaved() {
            self.dialog = Some(Dialog::Unsaved(next));
        } else {
            self.go(ctx, next);
        }
    }

    fn go(&mut self, ctx: &egui::Context, next: Next) {
        match next {
            Next::Quit => {
                self.may_end = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            Next::Demo => {
                self.session.open_demo();
                self.opened();
            }
            Next::Choose => match self.choose.open(self.session.path()) {
                Chosen::Path(path) => self.open_now(&path),
                Chosen::Nothing => self.said = Some("No file was chosen.".to_owned()),
                Chosen::NoDialog => self.ask_name(Wish::Open, String::new()),
            },
            Next::Open(path) => self.open_now(&path),
        }
    }

    pub(super) fn open_now(&mut self, path: &Path) {
        match self.session.open(path) {
            Ok(()) => self.opened(),
            Err(error) => {
                self.trouble("This layout cannot be opened", &error);
            }
        }
    }

    fn opened(&mut self) {
        self.hand = crate::editor::Hand::default();
        self.survey.forget();
        self.said = None;
    }

    fn trouble(&mut self, head: &str, error: &FileError) {
        self.dialog = Some(Dialog::Trouble {
            head: head.to_owned(),
            text: format!("{error}."),
        });
    }

    /// Saves, and asks where something could be lost; then goes on to `next`, if that went well.
    fn save(&mut self, ctx: &egui::Context, next: Option<Next>) {
        let count = self.session.notes_lost();
        if count > 0 {
            self.dialog = Some(Dialog::NotesLost { count, next });
        } else {
            self.save_anyway(ctx, next);
        }
    }

    fn save_anyway(&mut self, ctx: &egui::Context, next: Option<Next>) {
        match self.session.save() {
            Ok(Saved::Done) => self.saved(ctx, next),
            Ok(Saved::NeedsName) => self.save_as(ctx, next),
            Err(error) => self.trouble("The layout could not be saved", &error),
        }
    }

    fn save_as(&mut self, ctx: &egui::Context, next: Option<Next>) {
        let name = file_name(&self.session.layout().title);
        match self.choose.save(&name, self.session.path()) {
            Chosen::Path(path) => self.save_to(ctx, &path, next),
            Chosen::Nothing => {
                self.said = Some("Nothing was saved: no place was chosen.".to_owned());
            }
            Chosen::NoDialog => {
                let place = self.session.path().map(|path| path.display().to_string());
                self.ask_name(Wish::Save(next), place.unwrap_or(name));
            }
        }
    }

    fn save_to(&mut self, ctx: &egui::Context, path: &Path, next: Option<Next>) {
        match self.session.save_as(path) {
            Ok(()) => self.saved(ctx, next),
            Err(error) => self.trouble("The layout could not be saved", &error),
        }
    }

    fn ask_name(&mut self, wish: Wish, text: String) {
        self.dialog = Some(Dialog::Name { wish, text });
    }

    fn saved(&mut self, ctx: &egui::Context, next: Option<Next>) {
        let path = self.session.path().map(|path| path.display().to_string());
        self.said = path.map(|path| format!("Saved to {path}."));
        if let Some(next) = next {
            self.go(ctx, next);
        }
    }

    /// Goes on as a dialog was answered.
    pub(super) fn answer(&mut self, ctx: &egui::Context, dialog: &Dialog, answer: Answer) {
        match (dialog, answer) {
            (Dialog::Unsaved(next), Answer::Save) => self.save(ctx, Some(next.clone())),
            (Dialog::Unsaved(next), Answer::GoOn) => self.go(ctx, next.clone()),
            (Dialog::NotesLost { next, .. }, Answer::GoOn) => self.save_anyway(ctx, next.clone()),
            (Dialog::NotesLost { next, .. }, Answer::SaveAs) => self.save_as(ctx, next.clone()),
            (Dialog::Name { wish, text }, Answer::Named) => {
                let path = PathBuf::from(text.trim());
                match wish {
                    Wish::Open => self.open_now(&path),
                    Wish::Save(next) => self.save_to(ctx, &path, next.clone()),
                    Wish::Picture => self.lay_this_picture(&path),
                }
            }
            _ => {}
        }
    }
}

/// A name for a file, from the title of a layout.
fn file_name(title: &str) -> String {
    let plain: String = title
        .to_lowercase()
        .chars()
        .map(|letter| {
            if letter.is_alphanumeric() {
                letter
            } else {
                '-'
            }
        })
        .collect();
    let parts: Vec<&str> = plain.split('-').filter(|part| !part.is_empty()).collect();
    let name: String = parts.join("-").chars().take(60).collect();
    if name.is_empty() {
        "layout.ron".to_owned()
    } else {
        format!("{name}.ron")
    }
}
