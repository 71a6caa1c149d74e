//! Commands on the selected parts.

use crate::draw::section::Pick;
use crate::edit::{self, Alignment, Edit, EditError, Lock, Shift, propose};
use crate::editor;
use crate::layout::{Id, Layout};
use crate::session;
use crate::window::app::App;
use crate::window::commands::Command;
use crate::window::prompts::Prompt;
use egui::ViewportCommand;

impl App {
    pub(super) fn on_parts(&mut self, ctx: &egui::Context, command: Command) {
        let layout = self.session.layout().clone();
        let parts = self.tool_state.parts();
        match command {
            Command::Copy => self.copy(ctx, &parts),
            Command::Cut => {
                self.copy(ctx, &parts);
                self.made(edit::remove(&layout, &parts));
            }
            Command::Paste => ctx.send_viewport_cmd(ViewportCommand::RequestPaste),
            Command::Remove => {
                self.made(edit::remove(&layout, &parts));
            }
            Command::Duplicate => {
                let picked = edit::excerpt(&layout, &parts);
                let by = edit::clear_of(&layout, &picked, self.copy_offset(&parts, 1.0), 1);
                let made = edit::duplicate(&layout, &parts, by);
                self.laid(made);
            }
            Command::Row => {
                let far = self.copy_offset(&parts, 1.0);
                self.form = Some(Prompt::row(far, layout.units));
            }
            Command::Blocks => self.form = Some(Prompt::blocks(layout.units)),
            Command::Rename => self.rename = parts.last().map(|id| (id.clone(), None)),
            Command::Lock => {
                self.made(edit::lock(&layout, &parts, Lock::Built));
            }
            Command::Unlock => {
                self.made(edit::lock(&layout, &parts, Lock::Open));
            }
            Command::TurnLeft => {
                self.made(edit::turn(&layout, &parts, 90.0));
            }
            Command::TurnRight => {
                self.made(edit::turn(&layout, &parts, -90.0));
            }
            Command::LineUp => self.set_in_line(Alignment::UpThePage),
            Command::LineAcross => self.set_in_line(Alignment::AcrossThePage),
            Command::FloorsAlike => self.set_in_line(Alignment::Floors),
            Command::RimsAlike => self.set_in_line(Alignment::Rims),
            Command::Join => self.join(),
            Command::Feed => self.feed(),
            Command::Unbend => {
                if let Some(Pick::Corner { run, index }) = self.tool_state.last().cloned() {
                    self.made(propose::unbend(&layout, &run, index));
                }
            }
            Command::Add(preset) => {
                let made = editor::free_position(&layout, preset);
                self.laid(made.map(|(edit, id)| (edit, vec![id])));
            }
            _ => {}
        }
    }

    fn laid(&mut self, made: Result<(Edit, Vec<Id>), EditError>) {
        match made {
            Ok((edit, ids)) => self.make_and(edit, &ids),
            Err(refused) => {
                self.refused(Err(refused));
            }
        }
    }

    /// Vessels, joints and fixed levels in the selection, in the order of selection.
    fn ends(&self) -> Vec<Id> {
        let layout = self.session.layout();
        let mut parts = self.tool_state.parts();
        parts.retain(|id| layout.place_of(id).is_some());
        parts
    }

    fn set_in_line(&mut self, line: Alignment) {
        let edit = edit::align(self.session.layout(), &self.ends(), line);
        self.made(edit);
    }

    fn join(&mut self) {
        let ends = self.ends();
        if let [from, to] = ends.as_slice() {
            match propose::run(self.session.layout(), from, to, &[]) {
                Ok(made) => self.make_and(made.edit, &[made.run]),
                Err(refused) => {
                    self.refused(Err(refused));
                }
            }
        }
    }

    fn feed(&mut self) {
        let ends = self.ends();
        if let [from, to @ ..] = ends.as_slice() {
            let made = propose::manifold(self.session.layout(), from, to);
            self.laid(made);
        }
    }

    /// Offset of a copy from its original: the width of the widest vessel and `gaps` gaps of 0.3 m, in the plan, and
    /// also in the section where vessels have been positioned by hand.
    fn copy_offset(&self, parts: &[Id], gaps: f64) -> Shift {
        self.copy_offset_of(self.session.layout(), parts, gaps)
    }

    /// As [`App::copy_offset`], for parts of another layout.
    fn copy_offset_of(&self, of: &Layout, parts: &[Id], gaps: f64) -> Shift {
        let layout = self.session.layout();
        let wide = parts.iter().filter_map(|id| of.vessel(id));
        let wide = wide.map(|vessel| vessel.shape.footprint_m().0);
        let step_m = ((wide.fold(0.3, f64::max) + 0.3 * gaps) * 20.0).ceil() / 20.0;
        let by_hand = layout.vessels.iter().any(|part| part.place.along_m != 0.0);
        Shift {
            x_m: step_m,
            along_m: if by_hand { step_m.min(3.5) } else { 0.0 },
            ..Shift::default()
        }
    }

    pub(super) fn row(&mut self, count: usize, step: Shift) {
        let made = edit::row(self.session.layout(), &self.tool_state.parts(), count, step);
        self.laid(made);
    }

    fn copy(&mut self, ctx: &egui::Context, parts: &[Id]) {
        match session::text_of_parts(self.session.layout(), parts) {
            Ok(text) => {
                ctx.copy_text(text.clone());
                self.copied = Some(text);
                self.said = Some(match parts.len() {
                    1 => "Copied 1 part.".to_owned(),
                    more => format!("Copied {more} parts."),
                });
            }
            Err(error) => self.said = Some(format!("{error}.")),
        }
    }

    pub(super) fn paste(&mut self, text: &str) {
        match session::parts_in_text(text) {
            Ok(picked) => {
                // In another layout the original position is free; in the same one the copy goes beside the original.
                let ids: Vec<Id> = picked.vessels.iter().map(|part| part.id.clone()).collect();
                let step = self.copy_offset_of(&picked, &ids, 1.0);
                let by = edit::clear_of(self.session.layout(), &picked, step, 0);
                let made = edit::paste(self.session.layout(), &picked, by);
                self.laid(made);
            }
            Err(_) => {
                let words = "The clipboard holds no parts: select some and copy them first.";
                self.said = Some(words.to_owned());
            }
        }
    }
}
