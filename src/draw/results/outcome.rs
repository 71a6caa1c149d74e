//! Text on the two outcomes of a state: which runs are primed, and how the levels of the other outcome differ.

use super::event_sentence::siphon_broken;
use crate::layout::{Id, Layout, Opening, Run, Vent};
use crate::states::EventKind;
use crate::states::report::{Control, Outcome, RunReport, StateReport, VesselReport};
use crate::units::{Quantity, UnitSystem, span, write};
use std::collections::HashSet;

/// Change of level above which it is reported, metres.
pub const REPORTED_M: f64 = 0.005;
/// Most vessels named.
const MOST_VESSELS: usize = 6;
/// Most runs named.
const MOST_RUNS: usize = 3;
/// Difference up to which two flows are the same, m³/s.
const SAME_M3_S: f64 = 1e-7;

/// Context for describing outcomes.
#[derive(Clone, Copy)]
pub struct Outcomes<'a> {
    /// Layout of the reports.
    pub layout: &'a Layout,
    /// Returns the name of a part.
    pub name: &'a dyn Fn(&Id) -> String,
    /// Units of the levels.
    pub units: UnitSystem,
}

/// Outcome that is described to a user who looks at the other one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhichOutcome {
    /// The main outcome of the state.
    Main,
    /// The other outcome.
    Second,
}

/// Returns the second outcome of a state: the one that is not its main outcome.
///
/// The report of the second may give another outcome, where a run that was primed has drawn air again.
pub fn second_of(main: &StateReport) -> Outcome {
    match main.outcome {
        Outcome::WithAir => Outcome::Primed,
        Outcome::Primed => Outcome::WithAir,
    }
}

/// Returns the second outcome of a state if both are of the same failure; the worst run to block may differ.
pub fn second(main: &StateReport) -> Option<&StateReport> {
    let second = main.primed.as_deref()?;
    let worst = |report: &StateReport| report.blocked.first().map(|case| case.run.clone());
    let other = worst(second).is_some_and(|run| worst(main) != Some(run));
    (!other).then_some(second)
}

impl Outcomes<'_> {
    /// Describes how the levels of the second outcome differ; `None` if there is no second outcome or no level differs
    /// by more than [`REPORTED_M`].
    pub fn second(&self, main: &StateReport) -> Option<String> {
        self.other(main, WhichOutcome::Second)
    }

    /// Describes how the levels of one outcome differ from those of the other; `None` if no level differs by more than
    /// [`REPORTED_M`]. `told`: the outcome described.
    pub fn other(&self, main: &StateReport, told: WhichOutcome) -> Option<String> {
        let second = second(main)?;
        let (here, there) = match told {
            WhichOutcome::Main => (second, main),
            WhichOutcome::Second => (main, second),
        };
        let levels = self.levels(here, there);
        if levels.is_empty() {
            return None;
        }
        let head = self.head(main, second, told);
        let levels = levels.join("; ");
        let broke = match told {
            WhichOutcome::Main => None,
            WhichOutcome::Second => self.broke(second),
        };
        Some(match broke {
            Some(broke) => format!("{head}: {levels}. {broke}."),
            None => format!("{head}: {levels}."),
        })
    }

    /// Returns a sentence with the primed runs of a state; `None` if there are none apart from pumped ones.
    pub fn primed(&self, report: &StateReport) -> Option<String> {
        let runs = self.primed_runs(report);
        let names: Vec<String> = runs.iter().map(|id| (self.name)(id)).collect();
        match names.as_slice() {
            [] => None,
            [one] => Some(format!("Primed: {one} runs full over its high point.")),
            many => Some(format!(
                "Primed: {} run full over their high points.",
                list(many)
            )),
        }
    }

    fn primed_runs(&self, report: &StateReport) -> Vec<Id> {
        let shut = match report.outcome {
            Outcome::Primed => self.with_shut_vent(),
            Outcome::WithAir => HashSet::new(),
        };
        let full = |run: &&RunReport| {
            run.air.is_some_and(|air| air.primed) && run.control != Control::Pumped
        };
        let runs = report.runs.iter();
        let primed = runs.filter(|run| full(run) || shut.contains(&run.id));
        primed.map(|run| run.id.clone()).collect()
    }

    /// Returns the raised-intake overflows without an open vent.
    fn with_shut_vent(&self) -> HashSet<&Id> {
        let runs = self.layout.runs.iter();
        runs.filter(|run| has_shut_vent(run))
            .map(|run| &run.id)
            .collect()
    }

    /// Returns the beginning of a sentence on an outcome.
    fn head(&self, main: &StateReport, second: &StateReport, told: WhichOutcome) -> String {
        let runs = match main.outcome {
            Outcome::WithAir => self.that_prime(main, second),
            Outcome::Primed => {
                let by_hand = self.layout.runs.iter().filter(|run| run.starts_primed);
                by_hand.map(|run| run.id.clone()).collect()
            }
        };
        let names: Vec<String> = runs.iter().map(|id| (self.name)(id)).collect();
        let named = !names.is_empty() && names.len() <= MOST_RUNS;
        let (names, is) = (list(&names), if runs.len() == 1 { "is" } else { "are" });
        match (main.outcome, told) {
            (Outcome::WithAir, WhichOutcome::Second) if named => {
                format!("Once {names} {is} primed")
            }
            (Outcome::WithAir, WhichOutcome::Second) => "Once primed".to_owned(),
            (Outcome::WithAir, WhichOutcome::Main) if named => format!("With air in {names}"),
            (Outcome::WithAir, WhichOutcome::Main) => "With air at the high points".to_owned(),
            (Outcome::Primed, WhichOutcome::Second) if named => format!("If nobody fills {names}"),
            (Outcome::Primed, WhichOutcome::Second) => "If nobody fills the siphons".to_owned(),
            (Outcome::Primed, WhichOutcome::Main) if named => {
                format!("With {names} filled by hand")
            }
            (Outcome::Primed, WhichOutcome::Main) => "With the siphons filled by hand".to_owned(),
        }
    }

    /// Returns the runs with air in the main outcome that the second primes, or has primed until they drew air.
    fn that_prime(&self, main: &StateReport, second: &StateReport) -> Vec<Id> {
        let course = second.course.iter().flat_map(|course| &course.told);
        let turned: Vec<&Id> = course
            .filter(|told| matches!(told.what, EventKind::SiphonPrimed | EventKind::SiphonBroken))
            .filter_map(|told| told.about.first())
            .collect();
        let shut = self.with_shut_vent();
        let runs = main.runs.iter().zip(&second.runs);
        let primes = |(before, after): &(&RunReport, &RunReport)| {
            let air = before.air.zip(after.air);
            let moved_m3_s = after.flow_m3_s - before.flow_m3_s;
            air.is_some_and(|(before, after)| !before.primed && after.primed)
                || turned.contains(&&before.id)
                || shut.contains(&before.id) && moved_m3_s.abs() > SAME_M3_S
        };
        runs.filter(primes).map(|(run, _)| run.id.clone()).collect()
    }

    /// Describes the vessels whose level differs between `here` and `there`; the largest changes first if there are too
    /// many to name.
    fn levels(&self, here: &StateReport, there: &StateReport) -> Vec<String> {
        let vessels = here.vessels.iter().zip(&there.vessels);
        let changes = vessels.filter_map(|(before, after)| self.change(before, after));
        let mut changes: Vec<(f64, String)> = changes.collect();
        let left = changes.len().saturating_sub(MOST_VESSELS);
        if left > 0 {
            changes.sort_by(|a, b| b.0.total_cmp(&a.0));
            changes.truncate(MOST_VESSELS);
        }
        let mut words: Vec<String> = changes.into_iter().map(|change| change.1).collect();
        match left {
            0 => {}
            1 => words.push("one more vessel changes".to_owned()),
            many => words.push(format!("{many} more vessels change")),
        }
        words
    }

    /// Returns the change of level of a vessel, metres, and its description; `None` up to [`REPORTED_M`].
    fn change(&self, before: &VesselReport, after: &VesselReport) -> Option<(f64, String)> {
        let name = (self.name)(&after.id);
        let (spilled, spills) = (before.is_over_rim(), after.is_over_rim());
        let moved_m = match (before.level_m, after.level_m) {
            (Some(before_m), Some(after_m)) => after_m - before_m,
            (None, None) => return None,
            _ => f64::INFINITY,
        };
        if moved_m.abs() <= REPORTED_M {
            return None;
        }
        let level = |level_m: f64| write(Quantity::Height, level_m, self.units);
        let words = match (after.level_m, spilled, spills) {
            (_, false, true) => format!("{name} spills"),
            (Some(level_m), true, false) => {
                format!("{name} stands at {} and does not spill", level(level_m))
            }
            (Some(level_m), ..) => {
                let way = if moved_m > 0.0 { "higher" } else { "lower" };
                let size = level(moved_m.abs());
                format!("{name} stands {size} {way}, at {}", level(level_m))
            }
            (None, ..) => format!("{name} spills"),
        };
        Some((moved_m.abs(), words))
    }

    /// Describes the first run that draws air in the simulation, and when.
    fn broke(&self, second: &StateReport) -> Option<String> {
        let mut told = second.course.as_ref()?.told.iter();
        let broke = told.find(|told| told.what == EventKind::SiphonBroken)?;
        let run = (self.name)(broke.about.first()?);
        Some(format!(
            "{} after {}",
            siphon_broken(&run),
            span(broke.time_s)
        ))
    }
}

/// Returns whether the run is a raised-intake overflow without an open vent.
fn has_shut_vent(run: &Run) -> bool {
    let shut = |opening: &Option<Opening>| {
        matches!(
            opening,
            Some(Opening::RaisedIntake {
                vent: Vent::Shut,
                ..
            })
        )
    };
    shut(&run.from.opening) || shut(&run.to.opening)
}

/// Joins names as `a`, `a and b` or `a, b and c`.
fn list(words: &[String]) -> String {
    match words.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    }
}
