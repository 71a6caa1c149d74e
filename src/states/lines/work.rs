//! Runs that fill and empty during a simulation.

use super::drain::{Drained, Piece, drained};
use super::{Chain, FillingLines, LineWater};
use crate::lower::Lowered;
use crate::solve::{LineFill, NetworkState, System, Trace, TraceOptions, trace};
use std::sync::Arc;

/// Relative shortfall at which a chain counts as full.
const CLOSE: f64 = 2e-3;
/// A chain whose pump stopped empties as fast as it flowed; gravity runs, which go on carrying what comes down, take
/// this many times longer. A choice: what they release must not look like a flood.
const SLOWER: f64 = 10.0;
/// Shortest time in which anything empties, s.
const LEAST_S: f64 = 10.0;
/// Flow through a stopped pump above which its run stays full, m³/s.
const SIPHONS_M3_S: f64 = 1e-7;
/// Interval after which a run is checked again for siphoning: the first one, s, its growth factor, and how often.
const ASK_AGAIN_S: f64 = 60.0;
const MOST_ASKED: usize = 12;
/// Volume below which emptying is not worthwhile, m³.
const TRIFLE_M3: f64 = 1e-7;

/// The stage of the runs of a chain.
#[derive(Clone, Debug, PartialEq)]
enum Stage {
    /// They pass what arrives.
    Full,
    /// They fill.
    Filling,
    /// They have released what they could.
    Empty,
    /// They empty.
    Emptying(Emptying),
}

#[derive(Clone, Debug, PartialEq)]
struct Emptying {
    began_s: f64,
    takes_s: f64,
    /// Volume in them when that began, and volume that stays, m³.
    from_m3: f64,
    stays_m3: f64,
    /// Nodes and the flow to each, m³/s.
    feeds: Vec<(usize, f64)>,
}

/// The filling and emptying of runs during a simulation.
#[derive(Clone, Debug)]
pub(in crate::states) struct LineSimulation {
    lines: Arc<FillingLines>,
    pub taken_m3: Vec<f64>,
    stages: Vec<Stage>,
    /// The chains that fill in the current simulation piece.
    fills: Vec<usize>,
    /// Time at which runs are checked again for siphoning, s, and how often they were.
    ask_again_s: Option<f64>,
    asked: usize,
    /// A chain became empty at the end of the last piece.
    ended: bool,
    /// Volume that each node received from runs that emptied, m³.
    pub emptied_m3: Vec<(usize, f64)>,
}

impl LineSimulation {
    /// From the initial water in the runs.
    pub fn begin(water: &LineWater) -> LineSimulation {
        let lines = water.lines.clone().unwrap_or_default();
        let stage = |(chain, taken_m3): (&Chain, &f64)| {
            if *taken_m3 >= (1.0 - CLOSE) * chain.takes_m3 {
                Stage::Full
            } else {
                Stage::Empty
            }
        };
        LineSimulation {
            stages: lines
                .chains
                .iter()
                .zip(&water.taken_m3)
                .map(stage)
                .collect(),
            taken_m3: water.taken_m3.clone(),
            lines,
            fills: Vec::new(),
            ask_again_s: None,
            asked: 0,
            ended: false,
            emptied_m3: Vec::new(),
        }
    }

    /// The water that the runs now hold.
    pub fn water(&self) -> LineWater {
        LineWater {
            lines: Some(self.lines.clone()),
            taken_m3: self.taken_m3.clone(),
        }
    }

    /// Updates the stages after pumps have started or stopped.
    pub fn switch(&mut self, lowered: &Lowered, (now, time_s): (&NetworkState, f64)) {
        if self.stages.is_empty() {
            return;
        }
        let lines = self.lines.clone();
        let mut flows: Option<Vec<f64>> = None;
        let mut siphons = false;
        for (index, chain) in lines.chains.iter().enumerate() {
            if is_driven(lowered, chain) {
                let begins = match &self.stages[index] {
                    Stage::Empty | Stage::Emptying(_) => true,
                    Stage::Full | Stage::Filling => false,
                };
                if begins {
                    self.stages[index] = Stage::Filling;
                }
                continue;
            }
            if !matches!(self.stages[index], Stage::Full | Stage::Filling) {
                continue;
            }
            let flows = flows.get_or_insert_with(|| flows_now(lowered, now));
            if chain.pumped && flows_in(lowered, chain, flows) {
                siphons = true;
            } else {
                self.empty(index, lowered, (now, time_s));
            }
        }
        self.ask_later(siphons, time_s);
    }

    /// A siphon ends without a switch event: it is checked again, at growing intervals.
    fn ask_later(&mut self, siphons: bool, time_s: f64) {
        let waits = self.ask_again_s.is_some_and(|at_s| at_s > time_s);
        if !siphons {
            (self.ask_again_s, self.asked) = (None, 0);
        } else if self.asked < MOST_ASKED && !waits {
            let wait_s = ASK_AGAIN_S * f64::powi(2.0, self.asked as i32);
            self.ask_again_s = Some(time_s + wait_s);
            self.asked += 1;
        } else if !waits {
            self.ask_again_s = None;
        }
    }

    /// Begins to empty a chain.
    fn empty(&mut self, index: usize, lowered: &Lowered, (now, time_s): (&NetworkState, f64)) {
        let Some(chain) = self.lines.chains.get(index) else {
            return;
        };
        let taken_m3 = self.taken_m3[index];
        let (feeds, leaves_m3) = chain.leaves(lowered, &now.head_m, taken_m3);
        let slower = if chain.pumped { 1.0 } else { SLOWER };
        let takes_s = (slower * leaves_m3 / chain.flow_m3_s.max(1e-9)).max(LEAST_S);
        self.stages[index] = if leaves_m3 <= TRIFLE_M3 {
            Stage::Empty
        } else {
            Stage::Emptying(Emptying {
                began_s: time_s,
                takes_s,
                from_m3: taken_m3,
                stays_m3: taken_m3 - leaves_m3,
                feeds: feeds
                    .into_iter()
                    .map(|(node, m3)| (node, m3 / takes_s))
                    .collect(),
            })
        };
    }

    /// The network at the present stages, with its filling and emptying.
    pub fn system<'n>(&mut self, lowered: &'n Lowered) -> System<'n> {
        let system = System::new(&lowered.network);
        if self.stages.is_empty() {
            return system;
        }
        let mut fills = Vec::new();
        let mut emptied = Vec::new();
        self.fills.clear();
        for (index, (chain, stage)) in self.lines.chains.iter().zip(&self.stages).enumerate() {
            match stage {
                Stage::Filling => {
                    self.fills.push(index);
                    let link =
                        |&(run, end): &(usize, usize)| Some((*lowered.origin.runs.get(run)?, end));
                    fills.push(LineFill {
                        ends: chain.outlets.iter().filter_map(link).collect(),
                        left_m3: chain.takes_m3 - self.taken_m3[index],
                    });
                }
                Stage::Emptying(emptying) => emptied.extend(emptying.feeds.iter().copied()),
                Stage::Full | Stage::Empty => {}
            }
        }
        system.with_lines(fills, &emptied)
    }

    /// Time for which nothing changes by itself, s; none: for ever.
    pub fn until_s(&self, time_s: f64) -> Option<f64> {
        let ends = self.stages.iter().filter_map(|stage| match stage {
            Stage::Emptying(emptying) => Some(emptying.began_s + emptying.takes_s - time_s),
            _ => None,
        });
        let asks = self.ask_again_s.map(|at_s| at_s - time_s);
        ends.chain(asks)
            .reduce(f64::min)
            .map(|left_s| left_s.max(1e-3))
    }

    /// Records a piece that ended at `time_s`.
    pub fn take(&mut self, piece: &Trace, time_s: f64) {
        for (&index, taken_m3) in self.fills.iter().zip(&piece.taken_m3) {
            self.taken_m3[index] += taken_m3;
            let wants_m3 = self.lines.chains[index].takes_m3;
            if self.taken_m3[index] >= (1.0 - CLOSE) * wants_m3 {
                self.stages[index] = Stage::Full;
            }
        }
        self.ended = false;
        for (stage, taken_m3) in self.stages.iter_mut().zip(&mut self.taken_m3) {
            let Stage::Emptying(emptying) = stage else {
                continue;
            };
            for &(node, flow_m3_s) in &emptying.feeds {
                let came_m3 = flow_m3_s * piece.time_s;
                match self.emptied_m3.iter_mut().find(|(at, _)| *at == node) {
                    Some((_, sum_m3)) => *sum_m3 += came_m3,
                    None => self.emptied_m3.push((node, came_m3)),
                }
            }
            let share = (time_s - emptying.began_s) / emptying.takes_s;
            let left = (1.0 - share).max(0.0);
            *taken_m3 = emptying.stays_m3 + left * (emptying.from_m3 - emptying.stays_m3);
            if left <= 1e-9 {
                *stage = Stage::Empty;
                self.ended = true;
            }
        }
    }

    /// Whether the simulation goes on after a piece without a switch event. `still`: nothing moves.
    pub fn goes_on(
        &mut self,
        lowered: &Lowered,
        (now, time_s): (&NetworkState, f64),
        still: bool,
    ) -> bool {
        let empties = |stage: &Stage| matches!(stage, Stage::Emptying(_));
        let asks = self.ask_again_s.is_some();
        if self.ended || asks || self.stages.iter().any(empties) {
            return true;
        }
        let lines = self.lines.clone();
        let mut more = false;
        for (index, chain) in lines.chains.iter().enumerate() {
            match self.stages[index] {
                // So little arrives that filling would take for ever, or a level rises for ever.
                Stage::Filling => {
                    self.stages[index] = Stage::Full;
                    more = true;
                }
                Stage::Full
                    if still
                        && chain.pumped
                        && !is_driven(lowered, chain)
                        && !flows_in(lowered, chain, &now.flow_m3_s) =>
                {
                    self.empty(index, lowered, (now, time_s));
                    more |= matches!(self.stages[index], Stage::Emptying(_));
                }
                _ => {}
            }
        }
        more
    }
}

impl Chain {
    /// Outflow from runs that have taken up `taken_m3`: the receiving nodes, and the total, m³.
    fn leaves(&self, lowered: &Lowered, head_m: &[f64], taken_m3: f64) -> (Vec<(usize, f64)>, f64) {
        let pieces: Vec<Piece> = self
            .runs
            .iter()
            .zip(&self.full)
            .map(|(&run, slices)| Piece { run, slices })
            .collect();
        let Drained { to, stays_m3 } = drained(lowered, head_m, &pieces);
        let held_m3: f64 = stays_m3
            .iter()
            .zip(&self.at_rest_m3)
            .map(|(stays_m3, at_rest_m3)| (stays_m3 - at_rest_m3).max(0.0))
            .sum();
        let all_m3: f64 = to.iter().map(|(_, m3)| m3).sum();
        let leaves_m3 = (taken_m3 - held_m3).clamp(0.0, all_m3);
        let share = leaves_m3 / all_m3.max(1e-12);
        let to = to
            .into_iter()
            .map(|(node, m3)| (node, m3 * share))
            .collect();
        (to, leaves_m3)
    }
}

/// Whether a pump keeps the runs full: one of their own; for gravity runs, any. Where there are no pumps water
/// comes by itself.
fn is_driven(lowered: &Lowered, chain: &Chain) -> bool {
    let facts = &lowered.origin.run_facts;
    if chain.pumped {
        let mut own = chain.runs.iter().filter_map(|&run| facts.get(run));
        return own.any(|facts| facts.pump_on);
    }
    let mut pumps = facts
        .iter()
        .filter(|facts| facts.pump_curve.is_some())
        .peekable();
    pumps.peek().is_none() || pumps.any(|facts| facts.pump_on)
}

/// The flows just after a switch; those before where they do not converge.
fn flows_now(lowered: &Lowered, now: &NetworkState) -> Vec<f64> {
    const BLINK_S: f64 = 1e-6;
    let blink = TraceOptions {
        until_s: Some(BLINK_S),
        ..TraceOptions::default()
    };
    let mut from = now.clone();
    from.flow_m3_s.resize(lowered.network.edge_count(), 0.0);
    let after = trace(&System::new(&lowered.network), &from, &blink);
    after.map_or(from.flow_m3_s, |after| after.end.flow_m3_s)
}

fn flows_in(lowered: &Lowered, chain: &Chain, flows: &[f64]) -> bool {
    let links = chain
        .runs
        .iter()
        .filter_map(|&run| lowered.origin.runs.get(run));
    let mut flows = links.filter_map(|&link| flows.get(link));
    flows.any(|flow| flow.abs() > SIPHONS_M3_S)
}
