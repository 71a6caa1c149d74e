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
//!    anywhere because the system is an M-function; and once, where that does
//!    not do, storage at the joints that is taken away again (`continuation`).

use super::continuation::{self, ArtificialStorage};
use super::gauss_seidel;
use super::head_shift;
use super::matrix::Numbers;
use super::reach::exact;
use super::step_limit::FARTHEST_M;
use super::system::{NetworkState, System};
use super::work::StepState;

/// Work done by the solver.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Stats {
    /// Linear systems solved.
    pub newton_steps: usize,
    /// Matrices factored for them: fewer, where the factors of one did for another.
    pub factorisations: usize,
    /// Time steps accepted.
    pub time_steps: usize,
    /// Sweeps of the last gear.
    pub sweeps: usize,
}

impl std::ops::AddAssign for Stats {
    fn add_assign(&mut self, more: Stats) {
        self.newton_steps += more.newton_steps;
        self.factorisations += more.factorisations;
        self.time_steps += more.time_steps;
        self.sweeps += more.sweeps;
    }
}

/// A step that could not be solved.
#[derive(Clone, Debug, PartialEq)]
pub struct ConvergenceError {
    /// The nodes that are out of balance, worst first.
    pub nodes: Vec<usize>,
    /// The worst imbalance, m³/s.
    pub imbalance_m3_s: f64,
}

/// What a step starts from.
#[derive(Clone, Copy)]
pub(crate) struct Problem<'a> {
    /// Water each vessel would hold if nothing flowed, m³.
    pub volume_m3: &'a [f64],
    /// Length of the step, s.
    pub step_s: f64,
    /// Storage of the joints; none but in a continuation.
    pub drag: Option<ArtificialStorage<'a>>,
}

impl<'a> Problem<'a> {
    /// A step of `step_s` seconds from these volumes, m³.
    pub fn new(volume_m3: &'a [f64], step_s: f64) -> Problem<'a> {
        Problem {
            volume_m3,
            step_s,
            drag: None,
        }
    }

    /// What a node takes up at a level, m³/s.
    pub fn stored_m3_s(&self, system: &System, node: usize, level_m: f64) -> f64 {
        match self.drag {
            Some(drag) if !system.holds_water(node) => {
                drag.slope_m2_s * (level_m - drag.from_m[node])
            }
            _ => (system.volume(node, level_m) - self.volume_m3[node]) / self.step_s,
        }
    }
}

/// A level that moves slower than this is no error, m/s: a tenth of a millimetre in three years, which on a lake
/// is a stream that one would see.
const NEGLIGIBLE_M_S: f64 = 1e-12;
/// A step of one node by itself beyond which it is settled by its own balance instead, metres.
const OUT_OF_SIGHT_M: f64 = 5.0;
/// Undamped steps after which every fourth is halved: a half step is in no cycle of whole ones.
const PATIENCE: usize = 12;
/// Nodes out of balance that count as few.
const FEW: usize = 3;

/// Undamped steps, then damped steps and sweeps in turn this often.
const UNDAMPED: usize = 40;
const DAMPED: usize = 15;
const MAX_ITERATIONS: usize = 3;
/// The round in which the joints are given a storage for a while: where the first has not done, few others do.
const CONTINUES_IN: usize = 1;

/// Tries one step in the first gear only, of at most `most` steps; `point` moves either way.
pub(crate) fn attempt(
    system: &System,
    problem: &Problem,
    point: &mut NetworkState,
    most: usize,
    stats: &mut Stats,
) -> bool {
    StepState::new(system, problem).undamped(point, most, stats)
}

/// Solves one step from `point` in place.
pub(crate) fn solve(
    system: &System,
    problem: &Problem,
    point: &mut NetworkState,
    stats: &mut Stats,
) -> Result<(), ConvergenceError> {
    let mut work = StepState::thorough(system, problem);
    if work.undamped(point, UNDAMPED, stats) {
        return Ok(());
    }
    for round in 0..MAX_ITERATIONS {
        work.damped(point, DAMPED << round, stats);
        let surely = point.clone();
        if work.undamped(point, UNDAMPED, stats) {
            return Ok(());
        }
        // What leads astray is not gone on from.
        *point = surely.clone();
        if round == CONTINUES_IN && continuation::solve(system, problem, point, stats) {
            return Ok(());
        }
        *point = surely;
        work.linearise(point);
        head_shift::settle(system, problem, point, &work.lines);
        stats.sweeps += gauss_seidel::sweep(system, problem, point, 20 << round);
        work.exact_flows(point);
        let surely = point.clone();
        if work.undamped(point, UNDAMPED, stats) {
            return Ok(());
        }
        *point = surely;
    }
    Err(work.convergence_error(point))
}

/// Errors of a point: the largest imbalance and the largest energy error.
pub(crate) fn errors(system: &System, problem: &Problem, point: &NetworkState) -> (f64, f64) {
    let mut work = StepState::thorough(system, problem);
    work.linearise(point);
    let mass = system.node_of.iter().fold(0.0_f64, |most, &node| {
        let unseen = NEGLIGIBLE_M_S * system.area(node, point.head_m[node]);
        most.max(work.residual[node].abs() - unseen)
    });
    (mass, work.sums.found.energy_m)
}

/// The matrix and right-hand side of a step about `point`.
pub(crate) fn assembled(
    system: &System,
    problem: &Problem,
    point: &NetworkState,
) -> (Numbers, Vec<f64>) {
    let mut work = StepState::new(system, problem);
    work.linearise(point);
    work.assemble(point);
    (work.numbers.clone(), work.step.clone())
}

impl StepState<'_, '_> {
    pub(super) fn undamped(
        &mut self,
        point: &mut NetworkState,
        most: usize,
        stats: &mut Stats,
    ) -> bool {
        for turn in 0..most {
            self.linearise(point);
            if self.holds(point) {
                return true;
            }
            self.wake(point);
            if self.thorough && turn >= PATIENCE && turn % 4 == 1 {
                self.settle_corners(point);
            }
            if !self.solve_step(point, stats) {
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
        self.holds(point)
    }

    /// Settles nodes whose balance hardly feels their own level where they stand: their links are
    /// closed, or held elsewhere. A straight line would send them out of sight.
    fn wake(&mut self, point: &mut NetworkState) {
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
                woken |= gauss_seidel::settle(self.system, self.problem, point, node);
            }
        }
        if woken {
            self.linearise(point);
        }
    }

    /// Settles by their own balance the nodes that are out of it, where they are few; else moves together those
    /// that are tied to each other. At a corner of a law a straight line leads now to one side and now to the
    /// other, round and round.
    fn settle_corners(&mut self, point: &mut NetworkState) {
        let nodes = self.system.node_of.iter().copied();
        let out: Vec<usize> = nodes
            .filter(|&node| !self.is_balanced(node, point))
            .take(FEW + 1)
            .collect();
        if out.len() <= FEW {
            for node in out {
                gauss_seidel::settle(self.system, self.problem, point, node);
            }
        } else {
            head_shift::settle(self.system, self.problem, point, &self.lines);
        }
        self.linearise(point);
    }

    fn exact_flows(&self, point: &mut NetworkState) {
        for (index, link) in self.system.links.iter().enumerate() {
            let levels = link.levels(&point.head_m);
            point.flow_m3_s[index] = exact(link.law, levels, point.flow_m3_s[index]);
        }
    }

    fn merit(&mut self, point: &NetworkState) -> f64 {
        self.balance(point);
        self.system
            .node_of
            .iter()
            .map(|&node| self.residual[node].abs())
            .sum()
    }

    /// Steps in the levels with exact flows, halved until the balances improve.
    fn damped(&mut self, point: &mut NetworkState, most: usize, stats: &mut Stats) {
        self.exact_flows(point);
        let mut merit = self.merit(point);
        for _ in 0..most {
            self.linearise(point);
            if self.holds(point) {
                return;
            }
            self.wake(point);
            if !self.solve_step(point, stats) {
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

    fn convergence_error(&mut self, point: &NetworkState) -> ConvergenceError {
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
        ConvergenceError {
            nodes,
            imbalance_m3_s: worst,
        }
    }
}
