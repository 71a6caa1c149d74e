//! The state, operating mode, outcome and time that are shown.

use crate::draw::results::outcome;
use crate::draw::results::outcome::WhichOutcome;
use crate::draw::section::Trust;
use crate::draw::time_plot::TimeScale;
use crate::evaluate::{Case, Observed, Variant};
use crate::finding::Finding;
use crate::layout::{Id, Layout};
use crate::session::{Freshness, Session, Shown, SystemCurve};
use crate::state::State;
use crate::states::InterpolatedSeries;
use crate::states::report::StateReport;
use std::borrow::Cow;
use std::sync::Arc;

/// Duration of playing a simulation result, s.
pub const PLAY_S: f64 = 14.0;
/// Longest time step between two frames of playing, s: after a delay, time continues where it was.
const LONGEST_FRAME_S: f64 = 0.1;
/// Times closer than this are equal, s.
const SAME_S: f64 = 1e-6;

/// The state, operating mode, outcome and time that are shown, and their playing.
pub struct TimeView {
    /// The state.
    pub state: State,
    /// The operating mode; none: as drawn. Only for the state *running*.
    pub way: Option<Case>,
    /// The run shut in the state *blocked*; none: the most harmful.
    pub shut: Option<Id>,
    /// The outcome, where the state has two.
    pub outcome: WhichOutcome,
    /// The time, s; none: the end.
    pub time_s: Option<f64>,
    /// Whether time is playing.
    pub playing: bool,
    moment: Option<ShownMoment>,
}

impl Default for TimeView {
    fn default() -> Self {
        TimeView {
            state: State::Running,
            way: None,
            shut: None,
            outcome: WhichOutcome::Main,
            time_s: None,
            playing: false,
            moment: None,
        }
    }
}

/// A report interpolated from a simulation result.
struct ShownMoment {
    film: Arc<InterpolatedSeries>,
    time_s: f64,
    report: StateReport,
    trust: Trust,
}

/// The inputs of a drawing that depend on the time view.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeInputs {
    state: State,
    way: Option<Case>,
    outcome: WhichOutcome,
    /// The time, and the identity of its simulation result; none: the end.
    moment: Option<(u64, usize, Trust)>,
}

impl TimeView {
    /// Selects a state, at its end.
    pub fn show(&mut self, state: State) {
        if state != self.state {
            self.shut = None;
        }
        self.state = state;
        self.way = None;
        self.stop_at(None);
    }

    /// Selects an operating mode; none: as drawn.
    pub fn run(&mut self, way: Option<Case>) {
        self.show(State::Running);
        self.way = way;
    }

    /// Selects the run that is shut.
    pub fn shut(&mut self, run: Id) {
        self.show(State::Blocked);
        self.shut = Some(run);
    }

    /// Selects an outcome of the state, at its end.
    pub fn turn_to(&mut self, which: WhichOutcome) {
        self.outcome = which;
        self.stop_at(None);
    }

    /// Selects a time; none: the end.
    pub fn stop_at(&mut self, time_s: Option<f64>) {
        self.time_s = time_s;
        self.playing = false;
    }

    /// What to simulate; none where the selection has no time.
    ///
    /// Only the main outcome is simulated; the other one is known only at its end.
    fn wanted(&self, shown: &Shown<'_>) -> Option<Observed> {
        if self.second(shown).is_some() {
            return None;
        }
        match self.state {
            State::Starting => Some(Observed::Starting),
            State::Stopped => Some(Observed::Stopped),
            State::Blocked => self.blocked(shown).cloned().map(Observed::Blocked),
            State::Running => {
                let goes_round = shown.running.is_some_and(|report| report.cycle.is_some());
                (goes_round && self.way.is_none()).then_some(Observed::Running)
            }
            State::Rest | State::Fouled => None,
        }
    }

    /// The run that is shut.
    pub fn blocked<'a>(&'a self, shown: &Shown<'a>) -> Option<&'a Id> {
        let worst = || Some(&shown.state(State::Blocked).0?.blocked.first()?.run);
        let there = |run: &&Id| shown.layout.run(run).is_some();
        self.shut.as_ref().filter(there).or_else(worst)
    }

    /// Starts the simulation, advances the time and interpolates the report. `frame_s`: time since the last call, s.
    pub fn update(&mut self, session: &mut Session, frame_s: f64) {
        let wanted = self.wanted(&session.shown());
        session.watch(wanted);
        let known = session.shown().variants().0.iter();
        let known = known.map(|variant| &variant.case);
        let is_there = |way: &Case| known.clone().any(|one| one == way);
        self.way = self.way.take().filter(is_there);
        let Some((film, fresh)) = session.series() else {
            self.moment = None;
            self.playing = false;
            return;
        };
        let scale = TimeScale::of(film);
        self.go_on(scale, frame_s.clamp(0.0, LONGEST_FRAME_S));
        let time_s = match self.time_s {
            Some(time_s) => time_s,
            // The end is more accurate in the report of the state. Only the end for a run other than the most harmful
            // one comes from the simulation.
            None if self.is_end_of_state(&session.shown()) => {
                self.moment = None;
                return;
            }
            None => film.end_s(),
        };
        let trust = trust(fresh);
        let same = |one: &ShownMoment| {
            Arc::ptr_eq(&one.film, film) && one.time_s.to_bits() == time_s.to_bits()
        };
        match &mut self.moment {
            Some(moment) if same(moment) => moment.trust = trust,
            moment => {
                *moment = Some(ShownMoment {
                    film: film.clone(),
                    time_s,
                    report: film.at(time_s),
                    trust,
                });
            }
        }
    }

    fn go_on(&mut self, scale: TimeScale, frame_s: f64) {
        if !self.playing {
            return;
        }
        let time_s = self.time_s.unwrap_or(0.0);
        let share = scale.share(time_s) + frame_s / PLAY_S;
        let round = self.state == State::Running;
        self.time_s = match share < 1.0 {
            true => Some(scale.time_at(share)),
            false if round => Some(scale.time_at(share.fract())),
            false => None,
        };
        self.playing = self.time_s.is_some();
    }

    /// Whether the report of the state is that of the selected end.
    fn is_end_of_state(&self, shown: &Shown<'_>) -> bool {
        let told = shown.state(self.state).0.is_some();
        match (self.state, &self.shut) {
            (State::Blocked, Some(run)) => {
                let worst = shown.state(State::Blocked).0;
                let worst = worst.and_then(|report| report.blocked.first());
                told && worst.is_some_and(|worst| worst.run == *run)
            }
            _ => told,
        }
    }

    /// Plays, from the start where the time is at the end; pauses while playing.
    pub fn play(&mut self) {
        self.playing = !self.playing;
        if self.playing {
            self.time_s = Some(self.time_s.unwrap_or(0.0));
        }
    }

    /// Goes to the next event; after the last one, to the end.
    pub fn next(&mut self, film: &InterpolatedSeries) {
        let Some(now_s) = self.time_s else { return };
        let mut times = film.events().iter().map(|told| told.time_s);
        self.stop_at(times.find(|time_s| *time_s > now_s + SAME_S));
    }

    /// Goes to the previous event; before the first one, to the start.
    pub fn before(&mut self, film: &InterpolatedSeries) {
        let now_s = self.time_s.unwrap_or(f64::INFINITY);
        let times = film.events().iter().rev().map(|told| told.time_s);
        let earlier = times.into_iter().find(|time_s| *time_s < now_s - SAME_S);
        self.stop_at(Some(earlier.unwrap_or(0.0)));
    }

    /// The selected variant.
    fn variant<'a>(&self, shown: &Shown<'a>) -> Option<&'a Variant> {
        let way = self.way.as_ref()?;
        shown
            .variants()
            .0
            .iter()
            .find(|variant| variant.case == *way)
    }

    /// The solved report of the main outcome at the end of the state.
    fn main<'a>(&self, shown: &Shown<'a>) -> (Option<&'a StateReport>, Freshness) {
        match self.variant(shown) {
            Some(variant) => (Some(&variant.running), shown.variants().1),
            None => shown.state(self.state),
        }
    }

    /// The main outcome of the state, where there are two to choose from.
    pub fn two<'a>(&self, shown: &Shown<'a>) -> Option<&'a StateReport> {
        let main = self.main(shown).0?;
        // For a blocked run, the second outcome is known only for the most harmful one.
        let worst = || main.blocked.first().map(|case| &case.run);
        let other = self.shut.is_some() && self.shut.as_ref() != worst();
        (!other && outcome::second(main).is_some()).then_some(main)
    }

    /// Whether the second outcome is still unknown: the levels are a preview or stale.
    pub fn is_awaited(&self, shown: &Shown<'_>) -> bool {
        self.main(shown).1 != Freshness::Solved
    }

    /// The report of the second outcome, where that is selected.
    pub fn second<'a>(&self, shown: &Shown<'a>) -> Option<&'a StateReport> {
        let chosen = self.outcome == WhichOutcome::Second;
        self.two(shown).filter(|_| chosen)?.primed.as_deref()
    }

    /// The displayed report, and whether it is up to date.
    pub fn water<'a>(&'a self, shown: &Shown<'a>) -> (Option<&'a StateReport>, Trust) {
        if let Some(second) = self.second(shown) {
            return (Some(second), trust(self.main(shown).1));
        }
        if let Some(moment) = &self.moment {
            return (Some(&moment.report), moment.trust);
        }
        let (report, fresh) = self.main(shown);
        (report, trust(fresh))
    }

    /// The layout with its valves as in the selected operating mode.
    pub fn laid<'a>(&self, layout: &'a Layout) -> Cow<'a, Layout> {
        let ways = layout.ways.iter();
        let mut ways = ways.filter(|way| self.way == Some(Case::Way(way.id.clone())));
        match ways.next() {
            Some(way) => Cow::Owned(layout.in_way(way)),
            None => Cow::Borrowed(layout),
        }
    }

    /// The report of the baseline to compare with; none unless the end of a state as drawn is displayed.
    pub fn compared_with<'a>(&self, session: &'a Session) -> Option<&'a StateReport> {
        let plain = self.moment.is_none() && self.way.is_none() && self.shut.is_none();
        let other = session.compared_with(self.state).filter(|_| plain)?;
        match self.second(&session.shown()) {
            Some(_) => outcome::second(other),
            None => Some(other),
        }
    }

    /// The system curve, where known; stale for the second outcome, because it belongs to the main one.
    pub fn system<'a>(&self, session: &'a Session) -> Option<(&'a SystemCurve, Freshness)> {
        let (system, fresh) = session.system()?;
        match self.second(&session.shown()) {
            Some(_) => Some((system, Freshness::Stale)),
            None => Some((system, fresh)),
        }
    }

    /// The findings of the selection, to mark on the drawing; for a shut run, those of that run.
    ///
    /// None for the second outcome: findings belong to the levels of the main one.
    pub fn findings(&self, shown: &Shown<'_>) -> Vec<Finding> {
        if self.second(shown).is_some() {
            return Vec::new();
        }
        let findings = shown.findings.iter().filter(|one| one.state == self.state);
        if self.state == State::Blocked {
            let Some(run) = self.blocked(shown) else {
                return Vec::new();
            };
            return findings.filter_map(|one| of_path(one, run)).collect();
        }
        let own = self
            .variant(shown)
            .into_iter()
            .flat_map(|one| &one.findings);
        findings.chain(own).cloned().collect()
    }

    /// The inputs of a drawing.
    pub fn seen(&self) -> TimeInputs {
        let moment = self.moment.as_ref();
        TimeInputs {
            state: self.state,
            way: self.way.clone(),
            outcome: self.outcome,
            moment: moment.map(|moment| {
                let film = Arc::as_ptr(&moment.film) as usize;
                (moment.time_s.to_bits(), film, moment.trust)
            }),
        }
    }
}

/// The part of a finding about one path, where it lists several; none where it does not list it.
fn of_path(finding: &Finding, run: &Id) -> Option<Finding> {
    let (part, paths) = finding.about.split_first()?;
    paths.contains(run).then(|| Finding {
        about: vec![part.clone(), run.clone()],
        ..finding.clone()
    })
}

/// The trust in data: stale data belongs to another drawing.
pub fn trust(fresh: Freshness) -> Trust {
    match fresh {
        Freshness::Solved | Freshness::Preview => Trust::Sure,
        Freshness::Stale => Trust::OutOfDate,
    }
}
