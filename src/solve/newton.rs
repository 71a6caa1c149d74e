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

use super::linear::{Linear, along, linearise};
use super::relax;
use super::system::{Point, System};
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
const MASS_M3_S: f64 = 1e-11;
/// Imbalance that is never worth another step, m³/s: a tenth of a millilitre in three years.
const LEAST_MASS_M3_S: f64 = 1e-15;
/// Volume error accepted in a step, m³.
const VOLUME_M3: f64 = 1e-9;
/// Rounding of a balance, as a share of what flows through the node.
const ROUNDING: f64 = 4e-15;
/// Least slope on the diagonal, m²/s: moves the direction of a step, never its residual.
const LEAST_SLOPE: f64 = 1e-14;
/// Farthest that a level moves in one undamped step, metres.
const FARTHEST_M: f64 = 50.0;

/// Least share of a step that is taken.
const LEAST_SHARE: f64 = 0.05;
/// How far beyond the level at which a closed link opens a step may go, metres.
const JUST_BEYOND_M: f64 = 0.05;

/// Undamped steps, then damped steps and sweeps in turn this often.
const UNDAMPED: usize = 60;
const DAMPED: usize = 30;
const ROUNDS: usize = 6;

/// Solves one step from `point` in place.
pub(crate) fn solve(
    system: &System,
    problem: &Problem,
    point: &mut Point,
    stats: &mut Stats,
) -> Result<(), Stuck> {
    let mut work = Work::new(system, problem);
    if work.undamped(point, UNDAMPED, stats) {
        return Ok(());
    }
    if std::env::var("QUICK").is_ok() {
        return Err(work.stuck(point));
    }
    for round in 0..ROUNDS {
        work.damped(point, DAMPED, stats);
        if work.undamped(point, UNDAMPED, stats) {
            return Ok(());
        }
        stats.sweeps += relax::sweep(system, problem, point, 20 << round);
        work.exact_flows(point);
        if work.undamped(point, UNDAMPED, stats) {
            return Ok(());
        }
    }
    Err(work.stuck(point))
}

/// Errors of a point: the largest imbalance and the largest energy error.
pub(crate) fn errors(system: &System, problem: &Problem, point: &Point) -> (f64, f64) {
    let mut work = Work::new(system, problem);
    work.linearise(point);
    work.balance(point);
    let mass = system
        .node_of
        .iter()
        .fold(0.0_f64, |most, &node| most.max(work.residual[node].abs()));
    let energy = work
        .lines
        .iter()
        .fold(0.0_f64, |most, line| match line.held {
            Held::Outlet => most.max(line.energy_m.abs()),
            _ => most,
        });
    (mass, energy)
}

/// The line is about the flow that stands, and not about one that was looked up in its place.
fn is_near(of_line: f64, flow: f64) -> bool {
    (of_line - flow).abs() <= 0.1 * flow.abs().max(NEAR_NOTHING_M3_S)
}

struct Work<'a, 'n> {
    system: &'a System<'n>,
    problem: &'a Problem<'a>,
    lines: Vec<Linear>,
    residual: Vec<f64>,
    values: Vec<f64>,
    step: Vec<f64>,
}

impl<'a, 'n> Work<'a, 'n> {
    fn new(system: &'a System<'n>, problem: &'a Problem<'a>) -> Work<'a, 'n> {
        Work {
            system,
            problem,
            lines: vec![Linear::default(); system.links.len()],
            residual: vec![0.0; system.nodes.len()],
            values: system.matrix.zeros(),
            step: vec![0.0; system.node_of.len()],
        }
    }

    fn levels(&self, link: usize, point: &Point) -> [f64; 2] {
        let link = &self.system.links[link];
        [point.head_m[link.source], point.head_m[link.target]]
    }

    fn linearise(&mut self, point: &Point) {
        for index in 0..self.lines.len() {
            let levels = self.levels(index, point);
            self.lines[index] =
                linearise(self.system.links[index].law, levels, point.flow_m3_s[index]);
        }
    }

    /// Residual of every balance with the flows of `point`.
    fn balance(&mut self, point: &Point) {
        self.system.outflow(point, &mut self.residual);
        for &node in &self.system.node_of {
            let volume = self.system.volume(node, point.head_m[node]);
            self.residual[node] += (volume - self.problem.volume_m3[node]) / self.problem.step_s;
        }
    }

    /// Whether laws and balances hold at `point`; lines and residuals are those of `point`.
    fn holds(&self, point: &Point) -> bool {
        let laws = self
            .lines
            .iter()
            .zip(&point.flow_m3_s)
            .all(|(line, flow)| match line.held {
                // Over a crest a trickle has no slope worth the name: the flow itself must do.
                _ if line.flow.abs().max(flow.abs()) <= FLOW_M3_S => true,
                Held::Nothing => false,
                // Where almost no head moves a great flow, head is all that can be held.
                // But a line about another flow than the one that stands says nothing of that one.
                _ if line.energy_m.abs() <= ENERGY_M * 1e-3 && is_near(line.flow, *flow) => true,
                _ => {
                    let close = (line.flow - flow).abs() <= FLOW_M3_S + FLOW_SHARE * flow.abs();
                    close && line.energy_m.abs() <= ENERGY_M
                }
            });
        laws && self
            .system
            .node_of
            .iter()
            .all(|&node| self.residual[node].abs() <= self.allowed(node, point))
    }

    /// Imbalance allowed at a node: small water, but not below the rounding of the balance itself.
    fn allowed(&self, node: usize, point: &Point) -> f64 {
        let through: f64 = self.system.touching[node]
            .iter()
            .map(|&link| point.flow_m3_s[link].abs())
            .sum();
        let stored = self.problem.volume_m3[node].abs() / self.problem.step_s;
        let rounding = LEAST_MASS_M3_S.max(ROUNDING * (through + stored));
        MASS_M3_S.min(VOLUME_M3 / self.problem.step_s).max(rounding)
    }

    /// Fills the matrix and the step from lines and the balance with the lines' own flows.
    fn assemble(&mut self, point: &Point) {
        self.values.fill(0.0);
        let matrix = &self.system.matrix;
        for (index, line) in self.lines.iter().enumerate() {
            let link = &self.system.links[index];
            if link.source == link.target {
                continue;
            }
            let (source, target) = (self.system.row[link.source], self.system.row[link.target]);
            if let Some(row) = source {
                self.values[matrix.diagonal(row)] += line.by_source;
            }
            if let Some(row) = target {
                self.values[matrix.diagonal(row)] -= line.by_target;
            }
            if let Some((upper, lower)) = matrix.across(index) {
                self.values[upper] += line.by_target;
                self.values[lower] -= line.by_source;
            }
        }
        for (row, &node) in self.system.node_of.iter().enumerate() {
            let level = point.head_m[node];
            let area = self.system.area(node, level) / self.problem.step_s;
            let (_, source_slope) = self.system.source(node, level);
            self.values[matrix.diagonal(row)] += area - source_slope + LEAST_SLOPE;
            self.step[row] = -self.residual[node];
        }
        for (index, line) in self.lines.iter().enumerate() {
            let link = &self.system.links[index];
            let change = line.flow - point.flow_m3_s[index];
            if let Some(row) = self.system.row[link.source] {
                self.step[row] -= change;
            }
            if let Some(row) = self.system.row[link.target] {
                self.step[row] += change;
            }
        }
    }

    fn undamped(&mut self, point: &mut Point, most: usize, stats: &mut Stats) -> bool {
        for _ in 0..most {
            self.linearise(point);
            self.balance(point);
            if self.holds(point) {
                return true;
            }
            self.wake(point);
            if std::env::var("LOUD2").is_ok() {
                self.debug(point, stats.newton_steps);
            }
            self.assemble(point);
            stats.newton_steps += 1;
            if !self.system.matrix.solve(&self.values, &mut self.step) {
                return false;
            }
            self.advance(point);
        }
        self.linearise(point);
        self.balance(point);
        self.holds(point)
    }

    /// Lifts or lowers nodes whose links all stand still although they are out of balance.
    fn wake(&mut self, point: &mut Point) {
        let mut open = vec![false; self.system.nodes.len()];
        for (index, line) in self.lines.iter().enumerate() {
            let link = &self.system.links[index];
            if line.held != Held::Nothing {
                open[link.source] = true;
                open[link.target] = true;
            }
        }
        let mut woken = false;
        for &node in &self.system.node_of {
            if !open[node] && self.residual[node].abs() > self.allowed(node, point) {
                woken |= relax::settle(self.system, self.problem, point, node);
            }
        }
        if woken {
            self.linearise(point);
            self.balance(point);
        }
    }

    /// Moves levels by the step and flows along their lines.
    ///
    /// Flows move by the step itself, not by the difference of the rounded levels: on a run of
    /// almost no resistance that difference is coarser than the balance allows.
    fn advance(&mut self, point: &mut Point) {
        let mut share = 1.0_f64;
        for (row, &node) in self.system.node_of.iter().enumerate() {
            let reach = self.within_reach(node, self.step[row], point);
            if reach.abs() < self.step[row].abs() {
                share = share.min(reach.abs() / self.step[row].abs());
            }
        }
        let share = share.max(LEAST_SHARE);
        for (row, &node) in self.system.node_of.iter().enumerate() {
            self.step[row] *= share;
            self.step[row] = self.step[row].clamp(-FARTHEST_M, FARTHEST_M);
            point.head_m[node] += self.step[row];
        }
        for (index, line) in self.lines.iter().enumerate() {
            let link = &self.system.links[index];
            let moved = |node: usize| self.system.row[node].map_or(0.0, |row| self.step[row]);
            let linear = point.flow_m3_s[index]
                + share * (line.flow - point.flow_m3_s[index])
                + line.by_source * moved(link.source)
                + line.by_target * moved(link.target);
            point.flow_m3_s[index] = match link.law {
                Link::Rim(rim) => rim.flow(point.head_m[link.source]).value,
                Link::Run(_) if line.two_way || linear * line.sign > 0.0 => linear,
                Link::Run(_) => 0.0,
            };
        }
    }

    /// The step of a node, cut so that it passes no closed link without looking: just beyond the
    /// level at which the first of them opens, the balance is another one.
    fn within_reach(&self, node: usize, step: f64, point: &Point) -> f64 {
        let level = point.head_m[node];
        let mut reach = FARTHEST_M;
        for &index in &self.system.touching[node] {
            if self.lines[index].held != Held::Nothing {
                continue;
            }
            let link = &self.system.links[index];
            let levels = [point.head_m[link.source], point.head_m[link.target]];
            for opening in opening_levels(link.law, levels, link.source == node) {
                let away = if step > 0.0 {
                    opening - level
                } else {
                    level - opening
                };
                if away >= 0.0 {
                    reach = reach.min(away + JUST_BEYOND_M);
                }
            }
        }
        step.clamp(-reach, reach)
    }

    fn debug(&self, point: &Point, n: usize) {
        let bad: Vec<_> = self
            .lines
            .iter()
            .zip(&point.flow_m3_s)
            .enumerate()
            .filter(|(_, (l, q))| {
                !(l.flow.abs().max(q.abs()) <= FLOW_M3_S
                    || l.energy_m.abs() <= 1e-12
                    || ((l.flow - **q).abs() <= FLOW_M3_S + FLOW_SHARE * q.abs()
                        && l.energy_m.abs() <= ENERGY_M))
            })
            .map(|(i, (l, q))| {
                (
                    i,
                    self.system.links[i].source,
                    self.system.links[i].target,
                    l.flow,
                    *q,
                    l.energy_m,
                    l.held,
                    point.head_m[self.system.links[i].source],
                    point.head_m[self.system.links[i].target],
                )
            })
            .take(4)
            .collect();
        let nodes: Vec<_> = self
            .system
            .node_of
            .iter()
            .filter(|&&n| self.residual[n].abs() > self.allowed(n, point))
            .map(|&n| (n, self.residual[n], point.head_m[n]))
            .take(3)
            .collect();
        println!(
            "it {n} dt {:.2e} nodes {nodes:?} links {bad:?}",
            self.problem.step_s
        );
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
            self.assemble(point);
            stats.newton_steps += 1;
            if !self.system.matrix.solve(&self.values, &mut self.step) {
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

/// Levels of one end of a closed link at which water begins to pass it, either way.
fn opening_levels(law: &Link, levels: [f64; 2], at_source: bool) -> impl Iterator<Item = f64> {
    let (out, back) = match law {
        Link::Rim(rim) => (at_source.then_some(rim.rim_m), None),
        Link::Run(run) => {
            let (leaving, entering) = if at_source {
                (Sense::Forward, Sense::Backward)
            } else {
                (Sense::Backward, Sense::Forward)
            };
            let [_, far] = along(leaving, levels);
            let out = run.allows(leaving).then(|| run.opens_at(leaving, far));
            let back = if run.allows(entering) {
                run.lets_in_below(entering, far)
            } else {
                None
            };
            (out, back)
        }
    };
    [out, back].into_iter().flatten()
}

/// The flow of a link by its law, m³/s.
pub(crate) fn exact(law: &Link, levels: [f64; 2], guess: f64) -> f64 {
    match law {
        Link::Rim(rim) => rim.flow(levels[0]).value,
        Link::Run(run) => run.flow(levels[0], levels[1], guess),
    }
}
