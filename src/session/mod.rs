//! The open layout: its file, its history, and what is known of it.
//!
//! A change is shown with its levels in the same call, by a quick preview; the whole evaluation and the
//! cures follow from a thread of the session's own, and [`Session::poll`] takes them in.
//!
//! Work that is not saved is kept by [`journal`] and offered again by [`resume`], so that nothing is lost.
//!
//! Invariant: knows no window, and no clock but a stopwatch and the time at which work was kept; a layout is
//! changed by edits alone, and a panic while solving ends as “could not be solved”.

mod baseline;
mod demo;
mod disk;
mod file_on_disk;
mod job_slot;
mod journal;
mod partial_files;
mod parts;
mod picture;
mod query;
mod recent;
mod results;
mod resume;
mod room;
mod series;
mod services;
mod shown;
mod turn;
mod watcher;
mod worker;

pub use baseline::Baseline;
pub use demo::{DEMO, demo};
pub use disk::{Saved, is_taken, save_picture};
pub use journal::{Entry, LeftWork, utc};
pub use partial_files::clear_parts_of;
pub use parts::{parts_in_text, text_of_parts};
pub use picture::{MOST_SIDE, Site, SitePicture};
pub use recent::{MOST_RECENT, default_settings};
pub use resume::default_keep;
pub use services::Services;
pub use shown::{Freshness, Shown};

/// Why a file could not be opened or saved, and the door to the disk.
pub use crate::file::{Disk, FileError};
/// Files that are no layouts: tables and pictures, read for whoever may not open files.
pub use crate::file::{Raster, read_picture, read_text};

pub use crate::advise::{Band, Duty, Guess};
use crate::edit::{Edit, EditError, History};
pub use crate::evaluate::SystemCurve;
use crate::finding::Sentence;
use crate::layout::{Id, Layout, RunEnd};
use disk::OpenFile;
use journal::Journal;
use picture::Pictures;
use query::Query;
use recent::Recent;
use results::Results;
use series::SeriesQuery;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;
use watcher::Watcher;
use worker::EvaluationQueue;

/// What a session is given.
#[derive(Clone)]
pub struct Options {
    /// Called from another thread whenever [`Session::poll`] may have something to take in.
    pub wake: Arc<dyn Fn() + Send + Sync>,
    /// The file in which recent files are kept, one path a line; none: they are forgotten at the end.
    pub settings: Option<PathBuf>,
    /// The folder for work that is not saved, and for how the last file was looked at; none: nothing is kept.
    pub keep: Option<PathBuf>,
    /// How files are written.
    pub disk: Disk,
}

/// Nobody to wake, nothing kept.
impl Default for Options {
    fn default() -> Self {
        Options {
            wake: Arc::new(|| {}),
            settings: None,
            keep: None,
            disk: Disk::default(),
        }
    }
}

/// The open layout with all that belongs to it. Dropping it waits for nothing.
pub struct Session {
    services: Services,
    worker: EvaluationQueue,
    bands: Query<(Id, RunEnd), Band>,
    guesses: Query<Id, Guess>,
    systems: Query<Id, SystemCurve>,
    films: SeriesQuery,
    recent: Recent,
    file: OpenFile,
    history: History,
    /// As committed.
    layout: Arc<Layout>,
    preview: Option<Arc<Layout>>,
    results: Results,
    revision: u64,
    pictures: Pictures,
    other: Option<baseline::BaselineSlot>,
    journal: Journal,
    /// Work of windows that ended without warning.
    left: Vec<LeftWork>,
    disk: Disk,
    /// Wakes the session where somebody else writes the open file.
    watcher: Watcher,
    /// Failures while solving that were told of.
    failures_reported: usize,
    wake: Arc<dyn Fn() + Send + Sync>,
    /// How long a preview of this layout takes, as far as is known.
    takes: Duration,
}

impl Session {
    /// Opens the demo and starts to solve it.
    pub fn new(options: Options) -> Session {
        Session::with_services(options, Services::default())
    }

    /// As [`Session::new`], solving by another engine than the house's own: for tests.
    pub fn with_services(options: Options, services: Services) -> Session {
        let mut session = Session::empty(options, services);
        session.open_demo();
        session
    }

    /// A session with an empty layout, for whoever opens a file at once: the demo is not solved in vain.
    pub fn without_demo(options: Options) -> Session {
        Session::empty(options, Services::default())
    }

    fn empty(options: Options, services: Services) -> Session {
        let nothing = Arc::new(Layout::default());
        Session {
            worker: EvaluationQueue::new(services.clone(), options.wake.clone()),
            bands: services.bands(options.wake.clone()),
            guesses: services.guesses(options.wake.clone()),
            systems: services.systems(options.wake.clone()),
            films: SeriesQuery::new(services.series(options.wake.clone())),
            pictures: Pictures::default(),
            other: None,
            journal: Journal::of(options.keep, options.disk.clone(), options.wake.clone()),
            left: Vec::new(),
            disk: options.disk,
            watcher: Watcher::new(options.wake.clone()),
            failures_reported: 0,
            wake: options.wake,
            services,
            recent: Recent::of(options.settings),
            file: OpenFile::default(),
            history: History::default(),
            layout: nothing,
            preview: None,
            results: Results::default(),
            revision: 0,
            takes: Duration::ZERO,
        }
    }

    /// The layout as committed; while a preview is shown this is still the one before it.
    pub fn layout(&self) -> &Arc<Layout> {
        &self.layout
    }

    /// Makes an edit of the committed layout for good, as one step that can be undone. Ends any preview,
    /// even where it is refused; an edit that changes nothing makes no step.
    ///
    /// # Errors
    /// As [`Edit::apply`] and [`Edit::spares_what_is_built`]; the committed layout stays.
    pub fn commit(&mut self, edit: Edit) -> Result<(), EditError> {
        let spared = edit.spares_what_is_built();
        let outcome = spared.and_then(|()| self.history.commit(&self.layout, edit));
        let outcome = outcome.map(|layout| self.known_or_new(layout));
        match outcome {
            Ok(layout) if !Arc::ptr_eq(&layout, &self.layout) => {
                self.layout = layout;
                self.preview = None;
                self.show();
                Ok(())
            }
            unchanged => {
                self.drop_preview();
                unchanged.map(|_| ())
            }
        }
    }

    /// Shows what an edit of the committed layout would come to, in place of any earlier preview; nothing is
    /// committed.
    ///
    /// # Errors
    /// As [`Edit::apply`] and [`Edit::spares_what_is_built`]; an earlier preview stays.
    pub fn preview(&mut self, edit: &Edit) -> Result<(), EditError> {
        edit.spares_what_is_built()?;
        let outcome = self.known_or_new(edit.apply(&self.layout)?);
        let same = Arc::ptr_eq(&outcome, self.on_show());
        self.preview = Some(outcome);
        if !same {
            self.show();
        }
        Ok(())
    }

    /// Shows the committed layout again.
    pub fn drop_preview(&mut self) {
        if self.preview.take().is_some() {
            self.show();
        }
    }

    /// A preview is shown.
    pub fn previewing(&self) -> bool {
        self.preview.is_some()
    }

    /// Takes the last edit back; a preview is dropped first. Where there is none to take back, nothing more
    /// is done.
    pub fn undo(&mut self) {
        self.drop_preview();
        if let Ok(Some(layout)) = self.history.undo(&self.layout) {
            self.layout = self.known_or_new(layout);
            self.show();
        }
    }

    /// Makes the edit again that was taken back last; otherwise as [`Session::undo`].
    pub fn redo(&mut self) {
        self.drop_preview();
        if let Ok(Some(layout)) = self.history.redo(&self.layout) {
            self.layout = self.known_or_new(layout);
            self.show();
        }
    }

    /// What [`Session::undo`] would take back. Part names in it are those of the committed layout; read with
    /// its ids where the part is gone.
    pub fn undo_name(&self) -> Option<&Sentence> {
        self.history.undo_name()
    }

    /// What [`Session::redo`] would make again; the part that it adds is not there yet.
    pub fn redo_name(&self) -> Option<&Sentence> {
        self.history.redo_name()
    }

    /// What is to be shown: the preview where there is one, else the committed layout, with what is known of it.
    pub fn shown(&self) -> Shown<'_> {
        self.results.shown(self.on_show(), self.revision)
    }

    /// Takes in what was solved meanwhile; true where anything that is shown changed. Call it once a frame.
    pub fn poll(&mut self) -> bool {
        let mut changed = false;
        for results in self.worker.results() {
            if results.batch == self.results.batch() {
                self.takes = results.preview_took().unwrap_or(self.takes);
                let on_show = self.preview.as_ref().unwrap_or(&self.layout);
                changed |= self.results.take_in(results, on_show);
            }
        }
        changed |= self.bands.poll() | self.guesses.poll() | self.systems.poll();
        changed |= self.films.poll(&self.layout);
        changed |= self.other.as_mut().is_some_and(|other| other.answer.poll());
        changed |= self.poll_picture();
        changed |= self.journal.poll() | self.poll_outside();
        if changed {
            self.revision += 1;
        }
        changed
    }

    /// Waits until everything is solved, cures too, and takes it in.
    pub fn settle(&mut self) {
        self.worker.wait();
        self.bands.wait();
        self.guesses.wait();
        if let Some(other) = &self.other {
            other.answer.wait();
        }
        self.systems.wait();
        self.films.wait();
        self.journal.wait();
        self.poll();
        self.pictures.wait();
    }

    /// Says which crest is looked at, so that its set-height band is searched for; none: no longer any.
    /// Cheap where nothing changed: call it once a frame.
    pub fn look_at(&mut self, crest: Option<(&Id, RunEnd)>) {
        match crest {
            Some((run, end)) => self.bands.ask(&self.layout, (run.clone(), end)),
            None => self.bands.forget(),
        }
    }

    /// How high the crest that is looked at may be set in the committed layout, once that is known.
    ///
    /// It does not depend on where the crest is, so it holds while that is dragged.
    pub fn band(&self) -> Option<&Band> {
        self.bands.found(&self.layout)
    }

    /// Says which pump is looked at, so that its duty at both edges of a guessed curve is solved for what is shown;
    /// none: no longer any. Cheap where nothing changed or its curve is given: call it once a frame.
    pub fn look_at_guess(&mut self, pump: Option<&Id>) {
        let shown = self.on_show().clone();
        let guessed = |id: &&Id| {
            let mut pumps = shown.runs.iter().filter_map(|run| run.pump.as_ref());
            pumps.any(|pump| pump.id == **id && pump.curve.is_guess())
        };
        match pump.filter(guessed) {
            Some(pump) => self.guesses.ask(&shown, pump.clone()),
            None => self.guesses.forget(),
        }
    }

    /// The duty of the pump that is looked at, at both edges of its guessed curve, once that is known.
    pub fn guess(&self) -> Option<&Guess> {
        self.guesses.found(self.on_show())
    }

    /// Says of which pump the system curve is looked at, so that it is solved for what is shown; none: no longer
    /// any. Cheap where nothing changed: call it once a frame.
    pub fn look_at_system(&mut self, pump: Option<&Id>) {
        let shown = self.on_show().clone();
        match pump {
            Some(pump) => self.systems.ask(&shown, pump.clone()),
            None => self.systems.forget(),
        }
    }

    /// The system curve of the pump that is looked at, once it is known: of what is shown, or as it was last
    /// found of a layout before.
    pub fn system(&self) -> Option<(&SystemCurve, Freshness)> {
        let found = self.systems.found(self.on_show());
        let now = found.map(|found| (found, Freshness::Preview));
        now.or_else(|| Some((self.systems.last()?, Freshness::Stale)))
    }

    /// Something is still being solved or searched for.
    pub fn busy(&self) -> bool {
        let comparing = || self.other.as_ref().is_some_and(|other| other.answer.busy());
        self.worker.busy()
            || self.bands.busy()
            || self.guesses.busy()
            || self.systems.busy()
            || self.films.busy()
            || self.pictures.busy()
            || comparing()
    }
}
