//! Asking for a file, with the dialog of the system.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Nobody turns a dialog down this fast: it never came up.
const NEVER_SEEN: Duration = Duration::from_millis(350);

/// What came of asking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Chosen {
    /// This file.
    Path(PathBuf),
    /// None: the dialog was left.
    Nothing,
    /// The system has no dialog to ask with.
    NoDialog,
}

/// A kind of file that is no layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A table: text.
    Table,
    /// A picture.
    Picture,
}

/// Whoever can ask a person for a file; tests answer without asking.
pub trait FileDialogs {
    /// A layout to open.
    fn open(&mut self, near: Option<&Path>) -> Chosen;
    /// A place to save to.
    fn save(&mut self, name: &str, near: Option<&Path>) -> Chosen;
    /// A place to save a picture to.
    fn save_picture(&mut self, name: &str, near: Option<&Path>) -> Chosen;
    /// A file of another kind, to be read.
    fn of_kind(&mut self, kind: FileKind, near: Option<&Path>) -> Chosen;
}

/// The dialog of the system.
#[derive(Debug, Default)]
pub struct SystemDialogs;

impl SystemDialogs {
    fn dialog(near: Option<&Path>) -> rfd::FileDialog {
        let dialog = rfd::FileDialog::new().add_filter("Layouts", &["ron", "json"]);
        match near.and_then(Path::parent) {
            Some(folder) => dialog.set_directory(folder),
            None => dialog,
        }
    }
}

/// Asks, and tells a dialog that was left from one that never came up.
fn asked(ask: impl FnOnce() -> Option<PathBuf>) -> Chosen {
    let start = Instant::now();
    match ask() {
        Some(path) => Chosen::Path(path),
        None if start.elapsed() < NEVER_SEEN => Chosen::NoDialog,
        None => Chosen::Nothing,
    }
}

impl FileDialogs for SystemDialogs {
    fn open(&mut self, near: Option<&Path>) -> Chosen {
        let dialog = SystemDialogs::dialog(near)
            .add_filter("All files", &["*"])
            .set_title("Open layout");
        asked(|| dialog.pick_file())
    }

    fn save(&mut self, name: &str, near: Option<&Path>) -> Chosen {
        let dialog = SystemDialogs::dialog(near)
            .set_title("Save the layout")
            .set_file_name(name);
        asked(|| dialog.save_file())
    }

    fn save_picture(&mut self, name: &str, near: Option<&Path>) -> Chosen {
        let dialog = rfd::FileDialog::new()
            .add_filter("Pictures", &["png", "svg", "pdf"])
            .set_title("Save the picture")
            .set_file_name(name);
        let dialog = match near.and_then(Path::parent) {
            Some(folder) => dialog.set_directory(folder),
            None => dialog,
        };
        asked(|| dialog.save_file())
    }

    fn of_kind(&mut self, kind: FileKind, near: Option<&Path>) -> Chosen {
        let (title, name, ends): (_, _, &[&str]) = match kind {
            FileKind::Table => ("Open a table", "Tables", &["csv", "tsv", "txt"]),
            FileKind::Picture => ("Open a picture", "Pictures", &["png", "jpg", "jpeg"]),
        };
        let dialog = rfd::FileDialog::new().add_filter(name, ends);
        let dialog = dialog.add_filter("All files", &["*"]).set_title(title);
        let dialog = match near.and_then(Path::parent) {
            Some(folder) => dialog.set_directory(folder),
            None => dialog,
        };
        asked(|| dialog.pick_file())
    }
}
