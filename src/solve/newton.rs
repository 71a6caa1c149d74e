//! One implicit step: levels and flows that satisfy every balance and every law.
//!
//! Newton's method on the active branch of each law, levels and flows together, with the flows eliminated (hybrid
//! form).  [@todini-pilati-1988]  Three strategies, each slower and more robust than the one before:
//!
//! 1. undamped steps; each run is re-linearised at the smaller of its linear and
//!    its exact flow where the two differ (a square-root law overshoots one way,
//!    its inverse the other);
//! 2. steps in the levels alone with exact flows and a line search;
//! 3. Gauss–Seidel sweeps, one nodal balance after another (`gauss_seidel`), which
//!    converge from any start because the system is an M-function; and once, where
//!    that fails, pseudo-transient storage at the joints (`continuation`).

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
    /// Matrices factored for them: fewer, where factors were reused.
    pub factorisations: usize,
    /// Time steps accepted.
    pub time_steps: usize,
    /// Gauss–Seidel sweeps of the last fallback strategy.
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

/// Convergence error: a step that could not be solved.
#[derive(Clone, Debug, PartialEq)]
pub struct ConvergenceError {
    /// The nodes that are out of balance, worst first.
    pub nodes: Vec<usize>,
    /// The worst imbalance, m³/s.
    pub imbalance_m3_s: f64,
}

/// What an implicit step starts from.
#[derive(Clone, Copy)]
pub(crate) struct Problem<'a> {
    /// Volume that each vessel would hold without flow, m³.
    pub volume_m3: &'a [f64],
    /// Step length, s.
    pub step_s: f64,
    /// Pseudo-transient storage of the joints; none except in a continuation.
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

    /// Rate at which a node stores water at a level, m³/s.
    pub fn stored_m3_s(&self, system: &System, node: usize, level_m: f64) -> f64 {
        match self.drag {
            Some(drag) if !system.holds_water(node) => {
                drag.slope_m2_s * (level_m - drag.from_m[node])
            }
            _ => (system.volume(node, level_m) - self.volume_m3[node]) / self.step_s,
        }
    }
}

/// Speed of a level below which an imbalance is no error, m/s: a tenth of a millimetre in three years, which on a
/// lake is a stream that one would see.
const NEGLIGIBLE_M_S: f64 = 1e-12;
/// Step of a single node beyond which its own balance is solved instead, metres.
const OUT_OF_SIGHT_M: f64 = 5.0;
/// Undamped steps after which every fourth is halved: a half step breaks a cycle of full ones.
const PATIENCE: usize = 12;
/// Number of nodes out of balance that counts as few.
const FEW: usize = 3;

/// Undamped steps, then damped steps and sweeps alternately this often.
const UNDAMPED: usize = 40;
const DAMPED: usize = 15;
const MAX_ITERATIONS: usize = 3;
/// The round in which joints are given pseudo-transient storage: where the first round failed, few others succeed.
const CONTINUES_IN: usize = 1;

/// Tries one step with plain Newton only, of at most `most` iterations; `point` changes either way.
pub(crate) fn attempt(
    system: &System,
    problem: &Problem,
    point: &mut NetworkState,
    most: usize,
    stats: &mut Stats,
) -> bool {
    StepState::new(system, problem).undamped(point, most, stats)
}

/// Solves one step in place, starting at `point`.
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
        // A state that leads away from the solution is discarded.
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

/// Errors of a state: the largest imbalance and the largest energy residual.
pub(crate) fn errors(system: &System, problem: &Problem, point: &NetworkState) -> (f64, f64) {
    let mut work = StepState::thorough(system, problem);
    work.linearise(point);
    let mass = system.node_of.iter().fold(0.0_f64, |most, &node| {
        let unseen = NEGLIGIBLE_M_S * system.area(node, point.head_m[node]);
        most.max(work.residual[node].abs() - unseen)
    });
    (mass, work.sums.found.energy_m)
}

/// The matrix and right-hand side of a step at `point`.
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

    /// Solves one by one the balances of nodes that are almost insensitive to their own level: their links are closed,
    /// or under control at the other end. A linearisation would move them out of all range.
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

    /// Solves one by one the balances of the nodes that are out of balance, where they are few; else shifts groups of
    /// coupled nodes. At a kink of a law a linearisation alternates between its two sides, in an endless cycle.
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
