//! What is asked where something could be lost.

use crate::window::dialogs::{DialogAnswer, buttons, heading};
use egui::Ui;

fn words(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(8.0);
}

/// Work that a window left behind.
#[derive(Clone, Debug, PartialEq)]
pub struct UnsavedWork {
    /// The title of the layout.
    pub title: String,
    /// Its file, where it has one.
    pub file: Option<String>,
    /// When the last edit was made.
    pub edited: String,
    /// How much more there is.
    pub more: usize,
}

/// Whether work that a window left behind is wanted.
pub fn ask_left(ui: &mut Ui, left: &UnsavedWork) -> Option<DialogAnswer> {
    heading(ui, &format!("Get back the unsaved work on {}?", left.title));
    let file = match &left.file {
        Some(file) => format!("It belongs to {file}, which stays as it is until you save."),
        None => "It was never saved to a file.".to_owned(),
    };
    let edited = &left.edited;
    words(
        ui,
        &format!("The program ended before it was saved. The last edit was made {edited}. {file}"),
    );
    match left.more {
        0 => {}
        1 => words(ui, "One more layout was not saved. It is offered next."),
        many => words(
            ui,
            &format!("{many} more layouts were not saved. They are offered next."),
        ),
    }
    let choices = [
        ("Get it back", DialogAnswer::TakeUp),
        ("Ask again at the next start", DialogAnswer::Cancel),
        ("Throw it away", DialogAnswer::Throw),
    ];
    buttons(ui, &choices)
}

/// What to do where others have changed the file.
pub fn ask_changed(ui: &mut Ui, name: &str) -> Option<DialogAnswer> {
    heading(ui, "The file was changed by another program");
    words(
        ui,
        &format!(
            "{name} is no longer what was opened or saved here. Save under another name to keep both. \
             Saving over it keeps the other version beside it as {name}~."
        ),
    );
    let choices = [
        ("Save as…", DialogAnswer::SaveAs),
        ("Save over it", DialogAnswer::GoOn),
        ("Cancel", DialogAnswer::Cancel),
    ];
    buttons(ui, &choices)
}

/// What to do where the layout could not be saved.
pub fn ask_not_saved(ui: &mut Ui, why: &str) -> Option<DialogAnswer> {
    heading(ui, "The layout could not be saved");
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
