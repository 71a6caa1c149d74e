//! Cases of the same layout: in its named operating modes, with its coldest and warmest water, with filters that
//! need washing.

use super::{Evaluation, both};
use crate::catalogue::Catalogue;
use crate::finding::Finding;
use crate::layout::{Id, Layout, Way};
use crate::lower::problem::Problem;
use crate::lower::{Age, Walls};
use crate::state::State;
use crate::states::report::StateReport;
use crate::states::{self, EndOfState, PumpsOnAndOff, StateNotConverged, Washing};

/// The kind of case.
#[derive(Clone, Debug, PartialEq)]
pub enum Case {
    /// A named operating mode.
    Way(Id),
    /// The temperature of the water, °C.
    Water(f64),
    /// Filters that need washing.
    AtWash,
}

/// The results of a case.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// The kind of case.
    pub case: Case,
    /// Its state *running*.
    pub running: StateReport,
    /// Its findings that the layout as drawn does not have.
    pub findings: Vec<Finding>,
    /// The problems of its drawing that some of the findings are about.
    pub problems: Vec<Problem>,
    /// The washing, where it is one.
    pub washing: Option<Washing>,
}

/// The layout as drawn: at rest, and running.
pub(super) struct VariantBaseline<'a> {
    pub rest: &'a EndOfState,
    pub running: &'a EndOfState,
}

/// Every case of `layout`, solved like the layout itself; `normal` are the findings on that.
pub(super) fn variants(
    layout: &Layout,
    catalogue: &Catalogue,
    stands: &VariantBaseline<'_>,
    normal: &Evaluation,
) -> Result<Vec<Variant>, StateNotConverged> {
    let mut all = Vec::new();
    for (otherwise, layout, age) in cases(layout) {
        let tall = both(&layout, catalogue, Walls::Tall, age);
        let built = both(&layout, catalogue, Walls::AsBuilt, age);
        let sets = (&tall, &built);
        let (running, _) = states::running(&layout, State::Running, sets, stands.rest)?;
        let mut told = Evaluation::default();
        told.add_problems(&tall.on);
        told.add(&layout, &tall.on, running.report);
        let washing = washing(&layout, &otherwise, &built, stands.running)?;
        let findings = new_in(told.findings, &normal.findings);
        all.extend(told.states.pop().map(|running| Variant {
            case: otherwise,
            running,
            findings,
            problems: told.problems.clone(),
            washing,
        }));
    }
    Ok(all)
}

fn cases(layout: &Layout) -> Vec<(Case, Layout, Age)> {
    let ways = layout.ways.iter();
    let mut cases: Vec<(Case, Layout, Age)> = ways
        .map(|way| (Case::Way(way.id.clone()), layout.in_way(way), Age::New))
        .collect();
    let water = &layout.water;
    for temperature_c in [water.cold_c, water.warm_c].into_iter().flatten() {
        let mut other = layout.clone();
        other.water.temperature_c = temperature_c;
        cases.push((Case::Water(temperature_c), other, Age::New));
    }
    let mut equipment = layout.runs.iter().flat_map(|run| &run.equipment);
    if equipment.any(|piece| piece.at_wash.is_some() && !piece.out) {
        cases.push((Case::AtWash, layout.clone(), Age::AtWash));
    }
    cases
}

fn washing(
    layout: &Layout,
    otherwise: &Case,
    built: &PumpsOnAndOff,
    running: &EndOfState,
) -> Result<Option<Washing>, StateNotConverged> {
    let Case::Way(id) = otherwise else {
        return Ok(None);
    };
    let is_it = |way: &&Way| way.id == *id;
    let lasts_s = layout.ways.iter().find(is_it).and_then(|way| way.washing_s);
    match lasts_s {
        Some(lasts_s) => states::washing(layout, built, running, lasts_s).map(Some),
        None => Ok(None),
    }
}

/// Findings of a kind and of a first part that `known` has not, worst first.
fn new_in(findings: Vec<Finding>, known: &[Finding]) -> Vec<Finding> {
    let is_known = |one: &Finding| {
        let mut same = known.iter().filter(|other| {
            other.state == State::Running
                && other.code == one.code
                && other.about.first() == one.about.first()
        });
        same.any(|other| other.severity <= one.severity)
    };
    let mut new: Vec<Finding> = findings.into_iter().filter(|one| !is_known(one)).collect();
    crate::check::worst_first(&mut new);
    new
}
