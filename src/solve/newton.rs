//! One implicit step: levels and flows that satisfy every balance and every law.
//!
//! Newton on the active branch of each law, levels and flows together, the flows
//! eliminated (hybrid form).  [@todini-pilati-1988]  Three gears, each slower and
//! surer than the one before:
//!
//! 1. undamped steps, each run re-based at the smaller of its linear and its
//!    exact flow when they part (a square-root law overshoots one way, its
//!    inverse the other);
//! 2. steps in the levels alone with exact flows and a line search;
//! 3. the balance of one node after another (`relax`), which converges from
//!    anywhere because the system is an M-function.

use super::drowned;
use super::linear::Linear;
use super::matrix::Desk;
use super::reach::{exact, share_before_opening, tamed};
use super::relax;
use super::system::{Point, System};
use super::tied;
use crate::hydraulics::friction::AT_A_TIME;
use crate::network::{Held, Link, Sense};

/// Work done by the solver.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stats {
    /// Linear systems solved.
    pub newton_steps: usize,
    /// Time steps accepted.
    pub time_steps: usize,
    /// Sweeps of the last gear.
    pub sweeps: usize,
}

/// A step that could not be solved.
#[derive(Clone, Debug, PartialEq)]
pub struct Stuck {
    /// The nodes that are out of balance, worst first.
    pub nodes: Vec<usize>,
    /// The worst imbalance, m³/s.
    pub imbalance_m3_s: f64,
}

/// What a step starts from.
pub(crate) struct Problem<'a> {
    /// Water each vessel would hold if nothing flowed, m³.
    pub volume_m3: &'a [f64],
    /// Length of the step, s.
    pub step_s: f64,
}

/// Energy error accepted in a run that is held by its losses, metres.
const ENERGY_M: f64 = 1e-9;
/// Flow error accepted in a run, m³/s and as a share.
const FLOW_M3_S: f64 = 1e-12;
const FLOW_SHARE: f64 = 1e-9;
/// Flow so near to nothing that head alone may tell whether it holds, m³/s.
const NEAR_NOTHING_M3_S: f64 = 1e-6;
/// Imbalance accepted at a node, m³/s, before it is made smaller for long steps.
const MASS_M3_S: f64 = 1e-10;
/// Imbalance that is never worth another step, m³/s: a millilitre in three years.
const LEAST_MASS_M3_S: f64 = 1e-14;
/// Volume error accepted in a step, m³.
const VOLUME_M3: f64 = 1e-9;
/// Water that a joint may make or lose in a step, m³.
const JOINT_M3: f64 = 1e-7;
/// Rounding of a balance, as a share of what flows through the node.
const ROUNDING: f64 = 4e-15;
/// Rounding of a level, as a share of it: what it makes of the flows that feel the level is no error. A lake has
/// a long rim, on which the last digit of its level is more water than a joint may lose.
const LEVEL_ROUNDING: f64 = 2.0 * f64::EPSILON;
/// Least slope on the diagonal, m²/s: moves the direction of a step, never its residual.
const LEAST_SLOPE: f64 = 1e-12;
/// Share of itself that the diagonal is raised by where the matrix is singular: where steep runs tie nodes to
/// each other and to nothing else, that least slope is lost in rounding.
const RAISED: f64 = 1e-13;
/// A level that moves slower than this is no error, m/s: a tenth of a millimetre in three years, which on a lake
/// is a stream that one would see.
const UNSEEN_M_S: f64 = 1e-12;
/// Farthest that a level moves in one undamped step, metres.
const FARTHEST_M: f64 = 1e4;

/// A step of one node by itself beyond which it is settled by its own balance instead, metres.
const OUT_OF_SIGHT_M: f64 = 5.0;
/// Share of the head over the lip of an open run that one step may take away.
const CLOSE_TO_LIP: f64 = 0.9;
/// Undamped steps after which every fourth is halved: a half step is in no cycle of whole ones.
const PATIENCE: usize = 12;
/// Nodes out of balance that count as few.
const FEW: usize = 3;
/// Least share of a step that is taken.
const LEAST_SHARE: f64 = 0.05;

/// Undamped steps, then damped steps and sweeps in turn this often.
const UNDAMPED: usize = 40;
const DAMPED: usize = 15;
const ROUNDS: usize = 3;

/// Tries one step in the first gear only, of at most `most` steps; `point` moves either way.
pub(crate) fn attempt(
    system: &System,
    problem: &Problem,
    point: &mut Point,
    most: usize,
    stats: &mut Stats,
) -> bool {
    Work::new(system, problem).undamped(point, most, stats)
}

/// Solves one step from `point` in place.
pub(crate) fn solve(
    system: &System,
    problem: &Problem,
    point: &mut Point,
    stats: &mut Stats,
) -> Result<(), Stuck> {
    let mut work = Work::new(system, problem);
    work.thorough = true;
    if work.undamped(point, UNDAMPED, stats) {
        return Ok(());
    }
    for round in 0..ROUNDS {
        work.damped(point, DAMPED << round, stats);
        let surely = point.clone();
        if work.undamped(point, UNDAMPED, stats) {
            return Ok(());
        }
        // What leads astray is not gone on from.
        *point = surely;
        work.linearise(point);
        tied::settle(system, problem, point, &work.lines);
        stats.sweeps += relax::sweep(system, problem, point, 20 << round);
        work.exact_flows(point);
        let surely = point.clone();
        if work.undamped(point, UNDAMPED, stats) {
            return Ok(());
        }
        *point = surely;
    }
    Err(work.stuck(point))
}

/// Errors of a point: the largest imbalance and the largest energy error.
pub(crate) fn errors(system: &System, problem: &Problem, point: &Point) -> (f64, f64) {
    let mut work = Work::new(system, problem);
    work.linearise(point);
    work.balance(point);
    let mass = system.node_of.iter().fold(0.0_f64, |most, &node| {
        let unseen = UNSEEN_M_S * system.area(node, point.head_m[node]);
        most.max(work.residual[node].abs() - unseen)
    });
    let carries = |line: &Linear, flow: f64| line.flow.abs().max(flow.abs()) > FLOW_M3_S;
    let energy = work
        .lines
        .iter()
        .zip(&point.flow_m3_s)
        .fold(0.0_f64, |most, (line, flow)| match line.held {
            Held::Outlet if carries(line, *flow) => most.max(line.energy_m.abs()),
            _ => most,
        });
    (mass, energy)
}

/// Numbers of the matrix and right-hand side of a step about `point`.
pub(crate) fn assembled(system: &System, problem: &Problem, point: &Point) -> (Vec<f64>, Vec<f64>) {
    let mut work = Work::new(system, problem);
    work.linearise(point);
    work.balance(point);
    work.assemble(point);
    (work.values.clone(), work.step.clone())
}

/// The line is about the flow that stands, and not about one that was looked up in its place.
fn is_near(of_line: f64, flow: f64) -> bool {
    (of_line - flow).abs() <= 0.1 * flow.abs().max(NEAR_NOTHING_M3_S)
}

struct Work<'a, 'n> {
    system: &'a System<'n>,
    problem: &'a Problem<'a>,
    /// The lines of all links, and what they sum up to.
    lines: Vec<Linear>,
    sums: Sums,
    residual: Vec<f64>,
    values: Vec<f64>,
    /// The change of the levels, by row of the matrix, and what of it was taken, by node.
    step: Vec<f64>,
    moved: Vec<f64>,
    desk: Desk,
    /// Corners are gone round before a step is given up. A mere try gives up instead, so that where a climb of
    /// tries ends does not hang on the order of the links.
    thorough: bool,
}

/// What the lines of all links sum up to.
#[derive(Default)]
struct Sums {
    /// Slope of the outflow of each node with its own level, m²/s.
    slope: Vec<f64>,
    /// What flows out of each node by the lines more than by the flows that stand, m³/s.
    change: Vec<f64>,
    /// The links that stand closed.
    closed: Vec<usize>,
    /// A link whose flow is not that of its law.
    off: bool,
}

impl Sums {
    fn clear(&mut self, nodes: usize) {
        for sum in [&mut self.slope, &mut self.change] {
            sum.clear();
            sum.resize(nodes, 0.0);
        }
        self.closed.clear();
        self.off = false;
    }

    fn add(&mut self, index: usize, [source, target]: [usize; 2], line: &Linear, flow: f64) {
        if source != target {
            let change = line.flow - flow;
            self.slope[source] += line.by_source;
            self.slope[target] -= line.by_target;
            self.change[source] += change;
            self.change[target] -= change;
        }
        if line.held == Held::Nothing {
            self.closed.push(index);
        }
        self.off |= !is_lawful(line, flow);
    }
}

/// Whether a flow is that of its law, whose line about it this is.
fn is_lawful(line: &Linear, flow: f64) -> bool {
    match line.held {
        // Over a crest a trickle has no slope worth the name: the flow itself must do.
        _ if line.flow.abs().max(flow.abs()) <= FLOW_M3_S => true,
        Held::Nothing => false,
        // Where almost no head moves a great flow, head is all that can be held.
        // But a line about another flow than the one that stands says nothing of that one.
        _ if line.energy_m.abs() <= ENERGY_M * 1e-3 && is_near(line.flow, flow) => true,
        _ => {
            let close = (line.flow - flow).abs() <= FLOW_M3_S + FLOW_SHARE * flow.abs();
            close && line.energy_m.abs() <= ENERGY_M
        }
    }
}

/// Memory of the work on a step, kept from one step to the next so that none has to ask for it. It
/// carries nothing over: all of it is written before it is read.
#[derive(Default)]
pub(crate) struct Bench {
    lines: Vec<Linear>,
    sums: Sums,
    residual: Vec<f64>,
    values: Vec<f64>,
    step: Vec<f64>,
    moved: Vec<f64>,
    desk: Desk,
}

impl Drop for Work<'_, '_> {
    fn drop(&mut self) {
        self.system.bench.set(Bench {
            lines: std::mem::take(&mut self.lines),
            sums: std::mem::take(&mut self.sums),
            residual: std::mem::take(&mut self.residual),
            values: std::mem::take(&mut self.values),
            step: std::mem::take(&mut self.step),
            moved: std::mem::take(&mut self.moved),
            desk: std::mem::take(&mut self.desk),
        });
    }
}

impl<'a, 'n> Work<'a, 'n> {
    fn new(system: &'a System<'n>, problem: &'a Problem<'a>) -> Work<'a, 'n> {
        let mut bench = system.bench.take();
        let nodes = system.nodes.len();
        bench.lines.resize(system.links.len(), Linear::default());
        bench.residual.resize(nodes, 0.0);
        bench.values.resize(system.matrix.entries(), 0.0);
        bench.step.resize(system.node_of.len(), 0.0);
        bench.moved.resize(nodes, 0.0);
        Work {
            system,
            problem,
            lines: bench.lines,
            sums: bench.sums,
            residual: bench.residual,
            values: bench.values,
            step: bench.step,
            moved: bench.moved,
            desk: bench.desk,
            thorough: false,
        }
    }

    /// The lines about `point`, and their sums.
    fn linearise(&mut self, point: &Point) {
        self.sums.clear(self.system.nodes.len());
        let chunks = self.system.links.chunks(AT_A_TIME);
        for (chunk, (links, lines)) in chunks.zip(self.lines.chunks_mut(AT_A_TIME)).enumerate() {
            drowned::lines(links, point, chunk * AT_A_TIME, lines);
        }
        for (index, (link, line)) in self.system.links.iter().zip(&self.lines).enumerate() {
            let flow = point.flow_m3_s[index];
            self.sums.add(index, [link.source, link.target], line, flow);
        }
    }

    /// Residual of every balance with the flows of `point`.
    fn balance(&mut self, point: &Point) {
        self.system.outflow(point, &mut self.residual);
        for &node in &self.system.vessels {
            let volume = self.system.volume(node, point.head_m[node]);
            self.residual[node] += (volume - self.problem.volume_m3[node]) / self.problem.step_s;
        }
    }

    /// Whether laws and balances hold at `point`; lines and residuals are those of `point`.
    fn holds(&self, point: &Point) -> bool {
        let mut nodes = self.system.node_of.iter();
        !self.sums.off && nodes.all(|&node| self.is_balanced(node, point))
    }

    fn is_balanced(&self, node: usize, point: &Point) -> bool {
        // What is allowed at any node, first: it is quicker to ask.
        let residual = self.residual[node].abs();
        residual <= LEAST_MASS_M3_S || residual <= self.allowed(node, point)
    }

    /// Imbalance allowed at a node: small water, but not below the rounding of the balance itself.
    fn allowed(&self, node: usize, point: &Point) -> f64 {
        let (mut through, mut felt) = (0.0, 0.0);
        for &index in &self.system.touching[node] {
            let (link, line) = (&self.system.links[index], &self.lines[index]);
            through += point.flow_m3_s[index].abs();
            felt += line.by_source.abs() * point.head_m[link.source].abs()
                + line.by_target.abs() * point.head_m[link.target].abs();
        }
        let level = point.head_m[node];
        let water =
            self.problem.volume_m3[node].abs() + self.system.area(node, level) * level.abs();
        let stored = water / self.problem.step_s;
        let least = if self.system.holds_water(node) {
            LEAST_MASS_M3_S
        } else {
            // In a step of years what a joint is out by would be litres.
            (JOINT_M3 / self.problem.step_s).clamp(LEAST_MASS_M3_S, FLOW_M3_S)
        };
        let rounding = least.max(ROUNDING * (through + stored) + LEVEL_ROUNDING * felt);
        MASS_M3_S.min(VOLUME_M3 / self.problem.step_s).max(rounding)
    }

    /// Fills the matrix and the step from lines and the balance with the lines' own flows.
    fn assemble(&mut self, point: &Point) {
        let (system, matrix) = (self.system, &self.system.matrix);
        matrix.fill_across(&mut self.values, |link| {
            (self.lines[link].by_source, self.lines[link].by_target)
        });
        for (row, &node) in system.node_of.iter().enumerate() {
            self.values[matrix.diagonal(row)] = self.sums.slope[node] + LEAST_SLOPE;
            self.step[row] = -(self.residual[node] + self.sums.change[node]);
        }
        for node in system.felt_nodes(point) {
            if let Some(row) = system.row[node] {
                let level = point.head_m[node];
                let area = system.area(node, level) / self.problem.step_s;
                self.values[matrix.diagonal(row)] += area - system.source(node, level).1;
            }
        }
        for (row, &node) in system.node_of.iter().enumerate() {
            let flat = self.values[matrix.diagonal(row)] <= 2.0 * LEAST_SLOPE;
            if flat && self.step[row].abs() <= self.allowed(node, point) {
                self.step[row] = 0.0;
            }
        }
    }

    /// The step from `point`; false where there is none.
    fn solve_step(&mut self, point: &Point) -> bool {
        self.assemble(point);
        let matrix = &self.system.matrix;
        if matrix.solve(&self.values, &mut self.step, &mut self.desk) {
            return true;
        }
        self.assemble(point);
        for row in 0..self.system.node_of.len() {
            self.values[matrix.diagonal(row)] *= 1.0 + RAISED;
        }
        matrix.solve(&self.values, &mut self.step, &mut self.desk)
    }

    fn undamped(&mut self, point: &mut Point, most: usize, stats: &mut Stats) -> bool {
        for turn in 0..most {
            self.linearise(point);
            self.balance(point);
            if self.holds(point) {
                return true;
            }
            self.wake(point);
            if self.thorough && turn >= PATIENCE && turn % 4 == 1 {
                self.settle_corners(point);
            }
            stats.newton_steps += 1;
            if !self.solve_step(point) {
                return false;
            }
            self.advance(
                point,
                if turn >= PATIENCE && turn % 4 == 3 {
                    0.5
                } else {
                    1.0
                },
            );
        }
        self.linearise(point);
        self.balance(point);
        self.holds(point)
    }

    /// Settles nodes whose balance hardly feels their own level where they stand: their links are
    /// closed, or held elsewhere. A straight line would send them out of sight.
    fn wake(&mut self, point: &mut Point) {
        let mut woken = false;
        for &node in &self.system.node_of {
            let residual = self.residual[node].abs();
            if residual <= OUT_OF_SIGHT_M * self.sums.slope[node] {
                continue;
            }
            let storage = self.system.area(node, point.head_m[node]) / self.problem.step_s;
            if residual > OUT_OF_SIGHT_M * (self.sums.slope[node] + storage)
                && residual > self.allowed(node, point)
            {
                woken |= relax::settle(self.system, self.problem, point, node);
            }
        }
        if woken {
            self.linearise(point);
            self.balance(point);
        }
    }

    /// Settles by their own balance the nodes that are out of it, where they are few; else moves together those
    /// that are tied to each other. At a corner of a law a straight line leads now to one side and now to the
    /// other, round and round.
    fn settle_corners(&mut self, point: &mut Point) {
        let nodes = self.system.node_of.iter().copied();
        let out: Vec<usize> = nodes
            .filter(|&node| !self.is_balanced(node, point))
            .take(FEW + 1)
            .collect();
        if out.len() <= FEW {
            for node in out {
                relax::settle(self.system, self.problem, point, node);
            }
        } else {
            tied::settle(self.system, self.problem, point, &self.lines);
        }
        self.linearise(point);
        self.balance(point);
    }

    /// Moves levels by the step and flows along their lines.
    ///
    /// Flows move by the step itself, not by the difference of the rounded levels: on a run of
    /// almost no resistance that difference is coarser than the balance allows.
    fn advance(&mut self, point: &mut Point, most: f64) {
        for step in &mut self.step {
            *step = step.clamp(-FARTHEST_M, FARTHEST_M);
        }
        let share = self.share_before_edges(point).min(most);
        self.stay_over_lips(point);
        for (row, &node) in self.system.node_of.iter().enumerate() {
            self.moved[node] = self.step[row] * share;
            point.head_m[node] += self.moved[node];
        }
        let flows = self.lines.iter().zip(&mut point.flow_m3_s);
        for (link, (line, flow)) in self.system.links.iter().zip(flows) {
            let ends = [link.source, link.target];
            let [by_source, by_target] = ends.map(|node| self.moved[node]);
            let linear = *flow
                + share * (line.flow - *flow)
                + line.by_source * by_source
                + line.by_target * by_target;
            let levels = ends.map(|node| point.head_m[node]);
            *flow = match link.law {
                Link::Rim(rim) => rim.flow(levels[0]).value,
                Link::Run(_) if line.two_way || linear * line.sign > 0.0 => {
                    tamed(link, linear, levels, *flow)
                }
                Link::Run(_) => 0.0,
            };
        }
    }

    /// Cuts the fall of a node to the lip of an open run that draws from it: below that lip its
    /// balance is another one.
    fn stay_over_lips(&mut self, point: &Point) {
        for &index in &self.system.with_lips {
            let (link, line) = (&self.system.links[index], &self.lines[index]);
            let Link::Run(run) = link.law else { continue };
            if line.sign == 0.0 || line.over_edge || line.two_way {
                continue;
            }
            let (sense, node) = if line.sign < 0.0 {
                (Sense::Backward, link.target)
            } else {
                (Sense::Forward, link.source)
            };
            let over = point.head_m[node] - run.intake_m(sense);
            if let Some(row) = self.system.row[node]
                && over > 0.0
            {
                self.step[row] = self.step[row].max(-CLOSE_TO_LIP * over);
            }
        }
    }

    /// Share of the step that passes no edge unseen: not far over the level at which a closed link
    /// opens. Beyond it the balances are others than those the step was made from.
    fn share_before_edges(&self, point: &Point) -> f64 {
        let mut share = 1.0_f64;
        for &index in &self.sums.closed {
            let link = &self.system.links[index];
            let before = [link.source, link.target].map(|node| point.head_m[node]);
            let after = [link.source, link.target].map(|node| {
                point.head_m[node] + self.system.row[node].map_or(0.0, |row| self.step[row])
            });
            share = share.min(share_before_opening(link.law, before, after));
        }
        share.clamp(LEAST_SHARE, 1.0)
    }

    fn exact_flows(&self, point: &mut Point) {
        for (index, link) in self.system.links.iter().enumerate() {
            let levels = [point.head_m[link.source], point.head_m[link.target]];
            point.flow_m3_s[index] = exact(link.law, levels, point.flow_m3_s[index]);
        }
    }

    fn merit(&mut self, point: &Point) -> f64 {
        self.balance(point);
        self.system
            .node_of
            .iter()
            .map(|&node| self.residual[node].abs())
            .sum()
    }

    /// Steps in the levels with exact flows, halved until the balances improve.
    fn damped(&mut self, point: &mut Point, most: usize, stats: &mut Stats) {
        self.exact_flows(point);
        let mut merit = self.merit(point);
        for _ in 0..most {
            self.linearise(point);
            self.balance(point);
            if self.holds(point) {
                return;
            }
            self.wake(point);
            stats.newton_steps += 1;
            if !self.solve_step(point) {
                return;
            }
            let mut share = 1.0;
            let mut trial = point.clone();
            let better = loop {
                for (row, &node) in self.system.node_of.iter().enumerate() {
                    let step = (share * self.step[row]).clamp(-FARTHEST_M, FARTHEST_M);
                    trial.head_m[node] = point.head_m[node] + step;
                }
                self.exact_flows(&mut trial);
                let next = self.merit(&trial);
                if next <= merit * (1.0 - 1e-4 * share) {
                    break Some(next);
                }
                share *= 0.5;
                if share < 1e-6 {
                    break None;
                }
            };
            let Some(next) = better else { return };
            merit = next;
            *point = trial;
        }
    }

    fn stuck(&mut self, point: &Point) -> Stuck {
        self.balance(point);
        let mut nodes: Vec<usize> = self
            .system
            .node_of
            .iter()
            .copied()
            .filter(|&node| self.residual[node].abs() > self.allowed(node, point))
            .collect();
        nodes.sort_by(|&a, &b| self.residual[b].abs().total_cmp(&self.residual[a].abs()));
        let worst = nodes.first().map_or(0.0, |&node| self.residual[node].abs());
        Stuck {
            nodes,
            imbalance_m3_s: worst,
        }
    }
}
