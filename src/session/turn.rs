//! Switching to another layout: what is displayed at once, and which jobs are submitted.

use super::disk::OpenFile;
use super::worker::Job;
use super::{Session, services};
use crate::edit::History;
use crate::layout::Layout;
use std::sync::Arc;

impl Session {
    /// Starts over with a layout, opened or new.
    pub(super) fn start(&mut self, layout: Layout, file: OpenFile) {
        self.layout = Arc::new(layout);
        self.file = OpenFile {
            saved: self.layout.clone(),
            ..file
        };
        self.preview = None;
        self.history = History::default();
        self.results.start_afresh();
        self.films.start_afresh();
        self.takes = services::guess(&self.layout);
        self.show();
    }

    pub(super) fn on_show(&self) -> &Arc<Layout> {
        self.preview.as_ref().unwrap_or(&self.layout)
    }

    /// The layout itself, or an equal one that is still stored, so that its results count.
    pub(super) fn known_or_new(&self, layout: Layout) -> Arc<Layout> {
        let own = [&self.layout, &self.file.saved];
        let known = own.into_iter().chain(&self.preview);
        let mut known = known.chain(self.results.layouts());
        match known.find(|one| ***one == layout) {
            Some(one) => one.clone(),
            None => Arc::new(layout),
        }
    }

    /// Displays the present layout, with levels at once, and submits the other jobs.
    pub(super) fn show(&mut self) {
        self.revision += 1;
        let (now, saved) = (&self.layout, &self.file.saved);
        self.file.unsaved = !Arc::ptr_eq(now, saved) && **now != **saved;
        let committed = self.preview.is_none();
        if committed {
            self.note();
        }
        let layout = self.on_show().clone();
        // The last displayed state is close to the new one.
        let near = self.results.running().cloned();
        let known = self.results.turn_to(&layout);
        let mut job = Job {
            layout,
            batch: self.results.batch(),
            committed,
            preview_first: false,
            evaluation: None,
        };
        match known {
            Some(known) if known.is_enough(committed) => return self.worker.forget(),
            Some(known) => {
                self.results.keep(known.clone());
                job.evaluation = Some(known.evaluation).filter(|known| known.is_whole());
            }
            None if self.takes < self.services.patience => {
                let (quick, took) = self.services.timed_preview(&job.layout, near.as_ref());
                // One frame that was slow for another reason does not disable previews.
                self.takes = took.min(self.takes * 2);
                self.results.take_quick(quick, &job.layout);
            }
            None => job.preview_first = true,
        }
        self.worker.ask(job);
    }
}
