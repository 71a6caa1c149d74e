//! What is watched in a trace, so that it is stopped exactly where something happens.

use super::air_gauges;
use super::system::{NetworkState, System};
use crate::network::{Link, Sense};
use std::sync::Arc;

/// A quantity of a point, metres; it is *up* while it is over 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Gauge {
    /// Level of a node over a height.
    Level {
        /// The node.
        node: usize,
        /// The height, metres.
        height_m: f64,
    },
    /// Head that the inlet of a run asks for over what all behind it asks for: up while the inlet holds
    /// the flow.
    Starved {
        /// The run.
        link: usize,
    },
    /// Margin by which the flows of a chain of runs carry out the air at their high points: up where they prime it.
    Primes {
        /// The runs.
        links: Arc<[usize]>,
        /// Nodes that feed them, each with the level over which it does not prime them, metres.
        ceilings_m: Arc<[(usize, f64)]>,
    },
    /// Margin by which no air comes into a chain of runs that is full of water: down where it breaks.
    StaysPrimed {
        /// The runs.
        links: Arc<[usize]>,
    },
}

/// Which crossing of a gauge ends a trace.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stop {
    /// None: it is only told.
    #[default]
    Never,
    /// When it goes up.
    Up,
    /// When it goes down.
    Down,
}

/// A gauge, and whether it ends the trace.
#[derive(Clone, Debug, PartialEq)]
pub struct Watch {
    /// What is watched.
    pub gauge: Gauge,
    /// What ends the trace.
    pub stop: Stop,
}

impl Watch {
    /// Told, and the trace goes on.
    pub fn is_reported(gauge: Gauge) -> Watch {
        Watch {
            gauge,
            stop: Stop::Never,
        }
    }

    /// Whether a crossing that way ends the trace.
    pub(super) fn stops(&self, up: bool) -> bool {
        match self.stop {
            Stop::Never => false,
            Stop::Up => up,
            Stop::Down => !up,
        }
    }
}

impl Gauge {
    /// Its value at a point, metres. A number that names nothing of the network reads 0.
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
