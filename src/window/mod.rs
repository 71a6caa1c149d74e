//! The window, the only module that uses the GUI toolkit.
//!
//! Panels read the session and return actions; the app carries them out through the session.
//!
//! Invariant: changes layouts and files only through the session; contains no formulas.

mod action;
mod app;
mod areas;
mod bar;
mod canvas;
mod commands;
mod compare;
mod curve;
mod describe;
mod dialogs;
mod dispatch;
mod duty;
mod file_dialogs;
mod findings;
mod focus;
mod paint;
mod panel;
mod panel_sizes;
mod prompts;
mod recovery;
mod rename;
mod shelf;
mod shot;
mod survey;
mod table;
mod theme;
mod time;
mod underlay;

pub use app::App;
pub use commands::Command;
pub use file_dialogs::{Chosen, FileDialogs, FileKind};
pub use theme::install;

use crate::session::{self, Options, Session};
use std::path::Path;
use std::sync::Arc;

/// Default and least size of the window, points.
const SIZE: [f32; 2] = [1440.0, 900.0];
const LEAST: [f32; 2] = [1000.0, 620.0];

/// Opens the window on a file, else on the last file or the demo, and runs until it is closed.
///
/// # Errors
/// One sentence that says why the window could not open. A file that cannot be read is reported in the window.
pub fn open(file: Option<&Path>) -> Result<(), String> {
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_app_id("fallwright")
            .with_title("Fallwright")
            .with_inner_size(SIZE)
            .with_min_inner_size(LEAST)
            .with_drag_and_drop(true),
        ..eframe::NativeOptions::default()
    };
    let made = eframe::run_native(
        "fallwright",
        options,
        Box::new(move |creation| {
            let ctx = creation.egui_ctx.clone();
            let session = Session::without_demo(Options {
                wake: Arc::new(move || ctx.request_repaint()),
                settings: session::default_settings(),
                keep: session::default_keep(),
                ..Options::default()
            });
            install(&creation.egui_ctx);
            let mut app = App::new(session, Box::new(file_dialogs::SystemDialogs));
            app.begin(file);
            Ok(Box::new(app))
        }),
    );
    // The toolkit's message contains paths of the build machine, and does not help the user.
    made.map_err(|_| "Cannot open the window: no display, or no OpenGL.".to_owned())
}
