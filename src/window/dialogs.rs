//! What has to be answered before anything else goes on.

use super::recovery::{UnsavedWork, ask_changed, ask_left, ask_not_saved};
use super::theme;
use crate::draw::shape::Ink;
use crate::session::is_taken;
use egui::{Id, Modal, RichText, Ui};
use std::path::{Path, PathBuf};

/// What is to happen once unsaved work is dealt with.
#[derive(Clone, Debug, PartialEq)]
pub enum AfterSaving {
    /// The program ends.
    Quit,
    /// An empty layout is begun.
    New,
    /// The demo is opened.
    Demo,
    /// A file is chosen and opened.
    Choose,
    /// This file is opened.
    Open(PathBuf),
}

/// An open dialog.
#[derive(Clone, Debug, PartialEq)]
pub enum Dialog {
    /// Something is not saved.
    Unsaved(AfterSaving),
    /// Saving over the file drops notes that people wrote in it.
    NotesLost {
        /// Lines of notes.
        count: usize,
        /// What was to happen once it is saved.
        next: Option<AfterSaving>,
    },
    /// The system has no dialog for files: the name is typed.
    Name {
        /// What it is for.
        wish: FileUse,
        /// What is typed so far.
        text: String,
    },
    /// Work that was not saved when a window ended without warning.
    Left(UnsavedWork),
    /// Others have changed the file that is to be written over.
    Changed {
        /// The name of the file.
        name: String,
        /// What was to happen once it is saved.
        next: Option<AfterSaving>,
    },
    /// The layout could not be saved.
    NotSaved {
        /// Why, where, and what to do.
        text: String,
        /// What was to happen once it is saved.
        next: Option<AfterSaving>,
    },
    /// Something went wrong: a heading and what to do.
    Trouble {
        /// What could not be done.
        head: String,
        /// Why, where, and what to do.
        text: String,
    },
}

/// What a file is named for.
#[derive(Clone, Debug, PartialEq)]
pub enum FileUse {
    /// To be opened.
    Open,
    /// To be saved to, and what is to happen then.
    Save(Option<AfterSaving>),
    /// A picture of the site.
    Picture,
    /// To be compared with.
    Beside,
    /// What is on the screen, as a picture.
    SavePicture,
}

/// What was answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DialogAnswer {
    /// Save first.
    Save,
    /// Go on without.
    GoOn,
    /// Save under another name.
    SaveAs,
    /// Take the name that was typed.
    Named,
    /// Get back what was not saved.
    TakeUp,
    /// Throw away what was not saved.
    Throw,
    /// Leave everything as it is.
    Cancel,
}

/// Shows a dialog; the answer once there is one.
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
        AfterSaving::Quit => "They are lost if the program ends without saving.",
        _ => "They are lost if another layout is opened without saving.",
    };
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(10.0);
    let choices = [
        ("Save", DialogAnswer::Save),
        ("Do not save", DialogAnswer::GoOn),
        ("Cancel", DialogAnswer::Cancel),
    ];
    buttons(ui, &choices)
}

fn notes(ui: &mut Ui, count: usize) -> Option<DialogAnswer> {
    heading(ui, "The file holds notes");
    let lines = if count == 1 {
        "1 line".to_owned()
    } else {
        format!("{count} lines")
    };
    let words = format!(
        "{lines} of notes were written into the file by hand (behind //). Saving over it drops them. \
         Save under another name to keep the file as it is."
    );
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(10.0);
    let choices = [
        ("Save as…", DialogAnswer::SaveAs),
        ("Save and drop the notes", DialogAnswer::GoOn),
        ("Cancel", DialogAnswer::Cancel),
    ];
    buttons(ui, &choices)
}

fn name(ui: &mut Ui, wish: &FileUse, text: &mut String) -> Option<DialogAnswer> {
    let (head, verb) = match wish {
        FileUse::Open => ("Open which file?", "Open"),
        FileUse::Save(_) => ("Save to which file?", "Save"),
        FileUse::Picture => ("Which picture?", "Lay it under the plan"),
        FileUse::Beside => ("Compare with which file?", "Compare"),
        FileUse::SavePicture => ("Save to which file?", "Save"),
    };
    heading(ui, head);
    let words = "This system has no dialog for files, so type the name with its folder.";
    let label = ui.add(egui::Label::new(words).wrap());
    let field = egui::TextEdit::singleline(text).desired_width(f32::INFINITY);
    let field = ui.add(field).labelled_by(label.id);
    if !field.has_focus() && !field.lost_focus() {
        field.request_focus();
    }
    let taken =
        matches!(wish, FileUse::Save(_) | FileUse::SavePicture) && is_taken(Path::new(text.trim()));
    let verb = if taken { "Save over it" } else { verb };
    if taken {
        let problem = theme::ink(ui, Ink::Problem);
        ui.label(RichText::new("A file of this name is there already.").color(problem));
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

/// The first is the one that loses nothing: Enter takes it.
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
