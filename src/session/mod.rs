//! The open layout: its file, its history and its results.
//!
//! A change is shown with its levels in the same call, by a quick preview; the whole evaluation and the cures follow
//! from a worker thread, and [`Session::poll`] takes them in.
//!
//! Unsaved work is stored by [`journal`] and offered again by [`resume`].
//!
//! Invariant: knows no window, and no clock except a stopwatch and the time of the last edit; changes a layout only
//! by edits; a panic while solving is reported as “could not be solved”.

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

/// Errors of opening and saving, and access to the disk.
pub use crate::file::{Disk, FileError};
/// Other files (tables and pictures), read for modules that may not open files.
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

/// Settings of a session.
#[derive(Clone)]
pub struct Options {
    /// Called from another thread whenever [`Session::poll`] may have something to take in.
    pub wake: Arc<dyn Fn() + Send + Sync>,
    /// The file of recent files, one path per line; none: they are not stored.
    pub settings: Option<PathBuf>,
    /// The folder for unsaved work and for the last view; none: nothing is stored.
    pub keep: Option<PathBuf>,
    /// How files are written.
    pub disk: Disk,
}

/// No wake callback, nothing stored.
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

/// The open layout with everything that belongs to it. Dropping it waits for pending journal writes,
/// but not for solving.
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
    /// The committed layout.
    layout: Arc<Layout>,
    preview: Option<Arc<Layout>>,
    results: Results,
    revision: u64,
    pictures: Pictures,
    other: Option<baseline::BaselineSlot>,
    journal: Journal,
    /// Unsaved work of windows that ended without warning.
    left: Vec<LeftWork>,
    disk: Disk,
    /// Wakes the session when another program writes the open file.
    watcher: Watcher,
    /// Internal errors while solving that were already reported.
    failures_reported: usize,
    wake: Arc<dyn Fn() + Send + Sync>,
    /// Expected time of a preview of this layout.
    takes: Duration,
}

impl Session {
    /// Opens the demo and starts to solve it.
    pub fn new(options: Options) -> Session {
        Session::with_services(options, Services::default())
    }

    /// As [`Session::new`], with other services for solving: for tests.
    pub fn with_services(options: Options, services: Services) -> Session {
        let mut session = Session::empty(options, services);
        session.open_demo();
        session
    }

    /// A session with an empty layout, for callers that open a file at once: the demo need not be solved.
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

    /// The committed layout; during a preview, the one before it.
    pub fn layout(&self) -> &Arc<Layout> {
        &self.layout
    }

    /// Commits an edit of the layout as one step that can be undone. Ends any preview, even if the edit is refused;
    /// an edit that changes nothing adds no step.
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

    /// Previews an edit of the committed layout, in place of any earlier preview; nothing is committed.
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

    /// Ends the preview.
    pub fn drop_preview(&mut self) {
        if self.preview.take().is_some() {
            self.show();
        }
    }

    /// Whether a preview is shown.
    pub fn previewing(&self) -> bool {
        self.preview.is_some()
    }

    /// Undoes the last edit, after ending a preview. Does nothing more where there is none to undo.
    pub fn undo(&mut self) {
        self.drop_preview();
        if let Ok(Some(layout)) = self.history.undo(&self.layout) {
            self.layout = self.known_or_new(layout);
            self.show();
        }
    }

    /// Redoes the last undone edit; otherwise as [`Session::undo`].
    pub fn redo(&mut self) {
        self.drop_preview();
        if let Ok(Some(layout)) = self.history.redo(&self.layout) {
            self.layout = self.known_or_new(layout);
            self.show();
        }
    }

    /// The edit that [`Session::undo`] would undo. Part names in it are those of the committed layout; ids stand for
    /// deleted parts.
    pub fn undo_name(&self) -> Option<&Sentence> {
        self.history.undo_name()
    }

    /// The edit that [`Session::redo`] would redo; a part that it adds does not exist yet.
    pub fn redo_name(&self) -> Option<&Sentence> {
        self.history.redo_name()
    }

    /// The data to display: the preview if there is one, else the committed layout, with its results.
    pub fn shown(&self) -> Shown<'_> {
        self.results.shown(self.on_show(), self.revision)
    }

    /// Takes in finished results; true where the display changed. Call it once a frame.
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

    /// Waits until everything is solved, with cures, and takes it in.
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

    /// Sets the crest whose set-height band is wanted; none ends the search. Cheap where nothing changed: call it
    /// once a frame.
    pub fn look_at(&mut self, crest: Option<(&Id, RunEnd)>) {
        match crest {
            Some((run, end)) => self.bands.ask(&self.layout, (run.clone(), end)),
            None => self.bands.forget(),
        }
    }

    /// The set-height band of that crest in the committed layout, once it is known.
    ///
    /// It does not depend on the present height of the crest, so it stays valid during a drag.
    pub fn band(&self) -> Option<&Band> {
        self.bands.found(&self.layout)
    }

    /// Sets the pump whose duty is wanted at both edges of a guessed curve; none ends it. Cheap where nothing changed
    /// or the curve is not a guess: call it once a frame.
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

    /// The duty of that pump at both edges of its guessed curve, once it is known.
    pub fn guess(&self) -> Option<&Guess> {
        self.guesses.found(self.on_show())
    }

    /// Sets the pump whose system curve is wanted; none ends it. Cheap where nothing changed: call it once a frame.
    pub fn look_at_system(&mut self, pump: Option<&Id>) {
        let shown = self.on_show().clone();
        match pump {
            Some(pump) => self.systems.ask(&shown, pump.clone()),
            None => self.systems.forget(),
        }
    }

    /// The system curve of that pump, once it is known: of the displayed layout, or the last one of an earlier
    /// layout.
    pub fn system(&self) -> Option<(&SystemCurve, Freshness)> {
        let found = self.systems.found(self.on_show());
        let now = found.map(|found| (found, Freshness::Preview));
        now.or_else(|| Some((self.systems.last()?, Freshness::Stale)))
    }

    /// Whether something is still being solved or searched for.
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
