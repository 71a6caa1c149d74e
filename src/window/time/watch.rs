//! What is watched: a state, a way of running, a moment.

use crate::draw::course::TimeScale;
use crate::draw::outcome::{self, Which};
use crate::draw::section::Trust;
use crate::evaluate::{Case, InterpolatedSeries, Observed, Variant};
use crate::finding::{Finding, State};
use crate::layout::{Id, Layout};
use crate::session::{Freshness, Session, Shown, SystemCurve};
use crate::states::report::StateReport;
use std::borrow::Cow;
use std::sync::Arc;

/// How long it takes to play a course, s.
pub const PLAY_S: f64 = 14.0;
/// Longest step of the play between two frames, s: after a pause time goes on where it was.
const LONGEST_FRAME_S: f64 = 0.1;
/// Moments closer than this are one, s.
const SAME_S: f64 = 1e-6;

/// What is watched, and how it goes on.
pub struct Watch {
    /// The state.
    pub state: State,
    /// The way of running; none: as drawn. Only while running.
    pub way: Option<Case>,
    /// The run that is shut in the state *blocked*; none: the one that does most harm.
    pub shut: Option<Id>,
    /// Which outcome of the state, where it has two.
    pub outcome: Which,
    /// The moment, s; none: the end.
    pub time_s: Option<f64>,
    /// Time goes on by itself.
    pub playing: bool,
    moment: Option<Moment>,
}

impl Default for Watch {
    fn default() -> Self {
        Watch {
            state: State::Running,
            way: None,
            shut: None,
            outcome: Which::Main,
            time_s: None,
            playing: false,
            moment: None,
        }
    }
}

/// A moment that was made from a film.
struct Moment {
    film: Arc<InterpolatedSeries>,
    time_s: f64,
    report: StateReport,
    trust: Trust,
}

/// What a drawing depends on of what is watched.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    state: State,
    way: Option<Case>,
    outcome: Which,
    /// The moment and where its film lies; none: the end.
    moment: Option<(u64, usize, Trust)>,
}

impl Watch {
    /// Turns to a state, at its end.
    pub fn show(&mut self, state: State) {
        if state != self.state {
            self.shut = None;
        }
        self.state = state;
        self.way = None;
        self.stop_at(None);
    }

    /// Turns to a way of running; none: as drawn.
    pub fn run(&mut self, way: Option<Case>) {
        self.show(State::Running);
        self.way = way;
    }

    /// Turns to what comes of shutting a run.
    pub fn shut(&mut self, run: Id) {
        self.show(State::Blocked);
        self.shut = Some(run);
    }

    /// Turns to one of the outcomes of the state, at its end.
    pub fn turn_to(&mut self, which: Which) {
        self.outcome = which;
        self.stop_at(None);
    }

    /// Stands at a moment; none: at the end.
    pub fn stop_at(&mut self, time_s: Option<f64>) {
        self.time_s = time_s;
        self.playing = false;
    }

    /// What is to be filmed; none where what is watched has no time of its own.
    ///
    /// A film is of the main outcome: of the second one the end alone is known.
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

    /// Says what is to be filmed, lets time go on, and makes the moment that is looked at; `frame_s`: since the
    /// last call.
    pub fn follow(&mut self, session: &mut Session, frame_s: f64) {
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
            // Its own end is told better by the state, but that of another run than the worst by nobody else.
            None if self.is_told(&session.shown()) => {
                self.moment = None;
                return;
            }
            None => film.end_s(),
        };
        let trust = trust(fresh);
        let same =
            |one: &Moment| Arc::ptr_eq(&one.film, film) && one.time_s.to_bits() == time_s.to_bits();
        match &mut self.moment {
            Some(moment) if same(moment) => moment.trust = trust,
            moment => {
                *moment = Some(Moment {
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

    /// The report of the state itself is that of the end that is watched.
    fn is_told(&self, shown: &Shown<'_>) -> bool {
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

    /// Begins to play, from the start where it stands at the end; or stands still.
    pub fn play(&mut self) {
        self.playing = !self.playing;
        if self.playing {
            self.time_s = Some(self.time_s.unwrap_or(0.0));
        }
    }

    /// Goes to what happens next, and to the end behind the last.
    pub fn next(&mut self, film: &InterpolatedSeries) {
        let Some(now_s) = self.time_s else { return };
        let mut times = film.events().iter().map(|told| told.time_s);
        self.stop_at(times.find(|time_s| *time_s > now_s + SAME_S));
    }

    /// Goes to what happened before, and to the start before the first.
    pub fn before(&mut self, film: &InterpolatedSeries) {
        let now_s = self.time_s.unwrap_or(f64::INFINITY);
        let times = film.events().iter().rev().map(|told| told.time_s);
        let earlier = times.into_iter().find(|time_s| *time_s < now_s - SAME_S);
        self.stop_at(Some(earlier.unwrap_or(0.0)));
    }

    /// The variant that is watched.
    fn variant<'a>(&self, shown: &Shown<'a>) -> Option<&'a Variant> {
        let way = self.way.as_ref()?;
        shown
            .variants()
            .0
            .iter()
            .find(|variant| variant.case == *way)
    }

    /// The report of the end of the state in its main outcome, as that was solved.
    fn main<'a>(&self, shown: &Shown<'a>) -> (Option<&'a StateReport>, Freshness) {
        match self.variant(shown) {
            Some(variant) => (Some(&variant.running), shown.variants().1),
            None => shown.state(self.state),
        }
    }

    /// The state in its main outcome, where it has two that can be chosen from.
    pub fn two<'a>(&self, shown: &Shown<'a>) -> Option<&'a StateReport> {
        let main = self.main(shown).0?;
        // Of what comes of shutting a run the second outcome is known for the worst one alone.
        let worst = || main.blocked.first().map(|case| &case.run);
        let other = self.shut.is_some() && self.shut.as_ref() != worst();
        (!other && outcome::second(main).is_some()).then_some(main)
    }

    /// The second outcome is not known yet: what is shown is a preview, or of a drawing before.
    pub fn is_awaited(&self, shown: &Shown<'_>) -> bool {
        self.main(shown).1 != Freshness::Solved
    }

    /// The report of the second outcome, where that is watched.
    pub fn second<'a>(&self, shown: &Shown<'a>) -> Option<&'a StateReport> {
        let chosen = self.outcome == Which::Second;
        self.two(shown).filter(|_| chosen)?.primed.as_deref()
    }

    /// The report that is drawn and told, and how far it can be trusted.
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

    /// The layout as its valves stand in the way of running that is watched.
    pub fn laid<'a>(&self, layout: &'a Layout) -> Cow<'a, Layout> {
        let ways = layout.ways.iter();
        let mut ways = ways.filter(|way| self.way == Some(Case::Way(way.id.clone())));
        match ways.next() {
            Some(way) => Cow::Owned(layout.in_way(way)),
            None => Cow::Borrowed(layout),
        }
    }

    /// The report that what is watched is held against; none where that is no end of a state as drawn.
    pub fn held_against<'a>(&self, session: &'a Session) -> Option<&'a StateReport> {
        let plain = self.moment.is_none() && self.way.is_none() && self.shut.is_none();
        let other = session.compared_with(self.state).filter(|_| plain)?;
        match self.second(&session.shown()) {
            Some(_) => outcome::second(other),
            None => Some(other),
        }
    }

    /// The system curve that is known; out of date over the second outcome, since it is of the main one.
    pub fn system<'a>(&self, session: &'a Session) -> Option<(&'a SystemCurve, Freshness)> {
        let (system, fresh) = session.system()?;
        match self.second(&session.shown()) {
            Some(_) => Some((system, Freshness::Stale)),
            None => Some((system, fresh)),
        }
    }

    /// What is said of what is watched, to be marked on the drawing: where a run is shut, what is said of that.
    ///
    /// What is said is said of the main outcome: over the levels of the second one it would be wrong.
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

    /// What a drawing of it depends on.
    pub fn seen(&self) -> Seen {
        let moment = self.moment.as_ref();
        Seen {
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

/// What a finding says of one path, where it is about that among others.
fn of_path(finding: &Finding, run: &Id) -> Option<Finding> {
    let (part, paths) = finding.about.split_first()?;
    paths.contains(run).then(|| Finding {
        about: vec![part.clone(), run.clone()],
        ..finding.clone()
    })
}

/// What is of another drawing is out of date.
pub fn trust(fresh: Freshness) -> Trust {
    match fresh {
        Freshness::Solved | Freshness::Preview => Trust::Sure,
        Freshness::Stale => Trust::OutOfDate,
    }
}
