//! Asking for a file, with the dialog of the system.

use std::path::{Path, PathBuf};

/// Whoever can ask a person for a file; tests answer without asking.
pub trait Choose {
    /// A layout to open; none where nothing was chosen.
    fn open(&mut self, near: Option<&Path>) -> Option<PathBuf>;
    /// A place to save to; none where nothing was chosen.
    fn save(&mut self, name: &str, near: Option<&Path>) -> Option<PathBuf>;
}

/// The dialog of the system.
#[derive(Debug, Default)]
pub struct System;

impl System {
    fn dialog(near: Option<&Path>) -> rfd::FileDialog {
        let dialog = rfd::FileDialog::new().add_filter("Layouts", &["ron", "json"]);
        match near.and_then(Path::parent) {
            Some(folder) => dialog.set_directory(folder),
            None => dialog,
        }
    }
}

impl Choose for System {
    fn open(&mut self, near: Option<&Path>) -> Option<PathBuf> {
        System::dialog(near)
            .add_filter("All files", &["*"])
            .set_title("Open a layout")
            .pick_file()
    }

    fn save(&mut self, name: &str, near: Option<&Path>) -> Option<PathBuf> {
        System::dialog(near)
            .set_title("Save the layout")
            .set_file_name(name)
            .save_file()
    }
}
