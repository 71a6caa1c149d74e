//! Asks for a file with the system dialog.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// A dialog that returns faster than this never appeared.
const NEVER_SEEN: Duration = Duration::from_millis(350);

/// Result of a file dialog.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Chosen {
    /// The chosen file.
    Path(PathBuf),
    /// The dialog was cancelled.
    Nothing,
    /// The system has no file dialog.
    NoDialog,
}

/// A kind of file other than a layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A table as text.
    Table,
    /// A picture.
    Picture,
}

/// Asks the user for a file. Tests replace it with fixed answers.
pub trait FileDialogs {
    /// Asks for a layout to open.
    fn open(&mut self, near: Option<&Path>) -> Chosen;
    /// Asks where to save.
    fn save(&mut self, name: &str, near: Option<&Path>) -> Chosen;
    /// Asks where to save a picture.
    fn save_picture(&mut self, name: &str, near: Option<&Path>) -> Chosen;
    /// Asks for a file of another kind to read.
    fn of_kind(&mut self, kind: FileKind, near: Option<&Path>) -> Chosen;
}

/// The system file dialog.
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

/// Shows the dialog, and distinguishes a cancelled one from one that never appeared.
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
            .set_title("Save layout")
            .set_file_name(name);
        asked(|| dialog.save_file())
    }

    fn save_picture(&mut self, name: &str, near: Option<&Path>) -> Chosen {
        let dialog = rfd::FileDialog::new()
            .add_filter("Pictures", &["png", "svg", "pdf"])
            .set_title("Save picture")
            .set_file_name(name);
        let dialog = match near.and_then(Path::parent) {
            Some(folder) => dialog.set_directory(folder),
            None => dialog,
        };
        asked(|| dialog.save_file())
    }

    fn of_kind(&mut self, kind: FileKind, near: Option<&Path>) -> Chosen {
        let (title, name, ends): (_, _, &[&str]) = match kind {
            FileKind::Table => ("Open table", "Tables", &["csv", "tsv", "txt"]),
            FileKind::Picture => ("Open picture", "Pictures", &["png", "jpg", "jpeg"]),
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
