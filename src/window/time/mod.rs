//! The strip under the drawing: state, operating mode and time bar.

mod bar;
mod choices;
mod watch;
mod words;

pub use bar::{Kept, LEAST_HEIGHT, height};
pub use watch::{Seen, Watch};

use super::wants::Want;
use crate::layout::Id;
use crate::session::Session;
use egui::Ui;

/// The whole strip. `looked_at`: the selected vessel.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    (watch, kept): (&Watch, &mut Kept),
    looked_at: Option<&Id>,
) -> Vec<Want> {
    let mut wants = Vec::new();
    let shown = session.shown();
    choices::show(ui, watch, &shown, &mut wants);
    choices::note(ui, watch, &shown);
    bar::show(ui, session, (watch, kept), looked_at, &mut wants);
    wants
}
