//! Layout in, evaluation out: lower, solve, check. One pure function.
//!
//! Invariant: knows no thread, no clock, no file and no randomness.

mod as_built;
mod clogged;
mod diff;
mod grade;
mod path;
mod pump_curve;
mod series;
mod system;
mod variants;

pub use as_built::{AsBuilt, FailureCase, NotConverged, worst_first};
pub use diff::{Difference, SAME_LEVEL_M, findings_apart, flows_apart, levels_apart, same_flow};
pub use grade::grade;
pub use path::{NoPath, Paths};
pub use pump_curve::{edges_of_guess, line_of_curve};
pub use series::{Observed, series};
pub use system::{SystemCurve, SystemPoint, system_curve};
pub use variants::{Case, Variant};

use crate::catalogue::Catalogue;
use crate::check::{self, WaterFacts};
use crate::finding::Finding;
use crate::layout::{Id, Layout, Vessel};
use crate::lower::problem::Problem;
use crate::lower::{Age, Lowered, Pumps, Situation, Walls, evaporation_m3_s, lower};
use crate::state::State;
use crate::states::report::{StateReport, VesselReport};
use crate::states::{
    self, EndOfState, Executor, FillMarks, PumpsOnAndOff, Sequential, StateNotConverged,
};

/// Flow below which it counts as none, m³/s.
const NO_FLOW_M3_S: f64 = 1e-7;

/// The complete results for one layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Evaluation {
    /// The requested states, in their order, as far as they could be solved.
    pub states: Vec<StateReport>,
    /// The findings of the check, worst first.
    pub findings: Vec<Finding>,
    /// The problems of the drawing that some of the findings are about.
    pub problems: Vec<Problem>,
    /// The states that did not converge, and the parts where the solution failed.
    pub unsolved: Vec<(State, Vec<Id>)>,
    /// The states that were not computed.
    pub not_checked: Vec<State>,
    /// The fill marks of the lowest vessel; none where no pump draws from a vessel, or starting and
    /// stopped were not both computed.
    pub marks: Option<FillMarks>,
    /// The cases of the layout: its named operating modes, its coldest and warmest water; only where all
    /// states were computed.
    pub variants: Vec<Variant>,
}

impl Evaluation {
    /// Whether all states were computed.
    pub fn is_whole(&self) -> bool {
        self.not_checked.is_empty()
    }

    /// The states whose reports did not meet the tolerances of the method, in one outcome or the other; last
    /// those of the cases.
    pub fn unsettled(&self) -> impl Iterator<Item = State> + '_ {
        let variants = self.variants.iter().map(|one| &one.running);
        let reports = self.states.iter().chain(variants);
        let settled = |report: &StateReport| {
            let primed = report.primed.as_ref();
            report.converged && primed.is_none_or(|primed| primed.converged)
        };
        reports
            .filter(move |report| !settled(report))
            .map(|report| report.state)
    }

    /// The report of one state.
    pub fn state(&self, state: State) -> Option<&StateReport> {
        self.states.iter().find(|report| report.state == state)
    }

    /// Adds the problems of the drawing with their findings.
    fn add_problems(&mut self, lowered: &Lowered) {
        let problems = &lowered.problems;
        self.findings.extend(problems.iter().map(check::of_problem));
        self.problems.extend(problems.iter().cloned());
    }

    /// Adds a state with all its findings.
    fn add(&mut self, layout: &Layout, lowered: &Lowered, report: StateReport) {
        let water = WaterFacts {
            density_kg_m3: lowered.water.density_kg_m3,
            vapour_pressure_pa: lowered.water.vapour_pressure_pa,
            evaporation_m3_s: evaporation(layout, &report),
        };
        let facts = &lowered.origin.run_facts;
        self.findings
            .extend(check::check(layout, &report, facts, water));
        self.states.push(report);
    }
}

/// Solves the layout in each of `wanted` and checks it. States that are not requested are listed as not
/// checked.
///
/// Each state starts from another: running from rest, stopped and blocked from running. The initial state of a
/// state is solved for it in any case.
pub fn evaluate(layout: &Layout, catalogue: &Catalogue, wanted: &[State]) -> Evaluation {
    evaluate_by(&Sequential, layout, catalogue, wanted)
}

/// As [`evaluate`]; independent work is distributed by the executor. The result is the same, and faster.
pub fn evaluate_by(
    executor: &dyn Executor,
    layout: &Layout,
    catalogue: &Catalogue,
    wanted: &[State],
) -> Evaluation {
    let mut work = Work::new(executor, layout, catalogue, wanted);
    work.all();
    let mut evaluation = work.evaluation;
    if layout.runs.iter().any(|run| run.starts_primed) {
        unfilled(executor, layout, catalogue, &mut evaluation);
    }
    evaluation.findings = check::without_repeats(evaluation.findings);
    check::worst_first(&mut evaluation.findings);
    evaluation
}

/// Sets as the second outcome what happens where nobody fills the runs that are to be filled by hand.
fn unfilled(
    executor: &dyn Executor,
    layout: &Layout,
    catalogue: &Catalogue,
    evaluation: &mut Evaluation,
) {
    let mut layout = layout.clone();
    for run in &mut layout.runs {
        run.starts_primed = false;
    }
    let wanted: Vec<State> = evaluation.states.iter().map(|one| one.state).collect();
    let mut work = Work::new(executor, &layout, catalogue, &wanted);
    work.states();
    for second in work.evaluation.states {
        let mut states = evaluation.states.iter_mut();
        if let Some(first) = states.find(|first| first.state == second.state)
            && first.outcome != second.outcome
        {
            first.primed = Some(Box::new(StateReport {
                primed: None,
                as_built: None,
                ..second
            }));
        }
    }
}

/// An evaluation in progress.
struct Work<'a> {
    executor: &'a dyn Executor,
    layout: &'a Layout,
    catalogue: &'a Catalogue,
    wanted: &'a [State],
    /// Walls as built, new.
    built: PumpsOnAndOff,
    /// Tall walls, new.
    tall: PumpsOnAndOff,
    evaluation: Evaluation,
}

impl<'a> Work<'a> {
    fn new(
        executor: &'a dyn Executor,
        layout: &'a Layout,
        catalogue: &'a Catalogue,
        wanted: &'a [State],
    ) -> Work<'a> {
        let left_out = State::ALL
            .into_iter()
            .filter(|state| !wanted.contains(state));
        Work {
            executor,
            layout,
            catalogue,
            wanted,
            built: both(layout, catalogue, Walls::AsBuilt, Age::New),
            tall: both(layout, catalogue, Walls::Tall, Age::New),
            evaluation: Evaluation {
                not_checked: left_out.collect(),
                ..Evaluation::default()
            },
        }
    }

    fn is_asked_for(&self, state: State) -> bool {
        self.wanted.contains(&state)
    }

    /// The states, and whatever needs all of them together.
    fn all(&mut self) {
        if let Some((rest, running)) = self.states() {
            if State::ALL.iter().all(|state| self.is_asked_for(*state)) {
                self.variants(&rest, &running);
            }
            if self.is_asked_for(State::Starting) && self.is_asked_for(State::Stopped) {
                self.marks();
            }
        }
    }

    /// The requested states. Returns the layout at rest and running, where that was computed.
    fn states(&mut self) -> Option<(EndOfState, EndOfState)> {
        let rest = match states::rest(self.layout, &self.built.off) {
            Ok(rest) => rest,
            Err(failed) => {
                // The findings of the drawing alone hold in any case.
                self.evaluation.add_problems(&self.tall.on);
                self.fail(&State::ALL, &failed);
                return None;
            }
        };
        let stands = rest.reached.clone();
        if self.is_asked_for(State::Rest) {
            self.evaluation
                .add(self.layout, &self.built.off, rest.report);
        }
        let moving = [
            State::Starting,
            State::Running,
            State::Fouled,
            State::Blocked,
            State::Stopped,
        ];
        if !moving.iter().any(|state| self.is_asked_for(*state)) {
            self.evaluation.add_problems(&self.built.off);
            return None;
        }
        let running = self.running(&stands)?;
        if self.is_asked_for(State::Fouled) {
            self.fouled(&stands);
        }
        if self.is_asked_for(State::Blocked) {
            self.blocked(&running);
        }
        if self.is_asked_for(State::Stopped) {
            self.stopped(&running);
        }
        Some((stands, running))
    }

    /// Starting and running. Returns the layout as it runs, as built.
    fn running(&mut self, rest: &EndOfState) -> Option<EndOfState> {
        self.evaluation.add_problems(&self.tall.on);
        let sets = (&self.tall, &self.built);
        let solved = states::running(self.layout, State::Running, sets, rest);
        let (running, real) = match solved {
            Ok(solved) => solved,
            Err(failed) => {
                let states = [
                    State::Starting,
                    State::Running,
                    State::Blocked,
                    State::Stopped,
                ];
                self.fail(&states, &failed);
                return None;
            }
        };
        let reached = states::stands(self.layout, &running, real.as_ref());
        let real = match real {
            None if self.is_asked_for(State::Starting) => {
                match states::starting(self.layout, &self.built, rest) {
                    Ok(real) => Some(real),
                    Err(failed) => {
                        self.fail(&[State::Starting], &failed);
                        None
                    }
                }
            }
            other => other,
        };
        if let Some(real) = real.filter(|_| self.is_asked_for(State::Starting)) {
            self.evaluation
                .add(self.layout, &self.built.on, real.report);
        }
        if self.is_asked_for(State::Running) {
            self.evaluation
                .add(self.layout, &self.tall.on, running.report);
        }
        Some(reached)
    }

    fn fouled(&mut self, rest: &EndOfState) {
        let tall = both(self.layout, self.catalogue, Walls::Tall, Age::Fouled);
        let built = both(self.layout, self.catalogue, Walls::AsBuilt, Age::Fouled);
        match states::running(self.layout, State::Fouled, (&tall, &built), rest) {
            Ok((fouled, _)) => self.evaluation.add(self.layout, &tall.on, fouled.report),
            Err(failed) => self.fail(&[State::Fouled], &failed),
        }
    }

    fn blocked(&mut self, running: &EndOfState) {
        match states::blocked(self.layout, &self.built, running, self.executor) {
            Ok(report) => self.evaluation.add(self.layout, &self.built.on, report),
            Err(failed) => self.fail(&[State::Blocked], &failed),
        }
    }

    fn stopped(&mut self, running: &EndOfState) {
        match states::stopped(self.layout, &self.built, running) {
            Ok(stopped) => {
                let found = self.clogged(running, &stopped.report);
                self.evaluation
                    .add(self.layout, &self.built.off, stopped.report);
                self.evaluation.findings.extend(found);
            }
            Err(failed) => self.fail(&[State::Stopped], &failed),
        }
    }

    /// The findings on a stop with each siphon break clogged in turn.
    fn clogged(&mut self, running: &EndOfState, stopped: &StateReport) -> Vec<Finding> {
        let mut found = Vec::new();
        for (place, built) in clogged::all(self.layout, self.catalogue) {
            let Some(run) = self.layout.runs.get(place) else {
                continue;
            };
            match states::stopped(self.layout, &built, running) {
                Ok(clogged) => {
                    let reports = (stopped, &clogged.report);
                    found.extend(check::clogged_break(self.layout, &run.id, reports));
                }
                Err(failed) => self.fail(&[State::Stopped], &failed),
            }
        }
        found
    }

    fn variants(&mut self, rest: &EndOfState, running: &EndOfState) {
        let stands = variants::VariantBaseline { rest, running };
        let normal = &self.evaluation;
        match variants::variants(self.layout, self.catalogue, &stands, normal) {
            Ok(variants) => self.evaluation.variants = variants,
            Err(failed) => self.fail(&[State::Running], &failed),
        }
    }

    fn marks(&mut self) {
        match self.dry_weather_marks() {
            Ok(marks) => {
                let told = marks.as_ref().and_then(check::no_room);
                self.evaluation.findings.extend(told);
                self.evaluation.marks = marks;
            }
            Err(failed) => self.fail(&[State::Stopped], &failed),
        }
    }

    /// Vessels are filled in dry weather: in rain every fill ends at the same overflow, and gives no information.
    fn dry_weather_marks(&self) -> Result<Option<FillMarks>, StateNotConverged> {
        if self.layout.weather.rain_m_s == 0.0 {
            return states::fill_marks(self.layout, &self.tall);
        }
        let mut layout = self.layout.clone();
        layout.weather.rain_m_s = 0.0;
        let tall = both(&layout, self.catalogue, Walls::Tall, Age::New);
        states::fill_marks(&layout, &tall)
    }

    fn fail(&mut self, states: &[State], failed: &StateNotConverged) {
        let asked = states.iter().filter(|state| self.wanted.contains(state));
        let unsolved = asked.map(|state| (*state, failed.about.clone()));
        self.evaluation.unsolved.extend(unsolved);
    }
}

/// Evaporation of all vessels at their present levels, m³/s.
fn evaporation(layout: &Layout, report: &StateReport) -> f64 {
    let vessels = layout.vessels.iter().zip(&report.vessels);
    let dry = |(vessel, here): (&Vessel, &VesselReport)| {
        let level_m = here.with_spill.map(|spill| spill.level_m).or(here.level_m);
        evaporation_m3_s(layout, vessel, level_m.unwrap_or(vessel.rim_m))
    };
    vessels.map(dry).sum()
}

fn both(layout: &Layout, catalogue: &Catalogue, walls: Walls, age: Age) -> PumpsOnAndOff {
    let lowered = |pumps| lower(layout, catalogue, Situation { pumps, walls, age });
    PumpsOnAndOff {
        on: lowered(Pumps::On),
        off: lowered(Pumps::Off),
    }
}

/// The running state by a direct steady-state solve from the fill levels: fast, and exact where no
/// water is lost at rest or retained on the way. None where it does not converge.
pub fn preview(layout: &Layout, catalogue: &Catalogue) -> Option<StateReport> {
    preview_near(layout, catalogue, None)
}

/// As [`preview`], with `near` as the initial guess, the running state of an almost identical layout, as
/// while something is dragged. The result is the same, and faster.
pub fn preview_near(
    layout: &Layout,
    catalogue: &Catalogue,
    near: Option<&StateReport>,
) -> Option<StateReport> {
    previewed(layout, &lowered(layout, catalogue), near)
}

/// A preview, with its findings.
#[derive(Clone, Debug, PartialEq)]
pub struct Previewed {
    /// The running state.
    pub report: StateReport,
    /// Its findings, worst first, without cures.
    pub findings: Vec<Finding>,
    /// The problems of the drawing that some of the findings are about.
    pub problems: Vec<Problem>,
}

/// As [`preview_near`], checked like the state itself: its findings can differ from those of a full simulation only
/// where water is lost on the way.
pub fn checked_preview(
    layout: &Layout,
    catalogue: &Catalogue,
    near: Option<&StateReport>,
) -> Option<Previewed> {
    let lowered = lowered(layout, catalogue);
    let report = previewed(layout, &lowered, near)?;
    let mut told = Evaluation::default();
    told.add_problems(&lowered);
    told.add(layout, &lowered, report);
    let mut findings = check::without_repeats(told.findings);
    check::worst_first(&mut findings);
    let report = told.states.pop()?;
    Some(Previewed {
        report,
        findings,
        problems: lowered.problems,
    })
}

fn previewed(layout: &Layout, tall: &Lowered, near: Option<&StateReport>) -> Option<StateReport> {
    let filled: Vec<f64> = layout.vessels.iter().map(|vessel| vessel.fill_m).collect();
    states::running_preview(layout, tall, &filled, near).ok()
}

fn lowered(layout: &Layout, catalogue: &Catalogue) -> Lowered {
    let situation = Situation {
        pumps: Pumps::On,
        walls: Walls::Tall,
        age: Age::New,
    };
    lower(layout, catalogue, situation)
}
