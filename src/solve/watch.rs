//! What is watched in a trace, so that it is stopped exactly where something happens.

use super::system::{Point, System};
use crate::network::{Link, Sense};

/// A quantity of a point, metres; it is *up* while it is over 0.
#[derive(Clone, Copy, Debug, PartialEq)]
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
    /// Grade that the leg behind the crest of a raised intake needs, over the crown of the crest: up
    /// while that leg runs full there.
    CrestFull {
        /// The run.
        link: usize,
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
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Watch {
    /// What is watched.
    pub gauge: Gauge,
    /// What ends the trace.
    pub stop: Stop,
}

impl Watch {
    /// Told, and the trace goes on.
    pub fn told(gauge: Gauge) -> Watch {
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
    pub(crate) fn read(&self, system: &System, point: &Point) -> f64 {
        match *self {
            Gauge::Level { node, height_m } => {
                point.head_m.get(node).map_or(0.0, |head| head - height_m)
            }
            Gauge::Starved { link } => starved(system, point, link),
            Gauge::CrestFull { link } => crest_full(system, point, link),
        }
    }
}

fn starved(system: &System, point: &Point, link: usize) -> f64 {
    let Some(flat) = system.links.get(link) else {
        return 0.0;
    };
    let flow = point.flow_m3_s[link];
    let Link::Run(run) = flat.law else { return 0.0 };
    if flow == 0.0 {
        return 0.0;
    }
    let [at_source_m, at_target_m] = flat.levels(&point.head_m);
    let (sense, end, behind_m) = if flow > 0.0 {
        (Sense::Forward, 0, at_target_m)
    } else {
        (Sense::Backward, 1, at_source_m)
    };
    let asked = run.ends[end].intake_m() + run.ends[end].inlet.head_for(flow.abs()).value;
    asked - run.need(sense, flow.abs(), behind_m).head_m
}

fn crest_full(system: &System, point: &Point, link: usize) -> f64 {
    let Some(flat) = system.links.get(link) else {
        return 0.0;
    };
    let flow = point.flow_m3_s[link];
    let Link::Run(run) = flat.law else { return 0.0 };
    let Some(raised) = run.raised.as_ref().filter(|_| flow > 0.0) else {
        return f64::MIN_POSITIVE.copysign(-1.0);
    };
    let [_, target_m] = flat.levels(&point.head_m);
    let behind =
        run.tail_m(Sense::Forward, flow, target_m) + run.loss_along(Sense::Forward).at(flow).value;
    behind - (raised.crest_m + run.loss.bore_m)
}
