//! The strip below the drawing: state, operating mode and time bar.

mod bar;
mod choices;
mod time_view;
mod words;

pub use bar::{LEAST_HEIGHT, TimeBarState, height};
pub use time_view::{TimeInputs, TimeView};

use super::action::Action;
use crate::layout::Id;
use crate::session::Session;
use egui::Ui;

/// Shows the whole strip. `looked_at`: the selected vessel.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    (watch, kept): (&TimeView, &mut TimeBarState),
    looked_at: Option<&Id>,
) -> Vec<Action> {
    let mut actions = Vec::new();
    let shown = session.shown();
    choices::show(ui, watch, &shown, &mut actions);
    choices::note(ui, watch, &shown);
    bar::show(ui, session, (watch, kept), looked_at, &mut actions);
    actions
}
