//! Files: opening, saving and leaving unsaved work.

use crate::edit::hyphened;
use crate::session::{FileError, Saved};
use crate::window::app::App;
use crate::window::canvas::Views;
use crate::window::commands::Command;
use crate::window::dialogs::{AfterSaving, Dialog, DialogAnswer, FileUse};
use crate::window::file_dialogs::Chosen;
use crate::window::table::BottomView;
use egui::ViewportCommand;
use std::path::{Path, PathBuf};

impl App {
    /// Continues with `next`, after asking about unsaved work.
    pub(in crate::window) fn leave_for(&mut self, ctx: &egui::Context, next: AfterSaving) {
        if self.session.unsaved() {
            self.dialog = Some(Dialog::Unsaved(next));
        } else {
            self.go(ctx, next);
        }
    }

    fn go(&mut self, ctx: &egui::Context, next: AfterSaving) {
        match next {
            AfterSaving::Quit => {
                // Saved or discarded on purpose, so it must not be offered again.
                self.session.give_up();
                self.may_end = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
            }
            AfterSaving::Demo => {
                self.session.open_demo();
                self.opened();
            }
            AfterSaving::New => {
                self.session.open_new();
                self.opened();
                // An empty layout shows both drawings.
                self.views = Views::Both;
                self.shelf = true;
            }
            AfterSaving::Choose => match self.choose.open(self.session.path()) {
                Chosen::Path(path) => self.open_now(&path),
                Chosen::Nothing => self.said = Some("No file chosen.".to_owned()),
                Chosen::NoDialog => self.ask_name(FileUse::Open, String::new()),
            },
            AfterSaving::Open(path) => self.open_now(&path),
        }
    }

    pub(in crate::window) fn open_now(&mut self, path: &Path) {
        match self.session.open(path) {
            Ok(()) => self.opened(),
            Err(error) => {
                self.trouble("Cannot open this layout", &error);
            }
        }
    }

    /// Starts or ends a comparison.
    pub(super) fn compare(&mut self, command: Command) {
        match command {
            Command::KeepBeside => {
                self.session.keep_baseline();
                self.tables.shown = BottomView::Differences;
                self.said = Some(
                    "The layout as it was is at the left. Changes are marked from now on."
                        .to_owned(),
                );
            }
            Command::OpenBeside => match self.choose.open(self.session.path()) {
                Chosen::Path(path) => self.compare_with(&path),
                Chosen::Nothing => self.said = Some("No file chosen.".to_owned()),
                Chosen::NoDialog => self.ask_name(FileUse::Beside, String::new()),
            },
            _ => self.session.drop_baseline(),
        }
    }

    fn compare_with(&mut self, path: &Path) {
        match self.session.open_baseline(path) {
            Ok(()) => self.tables.shown = BottomView::Differences,
            Err(error) => self.trouble("Cannot compare with this layout", &error),
        }
    }

    pub(in crate::window) fn opened(&mut self) {
        self.tool_state = crate::editor::ToolState::default();
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

    /// Saves, after asking where comments would be lost, then continues with `next`.
    pub(super) fn save(&mut self, ctx: &egui::Context, next: Option<AfterSaving>) {
        let count = self.session.notes_lost();
        if count > 0 {
            self.dialog = Some(Dialog::NotesLost { count, next });
        } else {
            self.save_anyway(ctx, next);
        }
    }

    fn save_anyway(&mut self, ctx: &egui::Context, next: Option<AfterSaving>) {
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

    fn save_over(&mut self, ctx: &egui::Context, next: Option<AfterSaving>) {
        match self.session.save_over() {
            Ok(_) => self.saved(ctx, next),
            Err(error) => self.not_saved(&error, next),
        }
    }

    fn not_saved(&mut self, error: &FileError, next: Option<AfterSaving>) {
        let text = format!("{error}.");
        self.dialog = Some(Dialog::NotSaved { text, next });
    }

    pub(super) fn save_as(&mut self, ctx: &egui::Context, next: Option<AfterSaving>) {
        let name = file_name(&self.session.layout().title);
        match self.choose.save(&name, self.session.path()) {
            Chosen::Path(path) => self.save_to(ctx, &path, next),
            Chosen::Nothing => {
                self.said = Some("Not saved: no file chosen.".to_owned());
            }
            Chosen::NoDialog => {
                let place = self.session.path().map(|path| path.display().to_string());
                self.ask_name(FileUse::Save(next), place.unwrap_or(name));
            }
        }
    }

    fn save_to(&mut self, ctx: &egui::Context, path: &Path, next: Option<AfterSaving>) {
        match self.session.save_as(path) {
            Ok(()) => self.saved(ctx, next),
            Err(error) => self.not_saved(&error, next),
        }
    }

    pub(super) fn ask_name(&mut self, wish: FileUse, text: String) {
        self.dialog = Some(Dialog::Name { wish, text });
    }

    fn saved(&mut self, ctx: &egui::Context, next: Option<AfterSaving>) {
        let path = self.session.path().map(|path| path.display().to_string());
        let not_kept = self.session.version_not_kept();
        let not_kept =
            not_kept.map(|why| format!(" The previous version could not be kept: {why}."));
        let not_kept = not_kept.unwrap_or_default();
        self.said = path.map(|path| format!("Saved to {path}.{not_kept}"));
        if let Some(next) = next {
            self.go(ctx, next);
        }
    }

    /// Carries out the answer to a dialog.
    pub(in crate::window) fn answer(
        &mut self,
        ctx: &egui::Context,
        dialog: &Dialog,
        answer: DialogAnswer,
    ) {
        match (dialog, answer) {
            (Dialog::Unsaved(next), DialogAnswer::Save) => self.save(ctx, Some(next.clone())),
            (Dialog::Unsaved(next), DialogAnswer::GoOn) => self.go(ctx, next.clone()),
            (Dialog::Left(_), answer) => self.left_answered(answer),
            (Dialog::Changed { next, .. }, DialogAnswer::GoOn) => self.save_over(ctx, next.clone()),
            (Dialog::NotSaved { next, .. }, DialogAnswer::Save) => {
                self.save_anyway(ctx, next.clone())
            }
            (
                Dialog::Changed { next, .. } | Dialog::NotSaved { next, .. },
                DialogAnswer::SaveAs,
            ) => self.save_as(ctx, next.clone()),
            (Dialog::NotesLost { next, .. }, DialogAnswer::GoOn) => {
                self.save_anyway(ctx, next.clone())
            }
            (Dialog::NotesLost { next, .. }, DialogAnswer::SaveAs) => {
                self.save_as(ctx, next.clone())
            }
            (Dialog::Name { wish, text }, DialogAnswer::Named) => {
                let path = PathBuf::from(text.trim());
                match wish {
                    FileUse::Open => self.open_now(&path),
                    FileUse::Save(next) => self.save_to(ctx, &path, next.clone()),
                    FileUse::Beside => self.compare_with(&path),
                    FileUse::Picture => self.lay_this_picture(&path),
                    FileUse::SavePicture => self.save_picture_to(ctx, &path),
                }
            }
            _ => {}
        }
    }
}

/// A file name made from the title of a layout.
fn file_name(title: &str) -> String {
    let name = hyphened(title, 60);
    if name.is_empty() {
        "layout.ron".to_owned()
    } else {
        format!("{name}.ron")
    }
}
