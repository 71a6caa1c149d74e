//! Files: opening, saving, and leaving what is not saved.

use crate::edit::hyphened;
use crate::session::{FileError, Saved};
use crate::window::app::App;
use crate::window::canvas::Views;
use crate::window::choose::Chosen;
use crate::window::commands::Command;
use crate::window::dialogs::{Answer, Dialog, Next, Wish};
use crate::window::table::Below;
use egui::ViewportCommand;
use std::path::{Path, PathBuf};

impl App {
    /// Goes on to something else, and asks first where work is not saved.
    pub(in crate::window) fn leave_for(&mut self, ctx: &egui::Context, next: Next) {
        if self.session.unsaved() {
            self.dialog = Some(Dialog::Unsaved(next));
        } else {
            self.go(ctx, next);
        }
    }

    fn go(&mut self, ctx: &egui::Context, next: Next) {
        match next {
            Next::Quit => {
                // Saved, or given up on purpose: not to be offered again.
                self.session.give_up();
                self.may_end = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            Next::Demo => {
                self.session.open_demo();
                self.opened();
            }
            Next::New => {
                self.session.open_new();
                self.opened();
                // What is drawn from nothing is drawn in both.
                self.views = Views::Both;
                self.shelf = true;
            }
            Next::Choose => match self.choose.open(self.session.path()) {
                Chosen::Path(path) => self.open_now(&path),
                Chosen::Nothing => self.said = Some("No file was chosen.".to_owned()),
                Chosen::NoDialog => self.ask_name(Wish::Open, String::new()),
            },
            Next::Open(path) => self.open_now(&path),
        }
    }

    pub(in crate::window) fn open_now(&mut self, path: &Path) {
        match self.session.open(path) {
            Ok(()) => self.opened(),
            Err(error) => {
                self.trouble("This layout cannot be opened", &error);
            }
        }
    }

    /// What the layout is held against.
    pub(super) fn compare(&mut self, command: Command) {
        match command {
            Command::KeepBeside => {
                self.session.keep_baseline();
                self.tables.shown = Below::Differences;
                self.said = Some(
                    "Kept at the left: change the layout, and what differs is marked.".to_owned(),
                );
            }
            Command::OpenBeside => match self.choose.open(self.session.path()) {
                Chosen::Path(path) => self.compare_with(&path),
                Chosen::Nothing => self.said = Some("No file was chosen.".to_owned()),
                Chosen::NoDialog => self.ask_name(Wish::Beside, String::new()),
            },
            _ => self.session.drop_baseline(),
        }
    }

    fn compare_with(&mut self, path: &Path) {
        match self.session.open_baseline(path) {
            Ok(()) => self.tables.shown = Below::Differences,
            Err(error) => self.trouble("This layout cannot be compared with", &error),
        }
    }

    pub(in crate::window) fn opened(&mut self) {
        self.hand = crate::editor::Hand::default();
        self.survey.forget();
        self.said = None;
        self.look_as_before();
    }

    pub(super) fn trouble(&mut self, head: &str, error: &FileError) {
        self.dialog = Some(Dialog::Trouble {
            head: head.to_owned(),
            text: format!("{error}."),
        });
    }

    /// Saves, and asks where something could be lost; then goes on to `next`, if that went well.
    pub(super) fn save(&mut self, ctx: &egui::Context, next: Option<Next>) {
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
            Ok(Saved::ChangedOutside) => {
                let name = self.session.path().and_then(Path::file_name);
                let name = name.map(|name| name.to_string_lossy().into_owned());
                let name = name.unwrap_or_default();
                self.dialog = Some(Dialog::Changed { name, next });
            }
            Err(error) => self.not_saved(&error, next),
        }
    }

    fn save_over(&mut self, ctx: &egui::Context, next: Option<Next>) {
        match self.session.save_over() {
            Ok(_) => self.saved(ctx, next),
            Err(error) => self.not_saved(&error, next),
        }
    }

    fn not_saved(&mut self, error: &FileError, next: Option<Next>) {
        let text = format!("{error}.");
        self.dialog = Some(Dialog::NotSaved { text, next });
    }

    pub(super) fn save_as(&mut self, ctx: &egui::Context, next: Option<Next>) {
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
            Err(error) => self.not_saved(&error, next),
        }
    }

    pub(super) fn ask_name(&mut self, wish: Wish, text: String) {
        self.dialog = Some(Dialog::Name { wish, text });
    }

    fn saved(&mut self, ctx: &egui::Context, next: Option<Next>) {
        let path = self.session.path().map(|path| path.display().to_string());
        let not_kept = self.session.version_not_kept();
        let not_kept = not_kept.map(|why| format!(" The version before could not be kept: {why}."));
        let not_kept = not_kept.unwrap_or_default();
        self.said = path.map(|path| format!("Saved to {path}.{not_kept}"));
        if let Some(next) = next {
            self.go(ctx, next);
        }
    }

    /// Goes on as a dialog was answered.
    pub(in crate::window) fn answer(
        &mut self,
        ctx: &egui::Context,
        dialog: &Dialog,
        answer: Answer,
    ) {
        match (dialog, answer) {
            (Dialog::Unsaved(next), Answer::Save) => self.save(ctx, Some(next.clone())),
            (Dialog::Unsaved(next), Answer::GoOn) => self.go(ctx, next.clone()),
            (Dialog::Left(_), answer) => self.left_answered(answer),
            (Dialog::Changed { next, .. }, Answer::GoOn) => self.save_over(ctx, next.clone()),
            (Dialog::NotSaved { next, .. }, Answer::Save) => self.save_anyway(ctx, next.clone()),
            (Dialog::Changed { next, .. } | Dialog::NotSaved { next, .. }, Answer::SaveAs) => {
                self.save_as(ctx, next.clone())
            }
            (Dialog::NotesLost { next, .. }, Answer::GoOn) => self.save_anyway(ctx, next.clone()),
            (Dialog::NotesLost { next, .. }, Answer::SaveAs) => self.save_as(ctx, next.clone()),
            (Dialog::Name { wish, text }, Answer::Named) => {
                let path = PathBuf::from(text.trim());
                match wish {
                    Wish::Open => self.open_now(&path),
                    Wish::Save(next) => self.save_to(ctx, &path, next.clone()),
                    Wish::Beside => self.compare_with(&path),
                    Wish::Picture => self.lay_this_picture(&path),
                    Wish::SavePicture => self.save_picture_to(ctx, &path),
                }
            }
            _ => {}
        }
    }
}

/// A name for a file, from the title of a layout.
fn file_name(title: &str) -> String {
    let name = hyphened(title, 60);
    if name.is_empty() {
        "layout.ron".to_owned()
    } else {
        format!("{name}.ron")
    }
}
