//! The current simulation result, and recent ones.

use super::query::Query;
use super::{Freshness, Session};
use crate::evaluate::Observed;
use crate::layout::Layout;
use crate::states::InterpolatedSeries;
use std::collections::VecDeque;
use std::sync::Arc;

/// Number of results kept, so that switching between states waits for nothing.
const MOST_KEPT: usize = 4;

/// A simulation result with its query; none where the state could not be simulated.
struct KnownSeries {
    layout: Arc<Layout>,
    watched: Observed,
    film: Option<Arc<InterpolatedSeries>>,
}

/// Simulation results by query.
pub(super) struct SeriesQuery {
    inquiry: Query<Observed, Arc<InterpolatedSeries>>,
    /// The current query.
    watched: Option<Observed>,
    /// Results, the newest last.
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

    /// Submits the query for a layout, unless its result is known.
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

    /// Takes in finished results; true where the current one is among them.
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

    /// Forgets everything, because another file is opened.
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
    /// Sets what to simulate; none ends the simulation. Cheap where nothing changed: call it once a frame.
    ///
    /// Simulations use the committed layout: during a drag the old result stays.
    pub fn watch(&mut self, watched: Option<Observed>) {
        self.films.ask(&self.layout, watched);
    }

    /// The current simulation result, and whether it belongs to the displayed layout. None: not known yet, or there
    /// is none.
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

    /// Whether the current simulation is running.
    pub fn is_simulating(&self) -> bool {
        self.films.busy()
    }
}
