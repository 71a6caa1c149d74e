//! What a simulation watches, so that it stops exactly where an event happens.

use super::air_gauges;
use super::system::{NetworkState, System};
use crate::network::{Link, Sense};
use std::sync::Arc;

/// A quantity derived from a network state, metres; it is *up* while it is above 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Gauge {
    /// Level of a node relative to a height.
    Level {
        /// The node.
        node: usize,
        /// The height, metres.
        height_m: f64,
    },
    /// Required head of the inlet of a run in excess of that of everything behind it: up under inlet control.
    Starved {
        /// The run.
        link: usize,
    },
    /// Margin by which the flows of a chain of runs clear the air from their high points: up where they prime it.
    Primes {
        /// The runs.
        links: Arc<[usize]>,
        /// Nodes that feed them, each with the level above which it does not prime them, metres.
        ceilings_m: Arc<[(usize, f64)]>,
    },
    /// Margin by which no air enters a primed chain of runs: down where its siphon breaks.
    StaysPrimed {
        /// The runs.
        links: Arc<[usize]>,
    },
}

/// Which crossing of a gauge ends a simulation.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stop {
    /// None: it is only recorded as an event.
    #[default]
    Never,
    /// Going up.
    Up,
    /// Going down.
    Down,
}

/// A gauge, and whether it ends the simulation.
#[derive(Clone, Debug, PartialEq)]
pub struct Watch {
    /// The watched quantity.
    pub gauge: Gauge,
    /// The crossing that ends the simulation.
    pub stop: Stop,
}

impl Watch {
    /// Recorded as an event; the simulation continues.
    pub fn is_reported(gauge: Gauge) -> Watch {
        Watch {
            gauge,
            stop: Stop::Never,
        }
    }

    /// Whether a crossing in that direction ends the simulation.
    pub(super) fn stops(&self, up: bool) -> bool {
        match self.stop {
            Stop::Never => false,
            Stop::Up => up,
            Stop::Down => !up,
        }
    }
}

impl Gauge {
    /// Value at a state, metres. An index that is not in the network reads 0.
    pub(crate) fn read(&self, system: &System, point: &NetworkState) -> f64 {
        match self {
            Gauge::Level { node, height_m } => {
                point.head_m.get(*node).map_or(0.0, |head| head - height_m)
            }
            Gauge::Starved { link } => starved(system, point, *link),
            Gauge::Primes { links, ceilings_m } => {
                air_gauges::primes(system, point, links, ceilings_m)
            }
            Gauge::StaysPrimed { links } => air_gauges::stays_primed(system, point, links),
        }
    }
}

fn starved(system: &System, point: &NetworkState, link: usize) -> f64 {
    let Some(flat) = system.links.get(link) else {
        return 0.0;
    };
    let flow = point.flow_m3_s[link];
    let Link::Run(run) = flat.law else { return 0.0 };
    if flow == 0.0 {
        return 0.0;
    }
    let [at_source_m, at_target_m] = flat.levels(&point.head_m);
    let (sense, behind_m) = if flow > 0.0 {
        (Sense::Forward, at_target_m)
    } else {
        (Sense::Backward, at_source_m)
    };
    run.starved_m(sense, flow.abs(), behind_m)
}
