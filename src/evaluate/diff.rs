//! Diff of two results: levels, flows, findings.

use crate::evaluate::NO_FLOW_M3_S;
use crate::finding::{Code, Finding};
use crate::layout::Id;
use crate::state::State;
use crate::states::report::StateReport;
use std::collections::{BTreeSet, HashMap};

/// Tolerance below which levels and flows are the same: a millimetre, and a half percent of the larger flow.
pub const SAME_LEVEL_M: f64 = 1e-3;
const SAME_SHARE: f64 = 5e-3;
/// A value of one part in two results; none where a result does not have it.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// The part.
    pub id: Id,
    /// In the first.
    pub was: Option<f64>,
    /// In the second.
    pub is: Option<f64>,
}

impl Difference {
    /// The change from the first to the second; none where one of them does not have it.
    pub fn by(&self) -> Option<f64> {
        Some(self.is? - self.was?)
    }
}

/// The levels that differ, metres: those of the second result in its order, then those that only the first has.
pub fn levels_apart(was: &StateReport, is: &StateReport) -> Vec<Difference> {
    let level = |report: &StateReport| -> Vec<(Id, Option<f64>)> {
        let vessels = report.vessels.iter();
        vessels.map(|one| (one.id.clone(), one.level_m)).collect()
    };
    apart(level(was), level(is), |was, is| {
        (is - was).abs() < SAME_LEVEL_M
    })
}

/// The flows that differ, m³/s, positive from start to end as drawn.
pub fn flows_apart(was: &StateReport, is: &StateReport) -> Vec<Difference> {
    let flow = |report: &StateReport| -> Vec<(Id, Option<f64>)> {
        let runs = report.runs.iter();
        runs.map(|one| (one.id.clone(), Some(one.flow_m3_s)))
            .collect()
    };
    apart(flow(was), flow(is), same_flow)
}

/// Whether two flows are practically the same, m³/s.
pub fn same_flow(was: f64, is: f64) -> bool {
    let larger = was.abs().max(is.abs());
    (is - was).abs() < (SAME_SHARE * larger).max(NO_FLOW_M3_S)
}

fn apart(
    was: Vec<(Id, Option<f64>)>,
    is: Vec<(Id, Option<f64>)>,
    same: fn(f64, f64) -> bool,
) -> Vec<Difference> {
    let mut before: HashMap<Id, Option<f64>> = was.iter().cloned().collect();
    let mut all = Vec::new();
    for (id, is) in is {
        let was = before.remove(&id).flatten();
        let alike = match (was, is) {
            (Some(was), Some(is)) => same(was, is),
            (None, None) => true,
            _ => false,
        };
        if !alike {
            all.push(Difference { id, was, is });
        }
    }
    let gone = was.into_iter().filter(|(id, _)| before.contains_key(id));
    all.extend(gone.map(|(id, was)| Difference { id, was, is: None }));
    all
}

/// Findings that only one of two results has: those that are gone, then those that are new. Findings are the same
/// where they have the same code, parts and state, whatever their amounts.
pub fn findings_apart<'f>(
    was: &'f [Finding],
    is: &'f [Finding],
) -> (Vec<&'f Finding>, Vec<&'f Finding>) {
    (only_in(was, is), only_in(is, was))
}

fn only_in<'f>(these: &'f [Finding], those: &[Finding]) -> Vec<&'f Finding> {
    let key = |one: &Finding| -> (Code, State, Vec<Id>) {
        // Parts may be listed in a different order.
        let mut about = one.about.clone();
        about.sort();
        (one.code, one.state, about)
    };
    let known: BTreeSet<(Code, State, Vec<Id>)> = those.iter().map(key).collect();
    let these = these.iter();
    these.filter(|one| !known.contains(&key(one))).collect()
}
