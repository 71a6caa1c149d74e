//! The running layout: the initial state from which simulations and failures start.

use super::{both, check, clogged};
use crate::catalogue::Catalogue;
use crate::finding::Severity;
use crate::layout::{Id, Layout};
use crate::lower::{Age, Walls};
use crate::state::State;
use crate::states::report::BlockedCase;
use crate::states::{
    self, EndOfState, Fault, InitialChange, InterpolatedSeries, PumpsOnAndOff, ShutSuction,
    SimulationResult, StateNotConverged, Suspect,
};

/// A layout at rest and running, as built.
#[derive(Clone, Debug)]
pub struct AsBuilt<'a> {
    layout: &'a Layout,
    built: PumpsOnAndOff,
    /// The same for every run with its siphon break clogged, by its index in the layout.
    clogged: Vec<(usize, PumpsOnAndOff)>,
    rest: EndOfState,
    running: EndOfState,
    /// The second outcome at rest and running; none without one.
    second: [Option<EndOfState>; 2],
}

/// Convergence error: a state that could not be solved, and the parts where it failed, worst first.
#[derive(Clone, Debug, PartialEq)]
pub struct NotConverged {
    /// The state.
    pub state: State,
    /// The parts.
    pub about: Vec<Id>,
}

/// The outcome of one failure.
#[derive(Clone, Debug, PartialEq)]
pub struct FailureCase {
    /// The failure mode.
    pub fault: Fault,
    /// The part that failed.
    pub part: Id,
    /// Its consequences.
    pub case: BlockedCase,
    /// Their severity, by the limits of the layout: in the worse of both outcomes.
    pub severity: Severity,
    /// Its consequences in the second outcome of the layout; none without one.
    pub second: Option<BlockedCase>,
}

impl<'a> AsBuilt<'a> {
    /// Solves the layout at rest and running.
    pub fn new(layout: &'a Layout, catalogue: &Catalogue) -> Result<AsBuilt<'a>, NotConverged> {
        let built = both(layout, catalogue, Walls::AsBuilt, Age::New);
        let rest =
            states::rest(layout, &built.off).map_err(|one| not_converged(State::Rest, one))?;
        let tall = both(layout, catalogue, Walls::Tall, Age::New);
        let sets = (&tall, &built);
        let solved = states::running(layout, State::Running, sets, &rest.reached);
        let (running, real) = solved.map_err(|one| not_converged(State::Running, one))?;
        let second = states::second_stands(&running, real.as_ref()).cloned();
        Ok(AsBuilt {
            layout,
            built,
            clogged: clogged::all(layout, catalogue),
            running: states::stands(layout, &running, real.as_ref()),
            second: [rest.second.map(|second| *second), second],
            rest: rest.reached,
        })
    }

    /// The same with every run primed that can prime; none where none can, or all are.
    pub fn primed(&self) -> Option<AsBuilt<'a>> {
        let [rest, running] = &self.second;
        if rest.is_none() && running.is_none() {
            return None;
        }
        let mut primed = self.clone();
        primed.second = [None, None];
        primed.rest = rest.clone().unwrap_or(primed.rest);
        primed.running = running.clone().unwrap_or(primed.running);
        Some(primed)
    }

    /// Whether all runs that can prime are primed while it runs.
    pub fn is_primed(&self) -> bool {
        self.running.is_primed()
    }

    /// The layout.
    pub fn layout(&self) -> &'a Layout {
        self.layout
    }

    /// Simulates what happens at second 0. `until_s`: the end time; none: to the steady state, or once round a limit
    /// cycle.
    pub fn trace(
        &self,
        turn: InitialChange,
        until_s: Option<f64>,
    ) -> Result<SimulationResult, NotConverged> {
        let (from, state) = self.before(turn);
        let traced = states::simulation_result(self.layout, &self.built, from, turn, until_s);
        traced.map_err(|one| not_converged(state, one))
    }

    /// The same as an interpolated series, to the end of the corresponding state.
    pub fn series(&self, turn: InitialChange) -> Result<InterpolatedSeries, NotConverged> {
        let (from, state) = self.before(turn);
        let film = states::series(self.layout, &self.built, from, turn);
        film.map_err(|one| not_converged(state, one))
    }

    /// The same with at most so many moments, not counting those of events.
    pub fn series_within(
        &self,
        turn: InitialChange,
        most: usize,
    ) -> Result<InterpolatedSeries, NotConverged> {
        let (from, state) = self.before(turn);
        let film = states::series_within(self.layout, &self.built, from, turn, most);
        film.map_err(|one| not_converged(state, one))
    }

    /// The initial state of a turn, and the state that results from it.
    fn before(&self, turn: InitialChange) -> (&EndOfState, State) {
        match turn {
            InitialChange::Start => (&self.rest, State::Starting),
            InitialChange::Stop => (&self.running, State::Stopped),
            InitialChange::Block(_) => (&self.running, State::Blocked),
        }
    }

    /// All possible failures, in a fixed order.
    pub fn suspects(&self) -> Vec<Suspect> {
        states::suspects(self.layout, &self.built, &self.running)
    }

    /// The pumps that lack water without any failure, because a valve upstream of them is shut.
    pub fn shut_suctions(&self) -> Vec<ShutSuction> {
        states::shut_suctions(self.layout, &self.built)
    }

    /// The outcome of one failure within a day.
    pub fn fail(&self, suspect: &Suspect) -> Result<FailureCase, NotConverged> {
        let [_, second] = &self.second;
        let case = self.case(suspect, &self.running)?;
        let second = second.as_ref().map(|stands| self.case(suspect, stands));
        let second = second.transpose()?;
        let severity = |case: &BlockedCase| check::blocked_severity(&self.layout.limits, case);
        let worse = second.as_ref().map(severity);
        Ok(FailureCase {
            fault: suspect.fault,
            part: suspect.part.clone(),
            severity: worse.into_iter().fold(severity(&case), Severity::min),
            case,
            second,
        })
    }

    fn case(&self, suspect: &Suspect, stands: &EndOfState) -> Result<BlockedCase, NotConverged> {
        let is_it = |one: &&(usize, PumpsOnAndOff)| {
            suspect.fault == Fault::BreakClogged && one.0 == suspect.place
        };
        let clogged = self.clogged.iter().find(is_it);
        let built = clogged.map_or(&self.built, |(_, built)| built);
        let case = states::fault_case(self.layout, built, stands, suspect);
        case.map_err(|one| NotConverged {
            state: State::Blocked,
            about: [vec![suspect.part.clone()], one.about].concat(),
        })
    }
}

/// Worst first: by severity, then by harm; ties keep their order.
pub fn worst_first(cases: &mut [FailureCase]) {
    cases.sort_by(|a, b| a.severity.cmp(&b.severity).then(a.case.by_harm(&b.case)));
}

pub(super) fn not_converged(state: State, unsolved: StateNotConverged) -> NotConverged {
    NotConverged {
        state,
        about: unsolved.about,
    }
}
