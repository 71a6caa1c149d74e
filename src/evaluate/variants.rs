//! The same layout run otherwise: in its named ways, with its coldest and warmest water, with filters that call
//! to be washed.

use super::{Evaluation, both};
use crate::catalogue::Catalogue;
use crate::finding::{Finding, State};
use crate::layout::{Id, Layout, Way};
use crate::lower::{Age, Walls};
use crate::states::report::StateReport;
use crate::states::{self, EndOfState, PumpsOnAndOff, StateNotConverged, Washing};

/// What is otherwise.
#[derive(Clone, Debug, PartialEq)]
pub enum Case {
    /// A named way of running.
    Way(Id),
    /// The temperature of the water, °C.
    Water(f64),
    /// Filters that call to be washed.
    AtWash,
}

/// A layout run otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// What is otherwise.
    pub case: Case,
    /// The state *running*, so.
    pub running: StateReport,
    /// What the check says of it that it does not say of the layout as drawn.
    pub findings: Vec<Finding>,
    /// What it takes, where it is a washing.
    pub washing: Option<Washing>,
}

/// Where the layout as drawn stands: at rest, and while it runs.
pub(super) struct VariantBaseline<'a> {
    pub rest: &'a EndOfState,
    pub running: &'a EndOfState,
}

/// Every way in which `layout` may be run otherwise, solved like the layout itself; `normal` is what was said
/// of that.
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
        told.findings.extend(tall.on.findings.iter().cloned());
        told.add(&layout, &tall.on, running.report);
        let washing = washing(&layout, &otherwise, &built, stands.running)?;
        let findings = new_in(told.findings, &normal.findings);
        all.extend(told.states.pop().map(|running| Variant {
            case: otherwise,
            running,
            findings,
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
