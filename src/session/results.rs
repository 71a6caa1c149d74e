//! What is known of the layouts that were shown.

use super::shown::{Freshness, Shown};
use super::worker::{News, What};
use crate::evaluate::Evaluation;
use crate::finding::State;
use crate::layout::Layout;
use crate::states::report::StateReport;
use std::collections::VecDeque;
use std::sync::Arc;

/// The most committed layouts whose evaluation is kept, so that undo shows it at once.
const MOST_KEPT: usize = 6;

/// A layout and what was found of it.
#[derive(Clone)]
pub(super) struct Known {
    pub layout: Arc<Layout>,
    pub evaluation: Arc<Evaluation>,
    /// Cures were searched for.
    pub cured: bool,
}

/// What is known, of what is shown and of a few layouts before. A layout is told from others by its
/// address, which it keeps as long as anything is known of it.
#[derive(Default)]
pub(super) struct Results {
    /// The last evaluation that arrived, or the one of the layout shown.
    told: Option<Known>,
    /// Evaluations of committed layouts, the newest last.
    kept: VecDeque<Known>,
    /// The running state of the layout shown, by a preview.
    pub quick: Option<StateReport>,
    batch: u64,
}

impl Results {
    /// Forgets everything, as where another file is opened; what is still solved for it will not be taken in.
    pub(super) fn start_afresh(&mut self) {
        *self = Results {
            batch: self.batch + 1,
            ..Results::default()
        };
    }

    /// The number that results must bear to be taken in.
    pub(super) fn batch(&self) -> u64 {
        self.batch
    }

    /// The layouts of which something is known.
    pub(super) fn layouts(&self) -> impl Iterator<Item = &Arc<Layout>> {
        let told = self.told.iter();
        told.chain(self.kept.iter().rev())
            .map(|known| &known.layout)
    }

    /// The running state that is known last, of whatever layout.
    pub(super) fn running(&self) -> Option<&StateReport> {
        let told = || self.told.as_ref()?.evaluation.state(State::Running);
        self.quick.as_ref().or_else(told)
    }

    /// Turns to another layout to show, and gives what is known of it.
    pub(super) fn turn_to(&mut self, layout: &Arc<Layout>) -> Option<Known> {
        self.quick = None;
        let mut kept = self.kept.iter().rev().chain(&self.told);
        let known = kept.find(|known| Arc::ptr_eq(&known.layout, layout))?;
        let known = known.clone();
        self.told = Some(known.clone());
        Some(known)
    }

    /// Keeps what is known of a committed layout; the oldest goes.
    pub(super) fn keep(&mut self, known: Known) {
        self.kept
            .retain(|old| !Arc::ptr_eq(&old.layout, &known.layout));
        self.kept.push_back(known);
        while self.kept.len() > MOST_KEPT {
            self.kept.pop_front();
        }
    }

    /// Takes in something solved of this batch; true where what is shown of `on_show` changed.
    pub(super) fn take_in(&mut self, news: News, on_show: &Arc<Layout>) -> bool {
        let is_shown = Arc::ptr_eq(&news.layout, on_show);
        let (evaluation, cured) = match news.what {
            What::Preview(report, _) => {
                let wanted = is_shown && !self.tells_of(on_show);
                if wanted {
                    self.quick = report.map(|report| *report);
                }
                return wanted;
            }
            What::Evaluated(evaluation) => (evaluation, false),
            What::Cured(evaluation) => (evaluation, true),
        };
        let known = Known {
            layout: news.layout,
            evaluation,
            cured,
        };
        if news.committed {
            self.keep(known.clone());
        }
        // What is fresh is not given up for what is not.
        let wanted = is_shown || !self.tells_of(on_show);
        if wanted {
            self.told = Some(known);
        }
        wanted
    }

    pub(super) fn shown<'a>(&'a self, layout: &'a Arc<Layout>, revision: u64) -> Shown<'a> {
        let told = self.told.as_ref().map(|known| known.evaluation.as_ref());
        let solved = told.and_then(|told| told.state(State::Running));
        let (running, levels, fresh) = match &self.quick {
            _ if self.tells_of(layout) => (solved, Freshness::Solved, Freshness::Solved),
            Some(quick) => (Some(quick), Freshness::Preview, Freshness::Stale),
            None => (solved, Freshness::Stale, Freshness::Stale),
        };
        Shown {
            layout,
            revision,
            running,
            rest: told.and_then(|told| told.state(State::Rest)),
            variants: told.map_or(&[], |told| &told.variants),
            findings: told.map_or(&[], |told| &told.findings),
            unsolved: told.map_or(&[], |told| &told.unsolved),
            levels,
            told: fresh,
        }
    }

    fn tells_of(&self, layout: &Arc<Layout>) -> bool {
        let told = self.told.as_ref();
        told.is_some_and(|known| Arc::ptr_eq(&known.layout, layout))
    }
}
