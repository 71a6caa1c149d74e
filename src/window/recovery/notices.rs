//! Notices above the drawing while work cannot be protected or saved, each with actions.

use crate::draw::page::shape::Ink;
use crate::window::app::App;
use crate::window::commands::Command;
use crate::window::{action::Action, theme};
use egui::{RichText, Ui};
use std::path::Path;
use std::sync::Arc;

/// A notice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Notice {
    /// Another program has changed the file.
    Changed,
    /// The file is also open in another window.
    Elsewhere,
    /// Unsaved work cannot be protected.
    NotKept,
    /// Solving failed with an internal error.
    Unsolved,
}

/// An action of a notice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum NoticeAction {
    OpenAgain,
    KeepMine,
    SaveAs,
    TryAgain,
    Undo,
    Close,
}

impl NoticeAction {
    fn words(self) -> (&'static str, &'static str) {
        match self {
            NoticeAction::OpenAgain => ("Reload", "Opens the file as it is now"),
            NoticeAction::KeepMine => (
                "Keep this version",
                "Goes on with this layout; saving keeps the other version beside the file",
            ),
            NoticeAction::SaveAs => ("Save as…", "Saves under another name"),
            NoticeAction::TryAgain => ("Try again", "Tries to protect the unsaved work again"),
            NoticeAction::Undo => ("Undo", "Undoes the last step"),
            NoticeAction::Close => ("Close", "Hides this notice"),
        }
    }
}

impl Notice {
    fn ways(self) -> &'static [NoticeAction] {
        match self {
            Notice::Changed => &[NoticeAction::OpenAgain, NoticeAction::KeepMine],
            Notice::Elsewhere => &[NoticeAction::SaveAs, NoticeAction::Close],
            Notice::NotKept => &[NoticeAction::SaveAs, NoticeAction::TryAgain],
            Notice::Unsolved => &[NoticeAction::Undo, NoticeAction::Close],
        }
    }
}

impl App {
    fn notices(&self) -> Vec<(Notice, String)> {
        let session = &self.session;
        let name = name(session.path());
        let mut all = Vec::new();
        if session.changed_outside() {
            let words = format!("Another program has changed {name} since you opened it.");
            all.push((Notice::Changed, words));
        }
        let told = self.care.told_elsewhere.as_deref();
        if session.open_elsewhere() && told != session.path() {
            let words = format!(
                "{name} is also open in another window. Work in one of them, or save this one under another name."
            );
            all.push((Notice::Elsewhere, words));
        }
        if let Some(trouble) = session.keep_trouble() {
            let words = format!("Unsaved work would be lost if the program ended: {trouble}.");
            all.push((Notice::NotKept, words));
        }
        if let Some((_, words)) = self.solving_failed() {
            all.push((Notice::Unsolved, words.clone()));
        }
        all
    }

    fn solving_failed(&self) -> Option<&(Arc<crate::layout::Layout>, String)> {
        let unsolved = self.care.unsolved.as_ref();
        unsolved.filter(|(layout, _)| Arc::ptr_eq(layout, self.session.layout()))
    }

    /// Reports a failed solve, and saves a copy of the layout.
    pub(in crate::window) fn mind_solving(&mut self) {
        if self.session.solving_failed() {
            let aside = self.session.set_aside();
            let safe = match aside {
                Ok(path) => format!("A copy of the layout is in {}.", path.display()),
                Err(_) => "Save it before you go on.".to_owned(),
            };
            let words = format!(
                "An error in the program stopped the solve; some results are missing. {safe}"
            );
            self.care.unsolved = Some((self.session.layout().clone(), words));
        }
    }

    /// Shows the notices and returns the actions of the chosen button; takes no space where there are none.
    pub(in crate::window) fn show_notices(&mut self, ui: &mut Ui) -> Vec<Action> {
        let mut actions = Vec::new();
        let notices = self.notices();
        if notices.is_empty() {
            return actions;
        }
        let mut chosen = None;
        let frame = egui::Frame::new()
            .fill(ui.visuals().window_fill)
            .inner_margin(egui::Margin::symmetric(12, 6));
        egui::Panel::top("notices").frame(frame).show(ui, |ui| {
            for (notice, words) in &notices {
                chosen = line(ui, *notice, words).or(chosen);
            }
        });
        if let Some(way) = chosen {
            self.go_way(way, &mut actions);
        }
        actions
    }

    fn go_way(&mut self, (notice, way): (Notice, NoticeAction), actions: &mut Vec<Action>) {
        match (way, notice) {
            (NoticeAction::OpenAgain, _) => {
                if let Some(path) = self.session.path() {
                    actions.push(Action::OpenFile(path.to_path_buf()));
                }
            }
            (NoticeAction::KeepMine, _) => self.session.keep_mine(),
            (NoticeAction::SaveAs, _) => actions.push(Action::Do(Command::SaveAs)),
            (NoticeAction::TryAgain, _) => self.session.keep_again(),
            (NoticeAction::Undo, _) => actions.push(Action::Do(Command::Undo)),
            (NoticeAction::Close, Notice::Elsewhere) => {
                self.care.told_elsewhere = self.session.path().map(Path::to_path_buf);
            }
            (NoticeAction::Close, _) => self.care.unsolved = None,
        }
    }
}

/// Shows one notice; returns the action that was chosen.
fn line(ui: &mut Ui, notice: Notice, words: &str) -> Option<(Notice, NoticeAction)> {
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        let mark = RichText::new("!").font(theme::strong(theme::HEADING));
        ui.label(mark.color(theme::ink(ui, Ink::Warning)));
        ui.label(words);
        for way in notice.ways() {
            let (text, tip) = way.words();
            if ui.button(text).on_hover_text(tip).clicked() {
                chosen = Some((notice, *way));
            }
        }
    });
    chosen
}

/// The name of a file without its folder.
fn name(path: Option<&Path>) -> String {
    let name = path.and_then(Path::file_name);
    name.map_or_else(
        || "The file".to_owned(),
        |name| name.to_string_lossy().into_owned(),
    )
}
