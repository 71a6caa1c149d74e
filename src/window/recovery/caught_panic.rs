//! Handles internal errors while drawing: saves a copy of the layout, and asks how to go on.

use crate::draw::page::shape::Ink;
use crate::layout::Layout;
use crate::window::app::App;
use crate::window::theme;
use egui::{CentralPanel, RichText, Ui, ViewportCommand};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// A caught internal error.
pub(super) struct CaughtPanic {
    /// Text that says where the copy of the layout is.
    safe: String,
}

impl App {
    /// Runs a frame and catches an internal error in it, so that the program goes on. The tool state and open dialogs
    /// are then discarded.
    pub(in crate::window) fn guarded(&mut self, ui: &mut Ui, frame: fn(&mut App, &mut Ui)) {
        if self.care.mishap.is_some() {
            return self.after_panic(ui);
        }
        let ctx = ui.ctx().clone();
        self.lived_through(&ctx, |app| {
            if let Some(before) = &app.care.before_drawing {
                before(app.session.shown().layout);
            }
            frame(app, ui);
        });
    }

    /// Does the same for work outside a frame.
    pub(in crate::window) fn guarded_unseen(
        &mut self,
        ctx: &egui::Context,
        work: fn(&mut App, &egui::Context),
    ) {
        if self.care.mishap.is_none() {
            self.lived_through(ctx, |app| work(app, ctx));
        }
    }

    fn lived_through(&mut self, ctx: &egui::Context, work: impl FnOnce(&mut App)) {
        if catch_unwind(AssertUnwindSafe(|| work(self))).is_err() {
            self.drawing_failed();
            ctx.request_repaint();
        }
    }

    /// Whether drawing has failed, so that no dialog can be shown.
    pub(in crate::window) fn broken(&self) -> bool {
        self.care.mishap.is_some()
    }

    /// Sets a function that is called with the layout before each drawing inside the guard, for tests.
    pub fn before_drawing(&mut self, call: impl Fn(&Layout) + 'static) {
        self.care.before_drawing = Some(Box::new(call));
    }

    fn drawing_failed(&mut self) {
        self.session.drop_preview();
        let safe = match self.session.set_aside() {
            Ok(path) => format!(
                "A copy of the layout is in {}. You can open it at any time.",
                path.display()
            ),
            Err(error) => {
                format!("The layout is still open. No copy could be kept: {error}.")
            }
        };
        self.tool_state = crate::editor::ToolState::default();
        self.dialog = None;
        self.form = None;
        self.rename = None;
        self.curve = None;
        self.care.mishap = Some(CaughtPanic { safe });
    }

    /// Asks how to go on; draws nothing that could fail again.
    fn after_panic(&mut self, ui: &mut Ui) {
        let Some(mishap) = &self.care.mishap else {
            return;
        };
        let undo = self.session.undo_name().is_some();
        let (mut go_on, mut take_back, mut end) = (false, false, false);
        CentralPanel::default().show(ui, |ui| {
            ui.add_space(40.0);
            let head = "Something went wrong";
            let head = RichText::new(head).font(theme::strong(16.0));
            ui.label(head.color(theme::ink(ui, Ink::Problem)));
            ui.add_space(6.0);
            let words = "This is an error in the program, not in your work.";
            ui.add(egui::Label::new(words).wrap());
            ui.add(egui::Label::new(&mishap.safe).wrap().selectable(true));
            ui.add_space(10.0);
            ui.horizontal(|ui| {
                if undo {
                    take_back = ui.button("Undo the last step").clicked();
                }
                go_on = ui.button("Try again").clicked();
                end = ui.button("Quit").clicked();
            });
        });
        if take_back {
            self.session.undo();
        }
        if go_on || take_back {
            self.care.mishap = None;
            ui.ctx().request_repaint();
        }
        if end {
            // Unsaved work is in the journal, and will be offered at the next start.
            self.may_end = true;
            ui.ctx().send_viewport_cmd(ViewportCommand::Close);
        }
    }
}
