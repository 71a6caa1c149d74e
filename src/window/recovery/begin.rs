//! The start of the window: with unsaved work, or with the last file and its view.

use super::asks::UnsavedWork;
use super::view;
use crate::session::LeftWork;
use crate::units::span;
use crate::window::app::App;
use crate::window::dialogs::{Dialog, DialogAnswer};
use std::path::Path;

impl App {
    /// Opens the named file, or the last one with its view, and offers unsaved work of a window that ended without
    /// warning.
    pub fn begin(&mut self, file: Option<&Path>) {
        self.session.find_left();
        match file {
            Some(file) => self.open_now(file),
            None => self.open_last(),
        }
        if self.session.path().is_none() {
            // No file could be opened.
            let said = self.said.take();
            self.session.open_demo();
            self.said = said;
        }
        self.offer_left();
    }

    fn open_last(&mut self) {
        let Some(last) = self.session.last_file() else {
            return;
        };
        // The demo opens instead, with this message in the status bar.
        if let Err(error) = self.session.open(&last) {
            self.said = Some(format!("Cannot open the last file: {error}."));
            return;
        }
        self.opened();
    }

    fn offer_left(&mut self) {
        let left = self.session.left();
        if let (Some(newest), None) = (left.first(), &self.dialog) {
            self.dialog = Some(Dialog::Left(UnsavedWork {
                title: newest.entry.layout.title.clone(),
                file: newest
                    .entry
                    .file
                    .as_ref()
                    .map(|path| path.display().to_string()),
                edited: edited(newest),
                more: left.len() - 1,
            }));
        }
    }

    /// Carries out the answer about unsaved work.
    pub(in crate::window) fn left_answered(&mut self, answer: DialogAnswer) {
        match answer {
            DialogAnswer::TakeUp => {
                self.session.take_up_left();
                self.opened();
                self.said = Some("Unsaved work restored. Save it to keep it.".to_owned());
                // Other unsaved work is offered at the next start.
                self.session.leave_left();
            }
            DialogAnswer::Throw => {
                self.session.throw_left_away();
                self.offer_left();
            }
            _ => self.session.leave_left(),
        }
    }

    /// Restores the view that belongs to the file.
    pub(in crate::window) fn look_as_before(&mut self) {
        if let Some(kept) = self.session.kept_view() {
            view::restore(
                &kept,
                &mut self.tool_state,
                (&mut self.views, &mut self.shelf),
            );
        }
    }

    /// Stores the view of the file.
    pub(in crate::window) fn keep_look(&mut self) {
        if self.session.path().is_some() {
            let text = view::text(&self.tool_state, (self.views, self.shelf));
            self.session.keep_view(&text);
        }
    }
}

/// Time of the last edit, for the user.
fn edited(left: &LeftWork) -> String {
    let date = left.edited();
    match left.edited_ago_s() {
        Some(ago_s) => format!("{} ago ({date})", span(ago_s)),
        None => date,
    }
}
