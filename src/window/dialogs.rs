//! Modal dialogs.

use super::recovery::{UnsavedWork, ask_changed, ask_left, ask_not_saved};
use super::theme;
use crate::draw::page::shape::Ink;
use crate::session::is_taken;
use egui::{Id, Modal, RichText, Ui};
use std::path::{Path, PathBuf};

/// One sentence about the program.
const ABOUT: &str = "Fallwright plans gravity-flow water systems: from vessels at set heights, pipes and a pump, it \
    computes levels, flows, spills and the duty of the pump.";
/// The limits of its results.
pub(super) const CAUTION: &str = "All results are estimates for planning. Local code and licensed practice decide, above all for \
    drinking water, electricity near water and raised vessels.";

/// What to do after unsaved work is dealt with.
#[derive(Clone, Debug, PartialEq)]
pub enum AfterSaving {
    /// Quit.
    Quit,
    /// Start an empty layout.
    New,
    /// Open the demo.
    Demo,
    /// Choose a file and open it.
    Choose,
    /// Open this file.
    Open(PathBuf),
}

/// An open dialog.
#[derive(Clone, Debug, PartialEq)]
pub enum Dialog {
    /// There is unsaved work.
    Unsaved(AfterSaving),
    /// Saving would drop the comments in the file.
    NotesLost {
        /// Number of lines with comments.
        count: usize,
        /// What to do after saving.
        next: Option<AfterSaving>,
    },
    /// Asks for a path, where the system has no file dialog.
    Name {
        /// Purpose of the path.
        wish: FileUse,
        /// The text typed so far.
        text: String,
    },
    /// Unsaved work from a window that ended without warning.
    Left(UnsavedWork),
    /// Another program has changed the file to be overwritten.
    Changed {
        /// The name of the file.
        name: String,
        /// What to do after saving.
        next: Option<AfterSaving>,
    },
    /// The layout could not be saved.
    NotSaved {
        /// Why, where, and what to do.
        text: String,
        /// What to do after saving.
        next: Option<AfterSaving>,
    },
    /// What the program is, and its version.
    About,
    /// An error: a heading and what to do.
    Trouble {
        /// What could not be done.
        head: String,
        /// Why, where, and what to do.
        text: String,
    },
}

/// Purpose of a path.
#[derive(Clone, Debug, PartialEq)]
pub enum FileUse {
    /// A file to open.
    Open,
    /// A file to save to, and what to do then.
    Save(Option<AfterSaving>),
    /// A site picture.
    Picture,
    /// A file to compare with.
    Beside,
    /// A picture of the screen to save.
    SavePicture,
}

/// The answer to a dialog.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DialogAnswer {
    /// Save first.
    Save,
    /// Go on without saving.
    GoOn,
    /// Save under another name.
    SaveAs,
    /// Use the typed path.
    Named,
    /// Restore unsaved work.
    TakeUp,
    /// Discard unsaved work.
    Throw,
    /// Change nothing.
    Cancel,
}

/// Shows a dialog; returns the answer once there is one.
pub fn show(ctx: &egui::Context, dialog: &mut Dialog, title: &str) -> Option<DialogAnswer> {
    let shown = Modal::new(Id::unique("dialog"))
        .frame(theme::dialog(ctx))
        .show(ctx, |ui| {
            ui.set_width(420.0);
            match dialog {
                Dialog::Unsaved(next) => unsaved(ui, next, title),
                Dialog::NotesLost { count, .. } => notes(ui, *count),
                Dialog::Name { wish, text } => name(ui, wish, text),
                Dialog::Left(left) => ask_left(ui, left),
                Dialog::Changed { name, .. } => ask_changed(ui, name),
                Dialog::NotSaved { text, .. } => ask_not_saved(ui, text),
                Dialog::About => about(ui),
                Dialog::Trouble { head, text } => trouble(ui, head, text),
            }
        });
    if shown.should_close() {
        return shown.inner.or(Some(DialogAnswer::Cancel));
    }
    shown.inner
}

pub(super) fn heading(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(RichText::new(words).font(theme::strong(16.0))).wrap());
    ui.add_space(4.0);
}

fn unsaved(ui: &mut Ui, next: &AfterSaving, title: &str) -> Option<DialogAnswer> {
    heading(ui, &format!("Save the changes to {title}?"));
    let words = match next {
        AfterSaving::Quit => "They are lost if you quit without saving.",
        _ => "They are lost if you open another layout without saving.",
    };
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(10.0);
    let choices = [
        ("Save", DialogAnswer::Save),
        ("Don't save", DialogAnswer::GoOn),
        ("Cancel", DialogAnswer::Cancel),
    ];
    buttons(ui, &choices)
}

fn notes(ui: &mut Ui, count: usize) -> Option<DialogAnswer> {
    heading(ui, "The file contains comments");
    let lines = if count == 1 {
        "1 line".to_owned()
    } else {
        format!("{count} lines")
    };
    let words = format!(
        "Someone wrote {lines} of comments (after //) into the file. Saving drops them. \
         Save under another name to keep the file unchanged."
    );
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(10.0);
    let choices = [
        ("Save as…", DialogAnswer::SaveAs),
        ("Save without comments", DialogAnswer::GoOn),
        ("Cancel", DialogAnswer::Cancel),
    ];
    buttons(ui, &choices)
}

fn name(ui: &mut Ui, wish: &FileUse, text: &mut String) -> Option<DialogAnswer> {
    let (head, verb) = match wish {
        FileUse::Open => ("Open file", "Open"),
        FileUse::Save(_) => ("Save to file", "Save"),
        FileUse::Picture => ("Add site picture", "Add picture"),
        FileUse::Beside => ("Compare with file", "Compare"),
        FileUse::SavePicture => ("Save to file", "Save"),
    };
    heading(ui, head);
    let words = "This system has no file dialog: type the file path.";
    let label = ui.add(egui::Label::new(words).wrap());
    let field = egui::TextEdit::singleline(text).desired_width(f32::INFINITY);
    let field = ui.add(field).labelled_by(label.id);
    if !field.has_focus() && !field.lost_focus() {
        field.request_focus();
    }
    let taken =
        matches!(wish, FileUse::Save(_) | FileUse::SavePicture) && is_taken(Path::new(text.trim()));
    let verb = if taken { "Overwrite" } else { verb };
    if taken {
        let problem = theme::ink(ui, Ink::Problem);
        ui.label(RichText::new("A file of this name already exists.").color(problem));
    }
    ui.add_space(10.0);
    let answer = buttons(
        ui,
        &[
            (verb, DialogAnswer::Named),
            ("Cancel", DialogAnswer::Cancel),
        ],
    );
    answer.filter(|answer| *answer == DialogAnswer::Cancel || !text.trim().is_empty())
}

fn trouble(ui: &mut Ui, head: &str, text: &str) -> Option<DialogAnswer> {
    let problem = theme::ink(ui, Ink::Problem);
    let head = RichText::new(head).font(theme::strong(16.0)).color(problem);
    ui.add(egui::Label::new(head).wrap());
    ui.add_space(4.0);
    ui.add(egui::Label::new(text).wrap().selectable(true));
    ui.add_space(10.0);
    buttons(ui, &[("Close", DialogAnswer::Cancel)])
}

fn about(ui: &mut Ui) -> Option<DialogAnswer> {
    heading(ui, "About Fallwright");
    let version = RichText::new(concat!("Version ", env!("CARGO_PKG_VERSION")));
    ui.label(version.color(theme::ink(ui, Ink::SoftText)));
    ui.add_space(6.0);
    ui.add(egui::Label::new(ABOUT).wrap());
    ui.add_space(6.0);
    ui.add(egui::Label::new(CAUTION).wrap());
    ui.add_space(10.0);
    buttons(ui, &[("Close", DialogAnswer::Cancel)])
}

/// Shows the buttons. Enter presses the first one, so it must be the safe one.
pub(super) fn buttons(ui: &mut Ui, choices: &[(&str, DialogAnswer)]) -> Option<DialogAnswer> {
    let mut answer = None;
    ui.horizontal(|ui| {
        for (index, (words, meant)) in choices.iter().enumerate() {
            let text = if index == 0 {
                RichText::new(*words).font(theme::strong(theme::BODY))
            } else {
                RichText::new(*words)
            };
            if ui.button(text).clicked() {
                answer = Some(*meant);
            }
        }
    });
    let entered = ui.input(|input| input.key_pressed(egui::Key::Enter));
    answer.or(entered
        .then(|| choices.first().map(|first| first.1))
        .flatten())
}
