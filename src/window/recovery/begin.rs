//! How the window begins: with work that was lost, else the last file as it was looked at.

use super::asks::UnsavedWork;
use super::view;
use crate::session::LeftWork;
use crate::units::span;
use crate::window::app::App;
use crate::window::dialogs::{Dialog, DialogAnswer};
use std::path::Path;

impl App {
    /// Opens the file that was named, else the last one with the view it had, and offers work that was not saved
    /// when a window ended without warning.
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
        // The demo opens instead; a file that cannot be read is told when somebody opens it.
        if let Err(error) = self.session.open(&last) {
            self.said = Some(format!("The last file could not be opened: {error}."));
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

    /// As it was answered.
    pub(in crate::window) fn left_answered(&mut self, answer: DialogAnswer) {
        match answer {
            DialogAnswer::TakeUp => {
                self.session.take_up_left();
                self.opened();
                self.said = Some("The unsaved work is back. Save it to keep it.".to_owned());
                // What is left over is offered when this is dealt with, at the next start.
                self.session.leave_left();
            }
            DialogAnswer::Throw => {
                self.session.throw_left_away();
                self.offer_left();
            }
            _ => self.session.leave_left(),
        }
    }

    /// How the file is looked at, as it was when it was the last one.
    pub(in crate::window) fn look_as_before(&mut self) {
        if let Some(kept) = self.session.kept_view() {
            view::restore(
                &kept,
                &mut self.tool_state,
                (&mut self.views, &mut self.shelf),
            );
        }
    }

    /// Keeps how the file is looked at.
    pub(in crate::window) fn keep_look(&mut self) {
        if self.session.path().is_some() {
            let text = view::text(&self.tool_state, (self.views, self.shelf));
            self.session.keep_view(&text);
        }
    }
}

/// When the last edit was made.
fn edited(left: &LeftWork) -> String {
    let date = left.edited();
    match left.edited_ago_s() {
        Some(ago_s) => format!("{} ago ({date})", span(ago_s)),
        None => format!("on {date}"),
    }
}
