//! Results for the layouts that were displayed.

use super::shown::{Freshness, KnownResults, Shown};
use super::worker::{JobOutput, JobResult};
use crate::evaluate::{Evaluation, Previewed};
use crate::finding::Finding;
use crate::layout::Layout;
use crate::state::State;
use crate::states::report::StateReport;
use std::collections::VecDeque;
use std::sync::Arc;
use std::time::Instant;

/// Largest number of committed layouts whose evaluation is stored, so that undo shows it at once.
const MOST_KEPT: usize = 6;

/// A layout and its results.
#[derive(Clone)]
pub(super) struct Known {
    pub layout: Arc<Layout>,
    pub evaluation: Arc<Evaluation>,
    /// Whether cures were searched for.
    pub cured: bool,
}

impl Known {
    /// Whether its results are complete; a committed layout needs cures too.
    pub(super) fn is_enough(&self, committed: bool) -> bool {
        self.cured || (!committed && self.evaluation.is_whole())
    }
}

/// Results for the displayed layout and a few earlier ones. A layout is identified by its address, which is not reused
/// while its results are stored.
#[derive(Default)]
pub(super) struct Results {
    /// The last evaluation that arrived, or that of the displayed layout.
    reported: Option<Known>,
    /// The last evaluation in all states.
    whole: Option<Arc<Evaluation>>,
    /// Evaluations of committed layouts, newest last.
    kept: VecDeque<Known>,
    /// The preview of the running state of the displayed layout.
    quick: Option<Previewed>,
    /// All findings, of the displayed layout and of earlier ones.
    findings: Vec<Finding>,
    /// Since when part of the display has been stale.
    stale_since: Option<Instant>,
    batch: u64,
}

impl Results {
    /// Forgets everything, because another file is opened; pending results for the old one will be ignored.
    pub(super) fn start_afresh(&mut self) {
        *self = Results {
            batch: self.batch + 1,
            ..Results::default()
        };
    }

    /// The batch number that results need to be taken in.
    pub(super) fn batch(&self) -> u64 {
        self.batch
    }

    /// The layouts with results.
    pub(super) fn layouts(&self) -> impl Iterator<Item = &Arc<Layout>> {
        let reported = self.reported.iter();
        reported
            .chain(self.kept.iter().rev())
            .map(|known| &known.layout)
    }

    /// The last known running state, of any layout.
    pub(super) fn running(&self) -> Option<&StateReport> {
        let reported = || self.reported.as_ref()?.evaluation.state(State::Running);
        let quick = self.quick.as_ref().map(|quick| &quick.report);
        quick.or_else(reported)
    }

    /// The results for a layout, if any.
    pub(super) fn of(&self, layout: &Arc<Layout>) -> Option<&Evaluation> {
        let mut known = self.kept.iter().rev().chain(&self.reported);
        let known = known.find(|known| Arc::ptr_eq(&known.layout, layout));
        known.map(|known| known.evaluation.as_ref())
    }

    /// Selects another layout to display, and returns its results.
    pub(super) fn turn_to(&mut self, layout: &Arc<Layout>) -> Option<Known> {
        self.quick = None;
        let mut kept = self.kept.iter().rev().chain(&self.reported);
        let known = kept.find(|known| Arc::ptr_eq(&known.layout, layout));
        let known = known.cloned();
        if let Some(known) = &known {
            self.record(known.clone());
        }
        self.record_result(layout);
        known
    }

    /// Takes in a preview of the displayed layout.
    pub(super) fn take_quick(&mut self, quick: Option<Previewed>, on_show: &Arc<Layout>) {
        self.quick = quick;
        self.record_result(on_show);
    }

    fn record(&mut self, known: Known) {
        if known.evaluation.is_whole() {
            self.whole = Some(known.evaluation.clone());
        }
        self.reported = Some(known);
    }

    /// Combines all findings, and notes since when some have been stale.
    fn record_result(&mut self, layout: &Arc<Layout>) {
        let sources = self.sources(layout);
        let fresh = |state: State| sources.freshness(state) == Freshness::Solved;
        let all = State::ALL.into_iter().all(fresh);
        self.findings = sources.findings();
        self.stale_since = match all {
            true => None,
            false => self.stale_since.or_else(|| Some(Instant::now())),
        };
    }

    /// Keeps the results for a committed layout; the oldest ones are dropped.
    pub(super) fn keep(&mut self, known: Known) {
        self.kept
            .retain(|old| !Arc::ptr_eq(&old.layout, &known.layout));
        self.kept.push_back(known);
        while self.kept.len() > MOST_KEPT {
            self.kept.pop_front();
        }
    }

    /// Takes in a result of this batch; true where the display of `on_show` changed.
    pub(super) fn take_in(&mut self, results: JobResult, on_show: &Arc<Layout>) -> bool {
        let is_shown = Arc::ptr_eq(&results.layout, on_show);
        let (evaluation, cured) = match results.what {
            JobOutput::Preview(quick, _) => {
                let wanted = is_shown && !self.is_of(on_show);
                if wanted {
                    self.take_quick(quick.map(|quick| *quick), on_show);
                }
                return wanted;
            }
            JobOutput::Evaluated(evaluation) => (evaluation, false),
            JobOutput::Cured(evaluation) => (evaluation, true),
        };
        let known = Known {
            layout: results.layout,
            evaluation,
            cured,
        };
        if results.committed {
            self.keep(known.clone());
        }
        // A fresh result is not replaced by a stale one.
        let wanted = is_shown || !self.is_of(on_show);
        if wanted {
            self.record(known);
            self.record_result(on_show);
        }
        wanted
    }

    pub(super) fn shown<'a>(&'a self, layout: &'a Arc<Layout>, revision: u64) -> Shown<'a> {
        let known = self.sources(layout);
        Shown {
            layout,
            revision,
            running: known.report(State::Running),
            rest: known.report(State::Rest),
            findings: &self.findings,
            unsolved: known.reported.map_or(&[], |reported| &reported.unsolved),
            levels: known.freshness(State::Running),
            reported: known.freshness(State::Rest),
            age: self.stale_since.map(|since| since.elapsed()),
            known,
        }
    }

    fn sources<'a>(&'a self, layout: &Arc<Layout>) -> KnownResults<'a> {
        KnownResults {
            quick: self.quick.as_ref(),
            reported: self
                .reported
                .as_ref()
                .map(|known| known.evaluation.as_ref()),
            tells: self.is_of(layout),
            whole: self.whole.as_deref(),
        }
    }

    fn is_of(&self, layout: &Arc<Layout>) -> bool {
        let reported = self.reported.as_ref();
        reported.is_some_and(|known| Arc::ptr_eq(&known.layout, layout))
    }
}
