//! The network: levels at nodes, laws on the links between them.
//!
//! Invariant: knows numbers only. No name, no part, no pixel: the mapping from numbers to parts is kept by whoever
//! built the network.

mod law;
mod link;
mod port;
mod screened;
mod source;
mod storage;
mod supply;

pub use law::{FlowControl, RequiredHead, Sense, Threshold};
pub use link::{Check, PumpLaw, Raised, RimLaw, RunLaw};
pub use port::{Outlet, Port, Sill};
pub use source::{FloatInflow, Source};
pub use storage::{Segment, Storage};
pub use supply::{Supply, supply};

use petgraph::graph::DiGraph;

/// Where flows meet.
#[derive(Clone, Debug, PartialEq)]
pub enum Node {
    /// A free surface that holds water.
    Vessel {
        /// Level–volume curve.
        storage: Storage,
        /// Initial level, metres.
        level_m: f64,
        /// External inflow.
        source: Source,
    },
    /// A connection of runs, without storage.
    Joint {
        /// Constant external inflow, m³/s.
        source_m3_s: f64,
    },
    /// A fixed level.
    Fixed {
        /// The level, metres.
        level_m: f64,
    },
}

/// A connection that passes water from one node to another.
#[derive(Clone, Debug, PartialEq)]
pub enum Link {
    /// A run of pipe.
    Run(Box<RunLaw>),
    /// The rim of a vessel: one direction, over its length.
    Rim(RimLaw),
}

/// Nodes and links; the flow of a link is positive from its source to its target.
pub type Network = DiGraph<Node, Link>;
