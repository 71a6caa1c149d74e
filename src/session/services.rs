//! What a session has solved by.

use super::query::Query;
use crate::advise::{self, Band, Guess};
use crate::catalogue::Catalogue;
use crate::evaluate::{self, Evaluation, InterpolatedSeries, Observed, Previewed, SystemCurve};
use crate::finding::State;
use crate::layout::{Id, Layout, RunEnd};
use crate::states::report::StateReport;
use crate::sweep::Parallel;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// The running state by the direct jump with what is said of it, searched for from a state nearby, as
/// [`evaluate::checked_preview`].
type Preview = Arc<dyn Fn(&Layout, Option<&StateReport>) -> Option<Previewed> + Send + Sync>;
/// The answer in these states, as [`evaluate::evaluate_by`].
type Evaluate = Arc<dyn Fn(&Layout, &[State]) -> Evaluation + Send + Sync>;
/// The answer with cures, as [`advise::with_cures_while`].
type Cure =
    Arc<dyn Fn(&Layout, &Evaluation, &dyn Fn() -> bool) -> Option<Evaluation> + Send + Sync>;

/// How high a crest may be set, as [`advise::band`].
type FindBand =
    Arc<dyn Fn(&Layout, (&Id, RunEnd), &dyn Fn() -> bool) -> Option<Band> + Send + Sync>;

/// The duty at the edges of a guessed curve, as [`advise::guess`].
type FindGuess = Arc<dyn Fn(&Layout, &Id, &dyn Fn() -> bool) -> Option<Guess> + Send + Sync>;

/// The system curve of a pump, as [`evaluate::system_curve`].
type FindSystem = Arc<dyn Fn(&Layout, &Id, &dyn Fn() -> bool) -> Option<SystemCurve> + Send + Sync>;

/// What happens in time, as [`evaluate::film`]; none where it cannot be followed.
type SimulateSeries =
    Arc<dyn Fn(&Layout, &Observed, &dyn Fn() -> bool) -> Option<InterpolatedSeries> + Send + Sync>;

/// The states that are solved before all others: they are looked at most, and there soonest.
pub(super) const FIRST: [State; 2] = [State::Rest, State::Running];
/// The longest preview that a change waits for: half of the time between two pictures at 60 a second.
const PATIENCE: Duration = Duration::from_millis(8);
/// What a preview of a layout costs by run, before one has been timed: a guess on the safe side.
const GUESS_BY_RUN: Duration = Duration::from_micros(50);

/// What a session has solved by. The house's own is the default; tests put others in its place.
#[derive(Clone)]
pub struct Services {
    /// The running state, quickly, with its findings.
    pub preview: Preview,
    /// The answer in some states, or in all.
    pub evaluate: Evaluate,
    /// The answer with cures.
    pub cure: Cure,
    /// How high a crest may be set.
    pub band: FindBand,
    /// What a pump does at the edges of a guessed curve.
    pub guess: FindGuess,
    /// What the network of a pump takes.
    pub system: FindSystem,
    /// What happens in time.
    pub series: SimulateSeries,
    /// Previews that take less than this are made within the call that changes the layout.
    pub patience: Duration,
    /// How often solving has failed through a fault of the program.
    pub failed: Arc<AtomicUsize>,
}

impl Default for Services {
    fn default() -> Self {
        Services {
            preview: Arc::new(|layout, near| {
                evaluate::checked_preview(layout, Catalogue::builtin(), near)
            }),
            evaluate: Arc::new(|layout, states| {
                // One core for the window.
                let hands = Parallel { spared: 1 };
                evaluate::evaluate_by(&hands, layout, Catalogue::builtin(), states)
            }),
            cure: Arc::new(|layout, evaluation, go_on| {
                advise::with_cures_while(layout, Catalogue::builtin(), evaluation, go_on)
            }),
            band: Arc::new(|layout, crest, go_on| {
                advise::band(layout, Catalogue::builtin(), crest, go_on)
            }),
            guess: Arc::new(|layout, pump, go_on| {
                advise::guess(layout, Catalogue::builtin(), pump, go_on)
            }),
            system: Arc::new(|layout, pump, go_on| {
                evaluate::system_curve(layout, Catalogue::builtin(), pump, go_on)
            }),
            series: Arc::new(|layout, watched, go_on| {
                let film = evaluate::series(layout, Catalogue::builtin(), watched, go_on);
                film.ok().flatten()
            }),
            patience: PATIENCE,
            failed: Arc::default(),
        }
    }
}

/// How long a preview of a layout may take, before one has been timed.
pub(super) fn guess(layout: &Layout) -> Duration {
    let runs = u32::try_from(layout.runs.len()).unwrap_or(u32::MAX);
    GUESS_BY_RUN.saturating_mul(runs)
}

// A panic in here is a fault of the program, and the layout on the screen is worth more than the answer:
// each of these says “not solved” instead. Nothing that was half done is looked at again.
impl Services {
    /// What comes of this; none where it fails, which is counted.
    fn caught<T>(&self, solve: impl FnOnce() -> T) -> Option<T> {
        let solved = catch_unwind(AssertUnwindSafe(solve)).ok();
        if solved.is_none() {
            self.failed.fetch_add(1, Ordering::Relaxed);
        }
        solved
    }

    /// How often solving has failed through a fault of the program.
    pub(super) fn failures(&self) -> usize {
        self.failed.load(Ordering::Relaxed)
    }

    /// A preview, and how long it took.
    pub(super) fn timed_preview(
        &self,
        layout: &Layout,
        near: Option<&StateReport>,
    ) -> (Option<Previewed>, Duration) {
        let start = Instant::now();
        let quick = self.caught(|| (self.preview)(layout, near));
        (quick.flatten(), start.elapsed())
    }

    /// The answer in `states`; none of them is solved where that goes wrong.
    pub(super) fn evaluation(&self, layout: &Layout, states: &[State]) -> Evaluation {
        let solved = self.caught(|| (self.evaluate)(layout, states));
        let left_out = |state: &State| !states.contains(state);
        solved.unwrap_or_else(|| Evaluation {
            unsolved: states.iter().map(|state| (*state, Vec::new())).collect(),
            not_checked: State::ALL.into_iter().filter(left_out).collect(),
            ..Evaluation::default()
        })
    }

    /// The answer with cures, the same without where that goes wrong; none where `go_on` said no.
    pub(super) fn cured(
        &self,
        layout: &Layout,
        evaluation: &Evaluation,
        go_on: &dyn Fn() -> bool,
    ) -> Option<Evaluation> {
        let cured = self.caught(|| (self.cure)(layout, evaluation, go_on));
        cured.unwrap_or_else(|| Some(evaluation.clone()))
    }

    /// Searches for set-height bands, by a thread of its own.
    pub(super) fn bands(&self, wake: Arc<dyn Fn() + Send + Sync>) -> Query<(Id, RunEnd), Band> {
        let services = self.clone();
        let answer = move |layout: &Layout, (run, end): &(Id, RunEnd), go_on: &dyn Fn() -> bool| {
            let band = services.caught(|| (services.band)(layout, (run, *end), go_on));
            band.flatten()
        };
        Query::new("bands", Box::new(answer), wake)
    }

    /// Evaluates whole layouts in all states, by a thread of its own.
    pub(super) fn evaluations(&self, wake: Arc<dyn Fn() + Send + Sync>) -> Query<(), Evaluation> {
        let services = self.clone();
        let answer = move |layout: &Layout, (): &(), _: &dyn Fn() -> bool| {
            services.caught(|| (services.evaluate)(layout, &State::ALL))
        };
        Query::new("comparison", Box::new(answer), wake)
    }

    /// Solves guessed curves at their edges, by a thread of its own.
    pub(super) fn guesses(&self, wake: Arc<dyn Fn() + Send + Sync>) -> Query<Id, Guess> {
        let services = self.clone();
        let answer = move |layout: &Layout, pump: &Id, go_on: &dyn Fn() -> bool| {
            let guess = services.caught(|| (services.guess)(layout, pump, go_on));
            guess.flatten()
        };
        Query::new("guesses", Box::new(answer), wake)
    }

    /// Solves system curves, by a thread of its own.
    pub(super) fn systems(&self, wake: Arc<dyn Fn() + Send + Sync>) -> Query<Id, SystemCurve> {
        let services = self.clone();
        let answer = move |layout: &Layout, pump: &Id, go_on: &dyn Fn() -> bool| {
            let system = services.caught(|| (services.system)(layout, pump, go_on));
            system.flatten()
        };
        Query::new("system curves", Box::new(answer), wake)
    }

    /// Follows what is watched in time, by a thread of its own.
    pub(super) fn series(
        &self,
        wake: Arc<dyn Fn() + Send + Sync>,
    ) -> Query<Observed, Arc<InterpolatedSeries>> {
        let services = self.clone();
        let answer = move |layout: &Layout, watched: &Observed, go_on: &dyn Fn() -> bool| {
            let film = services.caught(|| (services.series)(layout, watched, go_on));
            film.flatten().map(Arc::new)
        };
        Query::new("films", Box::new(answer), wake)
    }
}
