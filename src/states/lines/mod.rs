//! Line fill: runs that are dry at rest take up water at a start and release it at a stop.
//!
//! Runs that meet at joints fill together, from free surface to free surface: until they are full nothing leaves them
//! into a vessel. See `docs/method/line-fill.md`.

mod drain;
mod volume;
mod work;

pub(super) use volume::{Slice, in_runs, sum_m3};
pub(super) use work::LineSimulation;

use super::NO_FLOW_M3_S;
use crate::layout::Layout;
use crate::lower::Lowered;
use crate::solve::NetworkState;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Volume below which runs count as full already, m³: a glassful. Common practice, no source.
const LEAST_M3: f64 = 2e-4;

/// The volumes that the runs of a layout take up, chain by chain.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct FillingLines {
    chains: Vec<Chain>,
}

/// Runs that fill together.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Chain {
    /// Their indices in the layout.
    runs: Vec<usize>,
    /// Those of them that end at a vessel, and the end of the link there at which water leaves.
    outlets: Vec<(usize, usize)>,
    /// Volume that they take up in excess of what stands in them at rest, m³.
    takes_m3: f64,
    /// Volume that stands in each at rest, m³.
    at_rest_m3: Vec<f64>,
    /// The water in each once it is full.
    full: Vec<Vec<Slice>>,
    /// Outflow once they are full, m³/s.
    flow_m3_s: f64,
    /// One of them has a pump.
    pumped: bool,
}

/// The water that the runs have taken up.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct LineWater {
    /// The volumes that could be taken up; none where they were not computed.
    pub lines: Option<Arc<FillingLines>>,
    /// By chain, m³.
    pub taken_m3: Vec<f64>,
}

impl LineWater {
    /// Empty except for what stands in the runs at rest.
    pub fn at_rest(lines: FillingLines) -> LineWater {
        LineWater {
            taken_m3: vec![0.0; lines.chains.len()],
            lines: Some(Arc::new(lines)),
        }
    }

    /// Total volume that the runs have taken up, m³.
    pub fn sum_m3(&self) -> f64 {
        self.taken_m3.iter().sum()
    }
}

impl FillingLines {
    /// The runs that are filled in `running`, a network with its levels and flows, and were not full at `rest`.
    pub fn of(
        layout: &Layout,
        rest: &NetworkState,
        running: (&Lowered, &NetworkState),
    ) -> FillingLines {
        // For the same pipes: those of a stopped pump are assumed to lie differently where no corners are given.
        let at_rest = in_runs(layout, running.0, rest);
        let full = in_runs(layout, running.0, running.1);
        let mut chains: BTreeMap<usize, Chain> = BTreeMap::new();
        let origin = &running.0.origin;
        let runs = origin.runs.iter().zip(&origin.run_facts).enumerate();
        for ((run, (&link, facts)), (full, at_rest)) in runs.zip(full.into_iter().zip(at_rest)) {
            let chain = chains.entry(facts.chain).or_insert_with(Chain::empty);
            chain.pumped |= layout.runs.get(run).is_some_and(|run| run.pump.is_some());
            let flow = running.1.flow_m3_s.get(link).copied().unwrap_or(0.0);
            if flow.abs() < NO_FLOW_M3_S {
                continue;
            }
            let at_rest_m3 = sum_m3(&at_rest);
            chain.takes_m3 += sum_m3(&full) - at_rest_m3;
            chain.at_rest_m3.push(at_rest_m3);
            chain.full.push(full);
            chain.runs.push(run);
            if let Some(end) = outlet(running.0, link, flow) {
                chain.outlets.push((run, end));
                chain.flow_m3_s += flow.abs();
            }
        }
        let fills = |chain: &Chain| chain.takes_m3 >= LEAST_M3 && !chain.outlets.is_empty();
        FillingLines {
            chains: chains.into_values().filter(fills).collect(),
        }
    }

    /// Total volume that they take up, m³.
    pub fn sum_m3(&self) -> f64 {
        self.chains.iter().map(|chain| chain.takes_m3).sum()
    }
}

impl Chain {
    fn empty() -> Chain {
        Chain {
            runs: Vec::new(),
            outlets: Vec::new(),
            takes_m3: 0.0,
            at_rest_m3: Vec::new(),
            full: Vec::new(),
            flow_m3_s: 0.0,
            pumped: false,
        }
    }
}

/// The end of a link at which its flow enters a vessel; none where it enters a joint or a fixed level,
/// or returns to where it came from.
fn outlet(lowered: &Lowered, link: usize, flow: f64) -> Option<usize> {
    let (source, target) = lowered.network.edge_endpoints((link as u32).into())?;
    let end = usize::from(flow > 0.0);
    let node = [source, target][end].index();
    (source != target && lowered.origin.vessels.contains(&node)).then_some(end)
}
