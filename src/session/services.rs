//! The services that solve for a session.

use super::query::Query;
use crate::advise::{self, Band, Guess};
use crate::catalogue::Catalogue;
use crate::evaluate;
use crate::evaluate::{Evaluation, Observed, Previewed, SystemCurve};
use crate::layout::{Id, Layout, RunEnd};
use crate::state::State;
use crate::states::InterpolatedSeries;
use crate::states::report::StateReport;
use crate::sweep::Parallel;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// The running state by a steady-state solve that starts from a nearby state, with findings, as
/// [`evaluate::checked_preview`].
type Preview = Arc<dyn Fn(&Layout, Option<&StateReport>) -> Option<Previewed> + Send + Sync>;
/// The evaluation in these states, as [`evaluate::evaluate_by`].
type Evaluate = Arc<dyn Fn(&Layout, &[State]) -> Evaluation + Send + Sync>;
/// The evaluation with cures, as [`advise::with_cures_while`].
type Cure =
    Arc<dyn Fn(&Layout, &Evaluation, &dyn Fn() -> bool) -> Option<Evaluation> + Send + Sync>;

/// The set-height band of a crest, as [`advise::band`].
type FindBand =
    Arc<dyn Fn(&Layout, (&Id, RunEnd), &dyn Fn() -> bool) -> Option<Band> + Send + Sync>;

/// The duty at the edges of a guessed curve, as [`advise::guess`].
type FindGuess = Arc<dyn Fn(&Layout, &Id, &dyn Fn() -> bool) -> Option<Guess> + Send + Sync>;

/// The system curve of a pump, as [`evaluate::system_curve`].
type FindSystem = Arc<dyn Fn(&Layout, &Id, &dyn Fn() -> bool) -> Option<SystemCurve> + Send + Sync>;

/// The simulation result, as [`evaluate::series`]; none where the state cannot be simulated.
type SimulateSeries =
    Arc<dyn Fn(&Layout, &Observed, &dyn Fn() -> bool) -> Option<InterpolatedSeries> + Send + Sync>;

/// The states solved first, because they are shown most.
pub(super) const FIRST: [State; 2] = [State::Rest, State::Running];
/// Longest preview made inside the call that changes the layout: half a frame at 60 frames a second.
const PATIENCE: Duration = Duration::from_millis(8);
/// Cost of a preview per run before one has been timed: a guess on the safe side.
const GUESS_BY_RUN: Duration = Duration::from_micros(50);

/// The services that solve for a session. The default is the real ones; tests replace them.
#[derive(Clone)]
pub struct Services {
    /// The running state with its findings, quickly.
    pub preview: Preview,
    /// The evaluation in some or all states.
    pub evaluate: Evaluate,
    /// The evaluation with cures.
    pub cure: Cure,
    /// The set-height band of a crest.
    pub band: FindBand,
    /// The duty of a pump at the edges of a guessed curve.
    pub guess: FindGuess,
    /// The system curve of a pump.
    pub system: FindSystem,
    /// The simulation of a state.
    pub series: SimulateSeries,
    /// Previews faster than this are made inside the call that changes the layout.
    pub patience: Duration,
    /// Number of internal errors while solving.
    pub failed: Arc<AtomicUsize>,
}

impl Default for Services {
    fn default() -> Self {
        Services {
            preview: Arc::new(|layout, near| {
                let preview = evaluate::checked_preview(layout, Catalogue::builtin(), near)?;
                Some(advise::preview_with_cures_of_drawing(layout, preview))
            }),
            evaluate: Arc::new(|layout, states| {
                // One core is left for the window.
                let hands = Parallel { spared: 1 };
                let evaluation =
                    evaluate::evaluate_by(&hands, layout, Catalogue::builtin(), states);
                advise::with_cures_of_drawing(layout, evaluation)
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

/// The expected time of a preview before one has been timed.
pub(super) fn guess(layout: &Layout) -> Duration {
    let runs = u32::try_from(layout.runs.len()).unwrap_or(u32::MAX);
    GUESS_BY_RUN.saturating_mul(runs)
}

// A panic in these calls is an internal error. The layout on the screen is worth more than the result, so each of them
// then returns “not solved”. Partial results are discarded.
impl Services {
    /// The result of a call; none where it panics, which is counted.
    fn caught<T>(&self, solve: impl FnOnce() -> T) -> Option<T> {
        let solved = catch_unwind(AssertUnwindSafe(solve)).ok();
        if solved.is_none() {
            self.failed.fetch_add(1, Ordering::Relaxed);
        }
        solved
    }

    /// Number of internal errors while solving.
    pub(super) fn failures(&self) -> usize {
        self.failed.load(Ordering::Relaxed)
    }

    /// A preview, and its duration.
    pub(super) fn timed_preview(
        &self,
        layout: &Layout,
        near: Option<&StateReport>,
    ) -> (Option<Previewed>, Duration) {
        let start = Instant::now();
        let quick = self.caught(|| (self.preview)(layout, near));
        (quick.flatten(), start.elapsed())
    }

    /// The evaluation in `states`; an internal error leaves all of them unsolved.
    pub(super) fn evaluation(&self, layout: &Layout, states: &[State]) -> Evaluation {
        let solved = self.caught(|| (self.evaluate)(layout, states));
        let left_out = |state: &State| !states.contains(state);
        solved.unwrap_or_else(|| Evaluation {
            unsolved: states.iter().map(|state| (*state, Vec::new())).collect(),
            not_checked: State::ALL.into_iter().filter(left_out).collect(),
            ..Evaluation::default()
        })
    }

    /// The evaluation with cures, or without them after an internal error; none where `go_on` said no.
    pub(super) fn cured(
        &self,
        layout: &Layout,
        evaluation: &Evaluation,
        go_on: &dyn Fn() -> bool,
    ) -> Option<Evaluation> {
        let cured = self.caught(|| (self.cure)(layout, evaluation, go_on));
        cured.unwrap_or_else(|| Some(evaluation.clone()))
    }

    /// Starts a thread for set-height bands.
    pub(super) fn bands(&self, wake: Arc<dyn Fn() + Send + Sync>) -> Query<(Id, RunEnd), Band> {
        let services = self.clone();
        let answer = move |layout: &Layout, (run, end): &(Id, RunEnd), go_on: &dyn Fn() -> bool| {
            let band = services.caught(|| (services.band)(layout, (run, *end), go_on));
            band.flatten()
        };
        Query::new("bands", Box::new(answer), wake)
    }

    /// Starts a thread for evaluating whole layouts in all states.
    pub(super) fn evaluations(&self, wake: Arc<dyn Fn() + Send + Sync>) -> Query<(), Evaluation> {
        let services = self.clone();
        let answer = move |layout: &Layout, (): &(), _: &dyn Fn() -> bool| {
            services.caught(|| (services.evaluate)(layout, &State::ALL))
        };
        Query::new("comparison", Box::new(answer), wake)
    }

    /// Starts a thread for guessed curves at their edges.
    pub(super) fn guesses(&self, wake: Arc<dyn Fn() + Send + Sync>) -> Query<Id, Guess> {
        let services = self.clone();
        let answer = move |layout: &Layout, pump: &Id, go_on: &dyn Fn() -> bool| {
            let guess = services.caught(|| (services.guess)(layout, pump, go_on));
            guess.flatten()
        };
        Query::new("guesses", Box::new(answer), wake)
    }

    /// Starts a thread for system curves.
    pub(super) fn systems(&self, wake: Arc<dyn Fn() + Send + Sync>) -> Query<Id, SystemCurve> {
        let services = self.clone();
        let answer = move |layout: &Layout, pump: &Id, go_on: &dyn Fn() -> bool| {
            let system = services.caught(|| (services.system)(layout, pump, go_on));
            system.flatten()
        };
        Query::new("system curves", Box::new(answer), wake)
    }

    /// Starts a thread for simulations.
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
