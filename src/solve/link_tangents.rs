//! The lines of all links about a point, and whether the point is on the laws that they are of.

use super::pressurised::TRICKLE_M3_S;
use super::tangent::{NEXT_TO_NOTHING, Tangent};
use crate::network::{FlowControl, Sense};
use std::ops::Range;

/// Energy error accepted in a run that is held by its losses, metres.
const ENERGY_M: f64 = 1e-9;
/// Flow error accepted in a run, m³/s and as a share.
pub(super) const FLOW_M3_S: f64 = 1e-12;
const FLOW_SHARE: f64 = 1e-9;
/// Flow so near to nothing that head alone may tell whether it holds, m³/s.
const NEAR_NOTHING_M3_S: f64 = 1e-6;

/// Which flows a line may carry.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum AllowedFlow {
    /// None: the link stands closed.
    #[default]
    Nothing,
    Forward,
    Backward,
    BothWays,
    /// What goes over a rim, by its own law.
    Rim,
}

impl AllowedFlow {
    /// Whether a flow of this sign passes.
    #[inline]
    pub fn lets(self, flow: f64) -> bool {
        match self {
            AllowedFlow::Nothing => false,
            AllowedFlow::Forward => flow > 0.0,
            AllowedFlow::Backward => flow < 0.0,
            AllowedFlow::BothWays | AllowedFlow::Rim => true,
        }
    }
}

/// The lines of all links: flow ≈ `flow` + `by_source`·δH(source) + `by_target`·δH(target). Each number in a list
/// of its own: all of them are gone through several times in a step.
#[derive(Default)]
pub(super) struct LinkTangents {
    pub flow: Vec<f64>,
    pub by_source: Vec<f64>,
    pub by_target: Vec<f64>,
    pub passes: Vec<AllowedFlow>,
    /// Those of the links that are not between two joints once more, with all that is known of them.
    pub with_lips: Vec<Tangent>,
}

/// Some of them, one behind the other.
pub(super) struct TangentSlice<'a> {
    pub flow: &'a mut [f64],
    pub by_source: &'a mut [f64],
    pub by_target: &'a mut [f64],
    pub passes: &'a mut [AllowedFlow],
}

impl LinkTangents {
    /// Makes room for so many; what is in it is written before it is read.
    pub fn make_room(&mut self, links: usize, with_lips: usize) {
        for numbers in [&mut self.flow, &mut self.by_source, &mut self.by_target] {
            numbers.resize(links, 0.0);
        }
        self.passes.resize(links, AllowedFlow::Nothing);
        self.with_lips.resize(with_lips, Tangent::default());
    }

    pub fn of(&mut self, links: Range<usize>) -> TangentSlice<'_> {
        TangentSlice {
            flow: &mut self.flow[links.clone()],
            by_source: &mut self.by_source[links.clone()],
            by_target: &mut self.by_target[links.clone()],
            passes: &mut self.passes[links],
        }
    }
}

impl Tangent {
    /// Which flows the line of a run may carry.
    pub fn passes(&self) -> AllowedFlow {
        match self.sense {
            _ if self.two_way => AllowedFlow::BothWays,
            None => AllowedFlow::Nothing,
            Some(Sense::Forward) => AllowedFlow::Forward,
            Some(Sense::Backward) => AllowedFlow::Backward,
        }
    }
}

/// What is found out on the way about the lines of some links.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Found {
    /// One whose flow is not that of its law.
    pub off: bool,
    /// Most that the energy of one is out by that carries a flow, metres.
    pub energy_m: f64,
}

impl Found {
    /// What was found of other lines too.
    pub fn join(&mut self, more: Found) {
        self.off |= more.off;
        self.energy_m = self.energy_m.max(more.energy_m);
    }

    /// Takes note of a line held by its losses.
    #[inline]
    pub fn carry(&mut self, of_line: f64, flow: f64, energy_m: f64) {
        if of_line.abs().max(flow.abs()) > FLOW_M3_S {
            self.energy_m = self.energy_m.max(energy_m);
        }
    }

    /// Takes note of any line, and of whether the flow that stands is of its law.
    pub fn note(&mut self, line: &Tangent, flow: f64) {
        self.off |= !is_lawful(line, flow);
        if line.held == FlowControl::Outlet {
            self.carry(line.flow, flow, line.energy_m.abs());
        }
    }
}

/// Whether the line of a run that stands still and is free both ways ties two ends that are not at one level: what
/// passes there is a trickle over an edge. A mere try keeps that line: it is there sooner, or given up.
pub(super) fn is_let_go(flow: f64, of_line: f64, energy_m: f64) -> bool {
    flow == 0.0 && energy_m.is_finite() && of_line.abs() > NEXT_TO_NOTHING * TRICKLE_M3_S
}

/// Whether a flow is that of its law, whose line about it this is.
fn is_lawful(line: &Tangent, flow: f64) -> bool {
    match line.held {
        FlowControl::Nothing => flow == 0.0,
        // Over a crest a trickle has no slope worth the name: the flow itself must do.
        _ if line.flow.abs().max(flow.abs()) <= FLOW_M3_S => true,
        // The line of an edge is about the level over it: its head is never off, and says nothing of the flow.
        _ if line.over_edge => (line.flow - flow).abs() <= line.last_digit + flow_error(flow),
        // Nor can a head be held closer than to the last digits of the levels. Not asked of a line about another flow.
        _ if line.energy_m.is_finite() && (line.flow - flow).abs() <= line.last_digit => true,
        _ => is_limited_by_losses(line.flow, flow, line.energy_m.abs()),
    }
}

/// The same of a run that is held by its losses, without a branch.
#[inline]
pub(super) fn is_limited_by_losses(of_line: f64, flow: f64, energy_m: f64) -> bool {
    let apart = (of_line - flow).abs();
    let is_trickle = of_line.abs().max(flow.abs()) <= FLOW_M3_S;
    // Where almost no head moves a great flow, head is all that can be held.
    // But a line about another flow than the one that stands says nothing of that one.
    let is_near = apart <= 0.1 * flow.abs().max(NEAR_NOTHING_M3_S);
    let by_head = (energy_m <= ENERGY_M * 1e-3) & is_near;
    is_trickle | by_head | ((apart <= flow_error(flow)) & (energy_m <= ENERGY_M))
}

/// Flow error accepted in a run, m³/s.
fn flow_error(flow: f64) -> f64 {
    FLOW_M3_S + FLOW_SHARE * flow.abs()
}
