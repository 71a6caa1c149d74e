//! Index of the results of a state by part.

use crate::catalogue::{Actuation, Catalogue};
use crate::evaluate::{SAME_LEVEL_M, same_flow};
use crate::finding::{Code, Finding, Severity};
use crate::layout::{CurveForm, Id, Run, ValveUse};
use crate::state::State;
use crate::states::report::{Control, PumpReport, Regime, RunReport, StateReport, VesselReport};
use crate::units::{self, Quantity, UnitSystem};
use std::collections::{HashMap, HashSet};

/// Smallest flow that counts as flow, m³/s.
pub(in crate::draw) const NO_FLOW_M3_S: f64 = 1e-7;

/// Results of a state by the id of the part; empty if no state is known.
pub(in crate::draw) struct Reports<'s> {
    vessels: HashMap<&'s Id, &'s VesselReport>,
    runs: HashMap<&'s Id, &'s RunReport>,
    pumps: HashMap<&'s Id, &'s PumpReport>,
    /// Worst severity of the findings about a part, apart from spills, which its level shows.
    said: HashMap<&'s Id, Severity>,
    /// Worst severity of the findings of which a part is the cause.
    blamed: HashMap<&'s Id, Severity>,
    /// Vessels of which the spill is only worth a note.
    splashed: HashSet<&'s Id>,
    /// Levels and flows of the results to compare with.
    levels_m: HashMap<&'s Id, f64>,
    flows_m3_s: HashMap<&'s Id, f64>,
}

impl<'s> Reports<'s> {
    pub fn of(water: Option<&'s StateReport>, findings: &'s [Finding]) -> Reports<'s> {
        let mut said = HashMap::new();
        let mut blamed = HashMap::new();
        for finding in findings {
            let mut about = finding.about.iter();
            let first = about.next().filter(|_| finding.code != Code::Spills);
            worse(&mut said, first, finding.severity);
            for id in about.filter(|_| !is_of_curve(finding.code)) {
                worse(&mut blamed, Some(id), finding.severity);
            }
        }
        Reports {
            said,
            blamed,
            splashed: water.map(splashed).unwrap_or_default(),
            levels_m: HashMap::new(),
            flows_m3_s: HashMap::new(),
            vessels: by_id(water.map(|water| &water.vessels), |one| &one.id),
            runs: by_id(water.map(|water| &water.real().runs), |one| &one.id),
            pumps: by_id(water.map(|water| &water.real().pumps), |one| &one.id),
        }
    }

    /// Returns the same index with results to compare with.
    pub fn against(mut self, other: Option<&'s StateReport>) -> Reports<'s> {
        let vessels = other.into_iter().flat_map(|other| &other.vessels);
        let levels = vessels.filter_map(|one| Some((&one.id, one.stands_m()?)));
        self.levels_m = levels.collect();
        let runs = other.into_iter().flat_map(|other| &other.real().runs);
        self.flows_m3_s = runs.map(|one| (&one.id, one.flow_m3_s)).collect();
        self
    }

    /// Returns the level of a vessel in the results to compare with, metres; `None` if it does not differ.
    pub fn other_level_m(&self, id: &Id) -> Option<f64> {
        let was_m = *self.levels_m.get(id)?;
        let is_m = self.vessel(id)?.stands_m()?;
        ((is_m - was_m).abs() >= SAME_LEVEL_M).then_some(was_m)
    }

    /// Returns the flow of a run in the results to compare with, m³/s; `None` if it does not differ.
    pub fn other_flow_m3_s(&self, id: &Id) -> Option<f64> {
        let was = *self.flows_m3_s.get(id)?;
        let is = self.run(id)?.flow_m3_s;
        (!same_flow(was, is)).then_some(was)
    }

    pub fn vessel(&self, id: &Id) -> Option<&'s VesselReport> {
        self.vessels.get(id).copied()
    }

    pub fn run(&self, id: &Id) -> Option<&'s RunReport> {
        self.runs.get(id).copied()
    }

    pub fn pump(&self, id: &Id) -> Option<&'s PumpReport> {
        self.pumps.get(id).copied()
    }

    /// Returns whether the spill of a vessel is only worth a note.
    pub fn only_splashed(&self, id: &Id) -> bool {
        self.splashed.contains(id)
    }

    /// Returns the worst severity of the findings about a part, apart from spills.
    pub fn said(&self, id: &Id) -> Option<Severity> {
        self.said.get(id).copied()
    }

    /// Returns the worst severity of the findings of which a part is the cause.
    pub fn blamed(&self, id: &Id) -> Option<Severity> {
        self.blamed.get(id).copied()
    }
}

/// Returns whether the finding is about a pump curve, of which no other part is the cause.
fn is_of_curve(code: Code) -> bool {
    matches!(
        code,
        Code::CurveGuessed | Code::CurveRises | Code::PumpOffCurve
    )
}

fn splashed(water: &StateReport) -> HashSet<&Id> {
    let spilled = water.vessels.iter().filter(|one| one.with_spill.is_some());
    let splashed = spilled.filter(|one| water.only_splashes(one));
    splashed.map(|one| &one.id).collect()
}

/// Keeps the worse of the known severity of a part and this one.
fn worse<'s>(known: &mut HashMap<&'s Id, Severity>, id: Option<&'s Id>, severity: Severity) {
    let Some(id) = id else { return };
    let worst = known.entry(id).or_insert(severity);
    *worst = severity.min(*worst);
}

fn by_id<T>(list: Option<&Vec<T>>, id: fn(&T) -> &Id) -> HashMap<&Id, &T> {
    list.into_iter()
        .flatten()
        .map(|one| (id(one), one))
        .collect()
}

/// Returns whether there is water in a run.
pub(in crate::draw) fn is_wet(report: Option<&RunReport>) -> bool {
    report.is_some_and(|report| report.control != Control::Dry)
}

/// Returns whether a valve in the run is a check valve.
pub(in crate::draw) fn has_check_valve(run: &Run) -> bool {
    let acts = |valve: &ValveUse| Some(Catalogue::builtin().valve(&valve.kind)?.acts);
    run.valves
        .iter()
        .any(|valve| acts(valve) == Some(Actuation::Check))
}

/// Returns whether the run is shut suddenly in the blocked state, rather than by a valve.
pub(in crate::draw) fn is_blocked(
    water: Option<&StateReport>,
    run: &Run,
    report: &RunReport,
) -> bool {
    let asked = water.is_some_and(|water| water.state == State::Blocked);
    let open_valves = run.valves.iter().all(|valve| valve.opening > 0.0);
    asked && report.control == Control::Shut && open_valves && !has_check_valve(run)
}

/// Returns the depth of water in a run at a share of its length from its `from` end: 0 to 1 of the bore.
pub(in crate::draw) fn depth_share(report: &RunReport, share: f64) -> f64 {
    if report.control == Control::Dry {
        return 0.0;
    }
    let marched = || along_profile(report, share * report.length_m);
    let share = match report.regime {
        Regime::Full | Regime::None => 1.0,
        Regime::PartFull => marched().unwrap_or(HALF),
        Regime::Surging => marched().unwrap_or(HALF).max(HALF),
        // Inlet control with air downstream: the water runs down the wall as a film.
        Regime::Free => marched().unwrap_or(SPLASH),
    };
    share.clamp(0.0, 1.0)
}

/// Depth shares where no depth was computed: they only distinguish part-full pipe from full, and a film from either.
const HALF: f64 = 0.5;
const SPLASH: f64 = 0.3;

fn along_profile(report: &RunReport, distance_m: f64) -> Option<f64> {
    let profile = &report.profile;
    let place = profile.partition_point(|point| point.distance_m < distance_m);
    let after = profile.get(place).or(profile.last())?;
    let before = profile.get(place.saturating_sub(1)).unwrap_or(after);
    let gap = after.distance_m - before.distance_m;
    let part = match gap > 0.0 {
        true => ((distance_m - before.distance_m) / gap).clamp(0.0, 1.0),
        false => 1.0,
    };
    let depth_m = before.depth_m + (after.depth_m - before.depth_m) * part;
    (report.bore_m > 0.0).then(|| depth_m / report.bore_m)
}

/// Describes how a run is filled.
pub fn filled(regime: Regime) -> &'static str {
    match regime {
        Regime::Full => "full",
        Regime::PartFull => "part full",
        Regime::Surging => "surging",
        Regime::Free => "falling free",
        Regime::None => "no flow",
    }
}

/// Formats the signed difference of a quantity for a reader.
pub fn by_how_much(quantity: Quantity, by: f64, system: UnitSystem) -> String {
    let sign = if by < 0.0 { "−" } else { "+" };
    format!("{sign}{}", units::write(quantity, by.abs(), system))
}

/// Describes the duty of a pump, and whether its curve is a guess.
pub(in crate::draw) fn duty(report: &PumpReport, curve: &CurveForm, system: UnitSystem) -> String {
    if !report.on {
        return "off".to_owned();
    }
    let flow = units::write(Quantity::Flow, report.flow_m3_s, system);
    let head = units::write(Quantity::Head, report.head_m, system);
    let guessed = if curve.is_guess() { ", a guess" } else { "" };
    format!("{flow} at {head}{guessed}")
}
