//! The film that is watched, and a few that were.

use super::query::Query;
use super::{Freshness, Session};
use crate::evaluate::{InterpolatedSeries, Observed};
use crate::layout::Layout;
use std::collections::VecDeque;
use std::sync::Arc;

/// Films that are kept, so that going from one state to another and back waits for nothing.
const MOST_KEPT: usize = 4;

/// A film, and what it is of; none where nothing came of it.
struct KnownSeries {
    layout: Arc<Layout>,
    watched: Observed,
    film: Option<Arc<InterpolatedSeries>>,
}

/// Films that were asked for.
pub(super) struct SeriesQuery {
    inquiry: Query<Observed, Arc<InterpolatedSeries>>,
    /// What is watched.
    watched: Option<Observed>,
    /// The newest last.
    kept: VecDeque<KnownSeries>,
}

impl SeriesQuery {
    pub(super) fn new(inquiry: Query<Observed, Arc<InterpolatedSeries>>) -> SeriesQuery {
        SeriesQuery {
            inquiry,
            watched: None,
            kept: VecDeque::new(),
        }
    }

    /// Asks for what is watched of a layout, unless it is known.
    fn ask(&mut self, layout: &Arc<Layout>, watched: Option<Observed>) {
        self.watched = watched;
        let known = |one: &KnownSeries| {
            Arc::ptr_eq(&one.layout, layout) && Some(&one.watched) == self.watched.as_ref()
        };
        match &self.watched {
            Some(_) if self.kept.iter().any(known) => {}
            Some(watched) => self.inquiry.ask(layout, watched.clone()),
            None => self.inquiry.forget(),
        }
    }

    /// Takes in what was filmed; true where that is what is watched.
    pub(super) fn poll(&mut self, layout: &Arc<Layout>) -> bool {
        let changed = self.inquiry.poll();
        if let (true, Some(watched), Some(film)) =
            (changed, &self.watched, self.inquiry.answer(layout))
        {
            self.kept.push_back(KnownSeries {
                layout: layout.clone(),
                watched: watched.clone(),
                film: film.cloned(),
            });
            while self.kept.len() > MOST_KEPT {
                self.kept.pop_front();
            }
        }
        changed
    }

    /// Forgets all, as where another file is opened.
    pub(super) fn start_afresh(&mut self) {
        self.inquiry.forget();
        self.kept.clear();
    }

    pub(super) fn wait(&self) {
        self.inquiry.wait();
    }

    pub(super) fn busy(&self) -> bool {
        self.inquiry.busy()
    }
}

impl Session {
    /// Says what is watched in time, so that it is filmed; none: nothing any longer. Cheap where nothing changed:
    /// call it once a frame.
    ///
    /// A film is of the committed layout: while something is dragged the old one is there still.
    pub fn watch(&mut self, watched: Option<Observed>) {
        self.films.ask(&self.layout, watched);
    }

    /// The film of what is watched, and whether it is of what is shown. None: not known yet, or there is none.
    pub fn series(&self) -> Option<(&Arc<InterpolatedSeries>, Freshness)> {
        let films = &self.films;
        let watched = films.watched.as_ref()?;
        let alike = |one: &&KnownSeries| one.watched == *watched;
        let shown = |one: &&KnownSeries| alike(one) && Arc::ptr_eq(&one.layout, self.on_show());
        let mut newest = films.kept.iter().rev();
        if let Some(kept) = films.kept.iter().rev().find(shown) {
            return kept.film.as_ref().map(|film| (film, Freshness::Solved));
        }
        let kept = newest.find(alike)?;
        kept.film.as_ref().map(|film| (film, Freshness::Stale))
    }

    /// What is watched is being filmed.
    pub fn is_simulating(&self) -> bool {
        self.films.busy()
    }
}
