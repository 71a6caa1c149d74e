//! The linearisations of all links at a state, and whether that state satisfies their laws.

use super::pressurised::TRICKLE_M3_S;
use super::tangent::{NEXT_TO_NOTHING, Tangent};
use crate::network::{FlowControl, Sense};
use std::ops::Range;

/// Energy residual accepted in a run under outlet control, metres.
const ENERGY_M: f64 = 1e-9;
/// Flow residual accepted in a run, absolute in m³/s and relative.
pub(super) const FLOW_M3_S: f64 = 1e-12;
const FLOW_SHARE: f64 = 1e-9;
/// Flow so small that head alone may decide whether the law is satisfied, m³/s.
const NEAR_NOTHING_M3_S: f64 = 1e-6;

/// The flows that a linearisation may carry.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum AllowedFlow {
    /// None: the link is closed.
    #[default]
    Nothing,
    Forward,
    Backward,
    BothWays,
    /// The flow over a rim, by its own law.
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

/// The linearisations of all links: flow ≈ `flow` + `by_source`·δH(source) + `by_target`·δH(target). A structure of
/// arrays, because each is traversed several times in a step.
#[derive(Default)]
pub(super) struct LinkTangents {
    pub flow: Vec<f64>,
    pub by_source: Vec<f64>,
    pub by_target: Vec<f64>,
    pub passes: Vec<AllowedFlow>,
    /// The full linearisation of those links that are not between two joints.
    pub with_lips: Vec<Tangent>,
}

/// A contiguous part of them.
pub(super) struct TangentSlice<'a> {
    pub flow: &'a mut [f64],
    pub by_source: &'a mut [f64],
    pub by_target: &'a mut [f64],
    pub passes: &'a mut [AllowedFlow],
}

impl LinkTangents {
    /// Allocates room for so many; all of it is written before it is read.
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
    /// Which flows the linearisation of a run may carry.
    pub fn passes(&self) -> AllowedFlow {
        match self.sense {
            _ if self.two_way => AllowedFlow::BothWays,
            None => AllowedFlow::Nothing,
            Some(Sense::Forward) => AllowedFlow::Forward,
            Some(Sense::Backward) => AllowedFlow::Backward,
        }
    }
}

/// Observations gathered while linearising a set of links.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Found {
    /// Whether some link has a flow that does not satisfy its law.
    pub off: bool,
    /// Largest energy residual of a link that carries a flow, metres.
    pub energy_m: f64,
}

impl Found {
    /// Merges the observations of other links.
    pub fn join(&mut self, more: Found) {
        self.off |= more.off;
        self.energy_m = self.energy_m.max(more.energy_m);
    }

    /// Records the linearisation of a run under outlet control.
    #[inline]
    pub fn carry(&mut self, of_line: f64, flow: f64, energy_m: f64) {
        if of_line.abs().max(flow.abs()) > FLOW_M3_S {
            self.energy_m = self.energy_m.max(energy_m);
        }
    }

    /// Records any linearisation, and whether the current flow satisfies its law.
    pub fn note(&mut self, line: &Tangent, flow: f64) {
        self.off |= !is_lawful(line, flow);
        if line.held == FlowControl::Outlet {
            self.carry(line.flow, flow, line.energy_m.abs());
        }
    }
}

/// Whether the linearisation of a run without flow, free in both directions, couples two ends at different levels:
/// what passes there is a trickle over an edge. A trial solve keeps such a linearisation: it converges sooner, or is
/// given up.
pub(super) fn is_let_go(flow: f64, of_line: f64, energy_m: f64) -> bool {
    flow == 0.0 && energy_m.is_finite() && of_line.abs() > NEXT_TO_NOTHING * TRICKLE_M3_S
}

/// Whether a flow satisfies its law, given the linearisation of that law at this flow.
fn is_lawful(line: &Tangent, flow: f64) -> bool {
    match line.held {
        FlowControl::Nothing => flow == 0.0,
        // Over a crest a trickle has no usable derivative: the flow itself must do.
        _ if line.flow.abs().max(flow.abs()) <= FLOW_M3_S => true,
        // The linearisation at an edge is in the level over it: its head has no residual and says nothing about the
        // flow.
        _ if line.over_edge => (line.flow - flow).abs() <= line.last_digit + flow_error(flow),
        // Nor can a head be met more closely than the last digits of the levels. This test does not apply at another
        // flow.
        _ if line.energy_m.is_finite() && (line.flow - flow).abs() <= line.last_digit => true,
        _ => is_limited_by_losses(line.flow, flow, line.energy_m.abs()),
    }
}

/// The same for a run under outlet control, without a branch.
#[inline]
pub(super) fn is_limited_by_losses(of_line: f64, flow: f64, energy_m: f64) -> bool {
    let apart = (of_line - flow).abs();
    let is_trickle = of_line.abs().max(flow.abs()) <= FLOW_M3_S;
    // Where almost no head moves a large flow, head is the only usable test. But a linearisation at a flow other
    // than the current one says nothing about the current one.
    let is_near = apart <= 0.1 * flow.abs().max(NEAR_NOTHING_M3_S);
    let by_head = (energy_m <= ENERGY_M * 1e-3) & is_near;
    is_trickle | by_head | ((apart <= flow_error(flow)) & (energy_m <= ENERGY_M))
}

/// Flow residual accepted in a run, m³/s.
fn flow_error(flow: f64) -> f64 {
    FLOW_M3_S + FLOW_SHARE * flow.abs()
}
