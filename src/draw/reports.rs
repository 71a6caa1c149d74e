//! What a state says of each part, found by its id.

use crate::finding::{Code, Finding, Severity};
use crate::layout::{CurveForm, Id};
use crate::states::report::{Control, PumpReport, Regime, RunReport, StateReport, VesselReport};
use crate::units::{self, Quantity, UnitSystem};
use std::collections::HashMap;

/// Less than this does not count as flow, m³/s.
pub(super) const STILL_M3_S: f64 = 1e-7;

/// The reports of a state by the ids of their parts; empty where no state is known.
pub(super) struct Reports<'s> {
    vessels: HashMap<&'s Id, &'s VesselReport>,
    runs: HashMap<&'s Id, &'s RunReport>,
    pumps: HashMap<&'s Id, &'s PumpReport>,
    /// The worst that is said of a part, but that it spills: that is seen from its level.
    said: HashMap<&'s Id, Severity>,
    /// The worst for which a part is to blame.
    blamed: HashMap<&'s Id, Severity>,
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
            vessels: by_id(water.map(|water| &water.vessels), |one| &one.id),
            runs: by_id(water.map(|water| &water.runs), |one| &one.id),
            pumps: by_id(water.map(|water| &water.pumps), |one| &one.id),
        }
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

    /// The worst finding about a part, but that it spills.
    pub fn said(&self, id: &Id) -> Option<Severity> {
        self.said.get(id).copied()
    }

    /// The worst finding for which a part is to blame.
    pub fn blamed(&self, id: &Id) -> Option<Severity> {
        self.blamed.get(id).copied()
    }
}

/// It is about what a pump gives, and no height is to blame for it.
fn is_of_curve(code: Code) -> bool {
    matches!(
        code,
        Code::CurveGuessed | Code::CurveRises | Code::PumpOffCurve
    )
}

/// Keeps the worse of what is known of a part and this.
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

/// How full of water a run is drawn.
pub(super) fn wetness(report: Option<&RunReport>) -> f64 {
    match report {
        None => 0.0,
        Some(report) => match (report.control, report.regime) {
            (Control::Dry, _) => 0.0,
            (_, Regime::Free | Regime::PartFull | Regime::Surging) => 0.65,
            _ => 1.0,
        },
    }
}

/// What a pump does, and whether that is by a curve that was guessed.
pub(super) fn duty(report: &PumpReport, curve: &CurveForm, system: UnitSystem) -> String {
    if !report.on {
        return "off".to_owned();
    }
    let flow = units::write(Quantity::Flow, report.flow_m3_s, system);
    let head = units::write(Quantity::Head, report.head_m, system);
    let guessed = if curve.is_guess() { ", a guess" } else { "" };
    format!("{flow} at {head}{guessed}")
}
