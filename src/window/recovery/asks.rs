//! Questions asked where work could be lost.

use crate::window::dialogs::{DialogAnswer, buttons, heading};
use egui::Ui;

fn words(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(8.0);
}

/// Unsaved work of an earlier window, for the dialog.
#[derive(Clone, Debug, PartialEq)]
pub struct UnsavedWork {
    /// The title of the layout.
    pub title: String,
    /// Its file, if any.
    pub file: Option<String>,
    /// Time of the last edit.
    pub edited: String,
    /// Number of further entries.
    pub more: usize,
}

/// Asks whether to restore unsaved work.
pub fn ask_left(ui: &mut Ui, left: &UnsavedWork) -> Option<DialogAnswer> {
    heading(ui, &format!("Restore unsaved work on {}?", left.title));
    let file = match &left.file {
        Some(file) => format!("It belongs to {file}, which does not change until you save."),
        None => "It has never been saved to a file.".to_owned(),
    };
    let edited = &left.edited;
    words(
        ui,
        &format!("The program ended before it was saved. Last edit: {edited}. {file}"),
    );
    match left.more {
        0 => {}
        1 => words(
            ui,
            "There is one more unsaved layout; you will be asked about it next.",
        ),
        many => words(
            ui,
            &format!("There are {many} more unsaved layouts; you will be asked about them next."),
        ),
    }
    let choices = [
        ("Restore", DialogAnswer::TakeUp),
        ("Ask next time", DialogAnswer::Cancel),
        ("Discard", DialogAnswer::Throw),
    ];
    buttons(ui, &choices)
}

/// Asks what to do where another program has changed the file.
pub fn ask_changed(ui: &mut Ui, name: &str) -> Option<DialogAnswer> {
    heading(ui, "Another program has changed the file");
    words(
        ui,
        &format!(
            "{name} is no longer the version that you opened or saved. Save under another name to keep both. \
             Overwriting keeps the other version as {name}~ in the same folder."
        ),
    );
    let choices = [
        ("Save as…", DialogAnswer::SaveAs),
        ("Overwrite", DialogAnswer::GoOn),
        ("Cancel", DialogAnswer::Cancel),
    ];
    buttons(ui, &choices)
}

/// Asks what to do where the layout could not be saved.
pub fn ask_not_saved(ui: &mut Ui, why: &str) -> Option<DialogAnswer> {
    heading(ui, "Cannot save the layout");
    ui.add(egui::Label::new(why).wrap().selectable(true));
    ui.add_space(8.0);
    words(ui, "Nothing is lost: the layout is still open.");
    let choices = [
        ("Save as…", DialogAnswer::SaveAs),
        ("Try again", DialogAnswer::Save),
        ("Close", DialogAnswer::Cancel),
    ];
    buttons(ui, &choices)
}
