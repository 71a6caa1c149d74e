//! Chains of runs that can hold air at their high points: when they prime, and when they draw air and break.

use super::chatter::{ChatterDetector, MOST_TURNS};
use super::hybrid_system::{HybridSystem, Switch, SwitchKind, SwitchMode};
use super::report::Outcome;
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::network::{Link, RunLaw, Sense};
use crate::solve::{ConvergenceError, Gauge, NetworkState, System, TraceOptions, trace};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Duration in which levels stay and flows adjust to them, s.
const BLINK_S: f64 = 1e-6;

/// Runs connected through joints that can hold air at a high point.
pub(super) struct Chain {
    /// Its number, as in the facts of its runs.
    pub number: usize,
    /// The links of all its runs.
    pub links: Arc<[usize]>,
    /// Nodes of the vessels that may feed it, each with its rim, metres: water above a rim cannot prime a chain,
    /// even with walls taken as tall.
    pub rims_m: Arc<[(usize, f64)]>,
}

impl Chain {
    /// Above 0 where it primes by itself.
    pub fn primes(&self) -> Gauge {
        Gauge::Primes {
            links: self.links.clone(),
            ceilings_m: self.rims_m.clone(),
        }
    }

    /// Above 0 while it draws no air.
    pub fn stays_primed(&self) -> Gauge {
        Gauge::StaysPrimed {
            links: self.links.clone(),
        }
    }
}

/// A switch for every chain with a run that can hold air.
pub(super) fn switches(layout: &Layout, lowered: &Lowered) -> Vec<Switch> {
    let origin = &lowered.origin;
    let runs = origin.runs.iter().zip(&origin.run_facts).enumerate();
    let mut chains: BTreeMap<usize, (Vec<usize>, Option<usize>)> = BTreeMap::new();
    for (run, (&link, facts)) in runs {
        let chain = chains.entry(facts.chain).or_default();
        chain.0.push(link);
        if run_law(lowered, link).is_some_and(can_prime) {
            chain.1.get_or_insert(run);
        }
    }
    let found = chains.into_iter().filter_map(|(number, (links, run))| {
        let run = run?;
        Some(Switch {
            part: layout.runs.get(run)?.id.clone(),
            run,
            link: *origin.runs.get(run)?,
            kind: SwitchKind::Chain(Chain {
                number,
                rims_m: rims_m(layout, lowered, &links).into(),
                links: links.into(),
            }),
        })
    });
    found.collect()
}

/// Nodes of the vessels at the ends of these links, each with its rim, metres; empty where nothing can spill.
fn rims_m(layout: &Layout, lowered: &Lowered, links: &[usize]) -> Vec<(usize, f64)> {
    let ends = links.iter().filter_map(|&link| {
        let (source, target) = lowered.network.edge_endpoints((link as u32).into())?;
        Some([source.index(), target.index()])
    });
    let mut nodes: Vec<usize> = ends.flatten().collect();
    nodes.sort_unstable();
    nodes.dedup();
    let rim = |node: usize| {
        let place = lowered.origin.vessels.iter().position(|at| *at == node)?;
        let vessel = layout.vessels.get(place)?;
        let can_spill = vessel.rim_perimeter_m != Some(0.0);
        can_spill.then_some((node, vessel.rim_m))
    };
    nodes.into_iter().filter_map(rim).collect()
}

/// The law of a run by its link; none for a rim.
pub(super) fn run_law(lowered: &Lowered, link: usize) -> Option<&RunLaw> {
    match lowered.network.edge_weight((link as u32).into())? {
        Link::Run(law) => Some(law),
        Link::Rim(_) => None,
    }
}

/// Whether a run has a high point without a vent.
pub(super) fn can_prime(law: &RunLaw) -> bool {
    let marched = [Sense::Forward, Sense::Backward]
        .into_iter()
        .filter_map(|sense| law.grade_with_air(sense));
    let raised = law.raised.as_ref().is_some_and(|raised| !raised.vented);
    raised || marched.into_iter().any(|grade| grade.profile().can_prime())
}

/// Numbers of the chains that are filled by hand before use.
pub(super) fn filled_by_hand(layout: &Layout, lowered: &Lowered) -> Vec<usize> {
    let facts = layout.runs.iter().zip(&lowered.origin.run_facts);
    let filled = facts.filter(|(run, _)| run.starts_primed);
    filled.map(|(_, facts)| facts.chain).collect()
}

/// Numbers of the primed chains.
pub(super) fn primed(lowered: &Lowered) -> Vec<usize> {
    let runs = lowered.origin.runs.iter().zip(&lowered.origin.run_facts);
    let is_primed = |link: usize| run_law(lowered, link).is_some_and(|law| law.primed);
    let primed = runs.filter(|(link, _)| is_primed(**link));
    let mut chains: Vec<usize> = primed.map(|(_, facts)| facts.chain).collect();
    chains.sort_unstable();
    chains.dedup();
    chains
}

/// Whether air or water stands at the high points of the runs that can hold air.
pub(super) fn outcome(lowered: &Lowered) -> Outcome {
    let laws = lowered
        .origin
        .runs
        .iter()
        .filter_map(|&link| run_law(lowered, link));
    let mut holding = laws.filter(|law| can_prime(law)).peekable();
    if holding.peek().is_some() && holding.all(|law| law.primed) {
        Outcome::Primed
    } else {
        Outcome::WithAir
    }
}

impl HybridSystem<'_> {
    /// The same modes with every chain primed; none where no chain holds air.
    pub fn all_primed(&self, modes: &[SwitchMode]) -> Option<Vec<SwitchMode>> {
        let with_air = |mode: &SwitchMode| *mode == SwitchMode::WithAir;
        modes.iter().any(with_air).then(|| {
            let primed = |mode: &SwitchMode| {
                if with_air(mode) {
                    SwitchMode::Primed
                } else {
                    *mode
                }
            };
            modes.iter().map(primed).collect()
        })
    }

    /// Updates the chains to the flows that their present modes lead to: one whose air is cleared primes, one that
    /// draws air breaks. Levels stay. Returns the state with those flows and heads of joints.
    pub fn settle_air(
        &self,
        modes: &mut [SwitchMode],
        from: &NetworkState,
        restless: &ChatterDetector,
    ) -> Result<NetworkState, ConvergenceError> {
        let mut point = from.clone();
        let is_chain = |switch: &Switch| matches!(switch.kind, SwitchKind::Chain(_));
        if !self.switches.iter().any(is_chain) {
            return Ok(point);
        }
        for _ in 0..MOST_TURNS {
            let lowered = self.lowered(modes);
            let system = System::new(&lowered.network);
            point = from.clone();
            point.flow_m3_s.resize(lowered.network.edge_count(), 0.0);
            let blink = TraceOptions {
                until_s: Some(BLINK_S),
                ..TraceOptions::default()
            };
            let after = trace(&system, &point, &blink)?.end;
            point.flow_m3_s = after.flow_m3_s;
            for &joint in &lowered.origin.joints {
                point.head_m[joint] = after.head_m[joint];
            }
            if !self.turn(modes, (&system, &point), restless) {
                break;
            }
        }
        Ok(point)
    }

    /// Switches every chain whose mode contradicts its gauge; returns whether any switched.
    pub fn turn(
        &self,
        modes: &mut [SwitchMode],
        (system, point): (&System, &NetworkState),
        restless: &ChatterDetector,
    ) -> bool {
        let mut turned = false;
        for (index, (switch, mode)) in self.switches.iter().zip(modes).enumerate() {
            if restless.is_left(index) {
                continue;
            }
            let SwitchKind::Chain(chain) = &switch.kind else {
                continue;
            };
            let next = match mode {
                SwitchMode::Primed if chain.stays_primed().read(system, point) <= 0.0 => {
                    SwitchMode::WithAir
                }
                SwitchMode::WithAir if chain.primes().read(system, point) > 0.0 => {
                    SwitchMode::Primed
                }
                _ => continue,
            };
            *mode = next;
            turned = true;
        }
        turned
    }
}
