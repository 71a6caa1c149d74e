//! Layout in, evaluation out: lower, solve, check. One pure function.
//!
//! Invariant: knows no thread, no clock, no file and no randomness.

use crate::catalogue::Catalogue;
use crate::check::{self, WaterFacts};
use crate::finding::{Finding, State};
use crate::layout::{Id, Layout};
use crate::lower::{Age, Lowered, Pumps, Situation, Walls, lower};
use crate::states::report::StateReport;
use crate::states::{self, Solved, Unsolved};

/// Everything the program knows about one layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Evaluation {
    /// The states that were asked for, in their order, as far as they could be solved.
    pub states: Vec<StateReport>,
    /// What the check has to say, worst first.
    pub findings: Vec<Finding>,
    /// The states that could not be solved, and the parts where the solution failed.
    pub unsolved: Vec<(State, Vec<Id>)>,
    /// The states that were not looked at.
    pub not_checked: Vec<State>,
}

impl Evaluation {
    /// The report of one state.
    pub fn state(&self, state: State) -> Option<&StateReport> {
        self.states.iter().find(|report| report.state == state)
    }

    /// Takes in a state with everything that the check says of it.
    fn add(&mut self, layout: &Layout, lowered: &Lowered, report: StateReport) {
        let water = WaterFacts {
            density_kg_m3: lowered.water.density_kg_m3,
            vapour_pressure_pa: lowered.water.vapour_pressure_pa,
        };
        let facts = &lowered.origin.run_facts;
        self.findings
            .extend(check::check(layout, &report, facts, water));
        self.states.push(report);
    }
}

/// Solves the layout in each of `wanted` and checks it. States that are not built yet, and
/// those that are not asked for, are listed as not checked.
///
/// The running state starts from rest, so rest is solved for it either way.
pub fn evaluate(layout: &Layout, catalogue: &Catalogue, wanted: &[State]) -> Evaluation {
    let mut evaluation = Evaluation {
        not_checked: State::ALL
            .into_iter()
            .filter(|state| !BUILT.contains(state) || !wanted.contains(state))
            .collect(),
        ..Evaluation::default()
    };
    let off = lowered(layout, catalogue, Pumps::Off, Walls::AsBuilt);
    let rest = match states::rest(layout, &off) {
        Ok(rest) => rest,
        Err(failed) => {
            let asked = BUILT.into_iter().filter(|state| wanted.contains(state));
            evaluation.unsolved = asked.map(|state| (state, failed.about.clone())).collect();
            return evaluation;
        }
    };
    if wanted.contains(&State::Running) {
        let tall = lowered(layout, catalogue, Pumps::On, Walls::Tall);
        let running = run_from(layout, catalogue, &tall, &rest);
        if wanted.contains(&State::Rest) {
            evaluation.add(layout, &off, rest.report);
        }
        evaluation.findings.extend(tall.findings.iter().cloned());
        match running {
            Ok(running) => evaluation.add(layout, &tall, running.report),
            Err(failed) => evaluation.unsolved.push((State::Running, failed.about)),
        }
    } else if wanted.contains(&State::Rest) {
        evaluation.findings.extend(off.findings.iter().cloned());
        evaluation.add(layout, &off, rest.report);
    }
    check::worst_first(&mut evaluation.findings);
    evaluation
}

/// The states that are built.
const BUILT: [State; 2] = [State::Rest, State::Running];

fn run_from(
    layout: &Layout,
    catalogue: &Catalogue,
    tall: &Lowered,
    rest: &Solved,
) -> Result<Solved, Unsolved> {
    let built = lowered(layout, catalogue, Pumps::On, Walls::AsBuilt);
    states::running(layout, tall, &built, &rest.levels_m)
}

/// The running state by the direct jump from the filled levels: quick, and exact where no
/// water is lost at rest or left behind on the way. None where it cannot be solved.
pub fn preview(layout: &Layout, catalogue: &Catalogue) -> Option<StateReport> {
    preview_near(layout, catalogue, None)
}

/// As [`preview`]; the search begins at `near`, the running state of a layout that is almost this one, as
/// while something is dragged. The answer is the same, and there sooner.
pub fn preview_near(
    layout: &Layout,
    catalogue: &Catalogue,
    near: Option<&StateReport>,
) -> Option<StateReport> {
    let tall = lowered(layout, catalogue, Pumps::On, Walls::Tall);
    let filled: Vec<f64> = layout.vessels.iter().map(|vessel| vessel.fill_m).collect();
    states::running_preview(layout, &tall, &filled, near).ok()
}

fn lowered(layout: &Layout, catalogue: &Catalogue, pumps: Pumps, walls: Walls) -> Lowered {
    lower(
        layout,
        catalogue,
        Situation {
            pumps,
            walls,
            age: Age::New,
        },
    )
}
