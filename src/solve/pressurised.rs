//! Runs between two joints: pressurised at both ends whatever the levels, always under outlet control.
//!
//! The same law as `network::law` and the same linearisation as `tangent`, without the cases that cannot occur here.
//! In a large network nearly all runs are of this kind: they are computed in SIMD blocks and kept compact.

use super::link_tangents::{AllowedFlow, Found, LinkTangents, is_let_go, is_limited_by_losses};
use super::system::{FlatLink, NetworkState, System};
use crate::hydraulics::losses::loss::Loss;
use crate::hydraulics::losses::loss_block::{AT_A_TIME, Block, Lanes};
use crate::network::{Check, Link, Port};
use std::ops::Range;

/// Flow below which a closed run stays closed, m³/s.
pub(super) const TRICKLE_M3_S: f64 = 1e-15;

/// The prepared laws of such runs, with one lane for every link.
pub(crate) struct PressurisedRuns {
    blocks: Vec<Block>,
    ways: Vec<AllowedDirections>,
}

/// The directions in which water may pass through a link that is such a run.
#[derive(Clone, Copy, Default)]
struct AllowedDirections {
    is_drowned: bool,
    forward: bool,
    backward: bool,
}

impl AllowedDirections {
    fn of(law: &Link) -> AllowedDirections {
        let Link::Run(run) = law else {
            return AllowedDirections::default();
        };
        let is_drowned = run.ends.iter().all(|end| *end == Port::closed())
            && run.loss_back.is_none()
            && run.pump.is_none()
            && run.raised.is_none()
            && run.grades.iter().all(Option::is_none);
        AllowedDirections {
            is_drowned,
            forward: matches!(run.check, Check::None | Check::ForwardOnly),
            backward: matches!(run.check, Check::None | Check::BackwardOnly),
        }
    }

    /// Without a branch: no processor can predict which way a run flows.
    fn allows(self, flow: f64) -> bool {
        ((flow > 0.0) & self.forward) | ((flow < 0.0) & self.backward)
    }

    /// The flows that a linearisation at the flow `base` may carry.
    fn passes(self, base: f64) -> AllowedFlow {
        match (self.forward & self.backward, base) {
            (true, _) => AllowedFlow::BothWays,
            (false, 0.0) => AllowedFlow::Nothing,
            (false, base) if base < 0.0 => AllowedFlow::Backward,
            (false, _) => AllowedFlow::Forward,
        }
    }
}

/// The loss of a link that is a run.
fn loss<'n>(link: &FlatLink<'n>) -> Option<&'n Loss> {
    match link.law {
        Link::Run(run) => Some(&run.loss),
        Link::Rim(_) => None,
    }
}

impl PressurisedRuns {
    /// The prepared laws of those of `links` that are such runs.
    pub fn of(links: &[FlatLink]) -> PressurisedRuns {
        let mut blocks = vec![Block::default(); links.len().div_ceil(AT_A_TIME)];
        let mut ways = Vec::with_capacity(links.len());
        for (index, link) in links.iter().enumerate() {
            let of_link = AllowedDirections::of(link.law);
            if let (true, Some(loss)) = (of_link.is_drowned, loss(link)) {
                blocks[index / AT_A_TIME].put(index % AT_A_TIME, loss);
            }
            ways.push(of_link);
        }
        PressurisedRuns { blocks, ways }
    }

    /// Whether a link is such a run.
    pub fn is(&self, link: usize) -> bool {
        self.ways[link].is_drowned
    }

    /// Flow of such a run at a given velocity, m³/s; 0 where it may not pass, and for other links.
    pub fn at_velocity(&self, index: usize, link: &FlatLink, velocity_m_s: f64) -> f64 {
        let ways = self.ways[index];
        match loss(link) {
            Some(loss) if ways.is_drowned && ways.allows(velocity_m_s) => {
                loss.area_m2() * velocity_m_s
            }
            _ => 0.0,
        }
    }

    /// Approximate flow of such a run between these levels at source and target, m³/s: a starting value for the search.
    pub fn about(&self, index: usize, link: &FlatLink, [source_m, target_m]: [f64; 2]) -> f64 {
        let drop = source_m - target_m;
        match loss(link) {
            Some(loss) if self.ways[index].allows(drop) => {
                let lane = self.blocks[index / AT_A_TIME].of(index % AT_A_TIME);
                lane.about(loss, drop)
            }
            _ => 0.0,
        }
    }
}

/// The flows and levels at which the runs of a block are linearised.
struct Linearisation {
    /// Flow of each run, m³/s.
    flows: Lanes,
    /// Levels at source and at target, metres.
    levels: [Lanes; 2],
    /// Infinite where a run is closed and should be open: the law is not satisfied there.
    awry: Lanes,
}

impl Linearisation {
    fn of(system: &System, point: &NetworkState, links: Range<usize>) -> Linearisation {
        let mut bases = Linearisation {
            flows: [0.0; AT_A_TIME],
            levels: [[0.0; AT_A_TIME]; 2],
            awry: [0.0; AT_A_TIME],
        };
        let ways = &system.drowned.ways[links.clone()];
        for (lane, (index, ways)) in links.zip(ways).enumerate() {
            if !ways.is_drowned {
                continue;
            }
            let (link, flow) = (&system.links[index], point.flow_m3_s[index]);
            let levels = link.levels(&point.head_m);
            (bases.levels[0][lane], bases.levels[1][lane]) = (levels[0], levels[1]);
            bases.flows[lane] = flow;
            if !ways.allows(flow) {
                let about = system.drowned.about(index, link, levels);
                let stands = about.abs() <= TRICKLE_M3_S;
                bases.flows[lane] = if stands { 0.0 } else { about };
                bases.awry[lane] = if stands { 0.0 } else { f64::INFINITY };
            }
        }
        bases
    }
}

/// Writes the linearisations at `point` of such runs in one block.
///
/// `thorough`: a run without flow is released where its end levels differ; see `link_tangents::is_let_go`.
pub(super) fn write_lines(
    system: &System,
    point: &NetworkState,
    block: usize,
    thorough: bool,
    lines: &mut LinkTangents,
) -> Found {
    let first = block * AT_A_TIME;
    let range = first..(first + AT_A_TIME).min(system.links.len());
    let ways = &system.drowned.ways[range.clone()];
    // A layout of vessels and their drains has no such run and skips all of this.
    if !ways.iter().any(|ways| ways.is_drowned) {
        return Found::default();
    }
    let bases = Linearisation::of(system, point, range.clone());
    let ready = &system.drowned.blocks[block];
    let (lost, by_flow) = ready.at(&bases.flows, |lane| loss(&system.links[first + lane]));
    let flows = &point.flow_m3_s[range.clone()];
    let lines = lines.of(range);
    let mut energy = [0.0; AT_A_TIME];
    for lane in 0..ways.len() {
        let error = bases.levels[0][lane] - (bases.levels[1][lane] + lost[lane]);
        energy[lane] = error.abs() + bases.awry[lane];
        lines.by_source[lane] = 1.0 / by_flow[lane];
        lines.by_target[lane] = -lines.by_source[lane];
        lines.flow[lane] = bases.flows[lane] + error * lines.by_source[lane];
    }
    let mut found = Found::default();
    for lane in 0..ways.len() {
        if !ways[lane].is_drowned {
            continue;
        }
        let (flow, of_line) = (flows[lane], lines.flow[lane]);
        let mut passes = ways[lane].passes(bases.flows[lane]);
        if thorough && passes == AllowedFlow::BothWays && is_let_go(flow, of_line, energy[lane]) {
            passes = AllowedFlow::Nothing;
        }
        lines.passes[lane] = passes;
        if passes == AllowedFlow::Nothing {
            lines.flow[lane] = 0.0;
            lines.by_source[lane] = 0.0;
            lines.by_target[lane] = 0.0;
            found.off |= flow != 0.0;
        } else {
            found.off |= !is_limited_by_losses(of_line, flow, energy[lane]);
            found.carry(of_line, flow, energy[lane]);
        }
    }
    found
}
