//! The linearisations of all links at a state, the residuals there, and the Newton step that follows from them.

use super::line_fill::RetainedEnds;
use super::link_tangents::{AllowedFlow, FLOW_M3_S, Found, LinkTangents, is_let_go};
use super::matrix::{Numbers, Workspace};
use super::newton::{Problem, Stats};
use super::pressurised;
use super::system::{NetworkState, System, pass};
use super::tangent::{Tangent, linearise};
use crate::hydraulics::losses::loss_block::AT_A_TIME;
use crate::network::{FlowControl, Link, Node};

/// Imbalance accepted at a node, m³/s, before it is tightened for long steps.
const MASS_M3_S: f64 = 1e-10;
/// Imbalance of a joint that is never worth another step, m³/s: a tenth of a millilitre in three years, so
/// that several joints together stay within a millilitre.
const LEAST_MASS_M3_S: f64 = 1e-15;
/// Volume error accepted in a step, m³.
const VOLUME_M3: f64 = 1e-9;
/// Less than that in a small vessel: once dry, it stands below its floor by its error, at most this, metres.
const LEVEL_M: f64 = 1e-5;
/// Volume that a joint may gain or lose in a step, m³.
const JOINT_M3: f64 = 1e-7;
/// Rounding of a balance, as a fraction of the flow through the node.
const ROUNDING: f64 = 4e-15;
/// Minimum derivative on the diagonal, m²/s: changes the direction of a step, never its residual.
const LEAST_SLOPE: f64 = 1e-12;
/// Fraction by which the diagonal is raised where the matrix is singular: where low-resistance runs couple nodes to
/// each other and to nothing else, that minimum derivative is lost in rounding.
const RAISED: f64 = 1e-13;

/// Workspace of one step: all that is known about the current state.
pub(super) struct StepState<'a, 'n> {
    pub(super) system: &'a System<'n>,
    pub(super) problem: &'a Problem<'a>,
    /// The linearisations of all links, and their sums.
    pub(super) lines: LinkTangents,
    pub(super) sums: Assembled,
    pub(super) residual: Vec<f64>,
    pub(super) numbers: Numbers,
    /// The change of the levels by matrix row, and the part of it that was taken, by node.
    pub(super) step: Vec<f64>,
    pub(super) moved: Vec<f64>,
    pub(super) desk: Workspace,
    /// Kinks are worked around before a step is given up. A trial solve gives up instead, so that the end of a
    /// continuation of trials does not depend on the order of the links.
    pub(super) thorough: bool,
}

/// Sums over the linearisations of all links.
#[derive(Default)]
pub(super) struct Assembled {
    /// Derivative of the outflow of each node with respect to its own level, m²/s.
    pub(super) slope: Vec<f64>,
    /// Outflow of each node by the linearisations in excess of that by the current flows, m³/s.
    pub(super) change: Vec<f64>,
    /// The closed links.
    pub(super) closed: Vec<usize>,
    /// Residuals of the link laws at the current state.
    pub(super) found: Found,
}

impl Assembled {
    fn clear(&mut self, nodes: usize) {
        for sum in [&mut self.slope, &mut self.change] {
            sum.clear();
            sum.resize(nodes, 0.0);
        }
        self.closed.clear();
        self.found = Found::default();
    }

    #[inline]
    fn add(
        &mut self,
        [source, target]: [usize; 2],
        line: [f64; 3],
        flow: f64,
        keeps: RetainedEnds,
    ) {
        if source != target {
            let [of_line, by_source, by_target] = line;
            let (change, way) = (of_line - flow, way(flow, of_line));
            if !keeps.at(0, way) {
                self.slope[source] += by_source;
                self.change[source] += change;
            }
            if !keeps.at(1, way) {
                self.slope[target] -= by_target;
                self.change[target] -= change;
            }
        }
    }
}

/// The flow whose sign decides where a run that fills retains water: the current one, else that of its linearisation.
#[inline]
fn way(flow: f64, of_line: f64) -> f64 {
    if flow == 0.0 { of_line } else { flow }
}

/// Workspace of a step, kept from one step to the next to avoid allocation. It carries no state over: all of it is
/// written before it is read.
#[derive(Default)]
pub(crate) struct StepBuffers {
    lines: LinkTangents,
    sums: Assembled,
    residual: Vec<f64>,
    numbers: Numbers,
    step: Vec<f64>,
    moved: Vec<f64>,
    desk: Workspace,
}

impl Drop for StepState<'_, '_> {
    fn drop(&mut self) {
        self.system.bench.set(StepBuffers {
            lines: std::mem::take(&mut self.lines),
            sums: std::mem::take(&mut self.sums),
            residual: std::mem::take(&mut self.residual),
            numbers: std::mem::take(&mut self.numbers),
            step: std::mem::take(&mut self.step),
            moved: std::mem::take(&mut self.moved),
            desk: std::mem::take(&mut self.desk),
        });
    }
}

impl<'a, 'n> StepState<'a, 'n> {
    pub(super) fn new(system: &'a System<'n>, problem: &'a Problem<'a>) -> StepState<'a, 'n> {
        let mut bench = system.bench.take();
        let nodes = system.nodes.len();
        let links = system.links.len();
        bench.lines.make_room(links, system.with_lips.len());
        bench.residual.resize(nodes, 0.0);
        bench.step.resize(system.node_of.len(), 0.0);
        bench.moved.resize(nodes, 0.0);
        bench.desk.forget();
        StepState {
            system,
            problem,
            lines: bench.lines,
            sums: bench.sums,
            residual: bench.residual,
            numbers: bench.numbers,
            step: bench.step,
            moved: bench.moved,
            desk: bench.desk,
            thorough: false,
        }
    }

    /// A workspace that uses every fallback strategy.
    pub(super) fn thorough(system: &'a System<'n>, problem: &'a Problem<'a>) -> StepState<'a, 'n> {
        let mut work = StepState::new(system, problem);
        work.thorough = true;
        work
    }

    /// Linearises at `point` and computes the sums and residuals there, in one pass over the links.
    pub(super) fn linearise(&mut self, point: &NetworkState) {
        self.sums.clear(self.system.nodes.len());
        self.system.inflow(point, &mut self.residual);
        let (mut with_lips, links) = (0, self.system.links.len());
        for block in 0..links.div_ceil(AT_A_TIME) {
            let range = block * AT_A_TIME..((block + 1) * AT_A_TIME).min(links);
            let lines = &mut self.lines;
            let found = pressurised::write_lines(self.system, point, block, self.thorough, lines);
            self.sums.found.join(found);
            while let Some(&index) = self.system.with_lips.get(with_lips)
                && index < range.end
            {
                self.linearise_one(point, with_lips, index);
                with_lips += 1;
            }
            for index in range {
                let flow = point.flow_m3_s[index];
                let ends = self.system.links[index].ends();
                let lines = &self.lines;
                if lines.passes[index] == AllowedFlow::Nothing {
                    self.sums.closed.push(index);
                }
                let line = [
                    lines.flow[index],
                    lines.by_source[index],
                    lines.by_target[index],
                ];
                let keeps = self.system.line_fills.of(index);
                self.sums.add(ends, line, flow, keeps);
                pass(&mut self.residual, ends, flow, keeps);
            }
        }
        self.store(point);
    }

    /// Linearises a link that is not between two joints: number `place` of those.
    fn linearise_one(&mut self, point: &NetworkState, place: usize, index: usize) {
        let (link, flow) = (&self.system.links[index], point.flow_m3_s[index]);
        // Written in place: building it first and moving it would take twice the time.
        let line = &mut self.lines.with_lips[place];
        *line = linearise(link.law, link.levels(&point.head_m), flow);
        if self.thorough && line.two_way && is_let_go(flow, line.flow, line.energy_m) {
            *line = Tangent::default();
        }
        self.sums.found.note(line, flow);
        let passes = match link.law {
            Link::Rim(_) => AllowedFlow::Rim,
            Link::Run(_) => line.passes(),
        };
        if line.held == FlowControl::Nothing && passes != AllowedFlow::Nothing {
            self.sums.closed.push(index);
        }
        self.lines.flow[index] = line.flow;
        self.lines.by_source[index] = line.by_source;
        self.lines.by_target[index] = line.by_target;
        self.lines.passes[index] = passes;
    }

    /// Residual of every balance with the flows of `point`.
    pub(super) fn balance(&mut self, point: &NetworkState) {
        self.system.outflow(point, &mut self.residual);
        self.store(point);
    }

    /// Adds the storage of the vessels to the residuals.
    fn store(&mut self, point: &NetworkState) {
        for &node in &self.system.vessels {
            self.residual[node] += self
                .problem
                .stored_m3_s(self.system, node, point.head_m[node]);
        }
        if self.problem.drag.is_some() {
            for &node in &self.system.node_of {
                if !self.system.holds_water(node) {
                    self.residual[node] +=
                        self.problem
                            .stored_m3_s(self.system, node, point.head_m[node]);
                }
            }
        }
    }

    /// Whether laws and balances are satisfied at `point`; linearisations and residuals are those of `point`.
    pub(super) fn holds(&self, point: &NetworkState) -> bool {
        let mut nodes = self.system.node_of.iter();
        !self.sums.found.off && nodes.all(|&node| self.is_balanced(node, point))
    }

    pub(super) fn is_balanced(&self, node: usize, point: &NetworkState) -> bool {
        let residual = self.residual[node].abs();
        // The tolerance of any joint first: it is the cheaper test.
        let is_least = residual <= LEAST_MASS_M3_S && !self.system.holds_water(node);
        is_least || residual <= self.allowed(node, point)
    }

    /// Tolerated imbalance of a node: a small volume, but not below the rounding of the balance itself.
    pub(super) fn allowed(&self, node: usize, point: &NetworkState) -> f64 {
        let step_s = self.problem.step_s;
        let touching = self.system.touching(node);
        let through: f64 = touching.map(|link| point.flow_m3_s[link].abs()).sum();
        let Node::Vessel { storage, .. } = self.system.nodes[node] else {
            // In a step of years the imbalance of a joint would amount to litres.
            let joint = (JOINT_M3 / step_s).clamp(LEAST_MASS_M3_S, FLOW_M3_S);
            let least = MASS_M3_S.min(VOLUME_M3 / step_s).max(joint);
            let level = point.head_m[node];
            let (inflow, by_level) = self.system.source(node, level);
            let rounded = through + inflow.abs() + by_level.abs() * level.abs();
            return least.max(ROUNDING * rounded);
        };
        let level = point.head_m[node];
        let (inflow, by_level) = self.system.source(node, level);
        // At a floor the last digit of the level is almost no water downwards, but some upwards.
        let area = storage.area_m2(level).max(storage.area_m2(level.next_up()));
        let water = self.problem.volume_m3[node].abs() + area * level.abs();
        let rounded = through + inflow.abs() + by_level.abs() * level.abs() + water / step_s;
        let volume = VOLUME_M3.min(LEVEL_M * storage.least_area_m2());
        MASS_M3_S.min(volume / step_s).max(ROUNDING * rounded)
    }

    /// Assembles the matrix and right-hand side from the linearisations and the balance with their flows.
    pub(super) fn assemble(&mut self, point: &NetworkState) {
        let (system, matrix) = (self.system, &self.system.matrix);
        matrix.fill_across(&mut self.numbers, |link| {
            let keeps = system.line_fills.of(link);
            let way = way(point.flow_m3_s[link], self.lines.flow[link]);
            // The balance of an end that receives nothing does not depend on the level at the other end.
            let felt = |end: usize, slope: f64| if keeps.at(end, way) { 0.0 } else { slope };
            (
                felt(1, self.lines.by_source[link]),
                felt(0, self.lines.by_target[link]),
            )
        });
        for (row, &node) in system.node_of.iter().enumerate() {
            self.numbers.values[matrix.diagonal(row)] = self.sums.slope[node] + LEAST_SLOPE;
            self.step[row] = -(self.residual[node] + self.sums.change[node]);
        }
        if let Some(drag) = self.problem.drag {
            for (row, &node) in system.node_of.iter().enumerate() {
                if !system.holds_water(node) {
                    self.numbers.values[matrix.diagonal(row)] += drag.slope_m2_s;
                }
            }
        }
        for node in system.felt_nodes(point) {
            if let Some(row) = system.row[node] {
                let level = point.head_m[node];
                let area = system.area(node, level) / self.problem.step_s;
                self.numbers.values[matrix.diagonal(row)] += area - system.source(node, level).1;
            }
        }
        for (row, &node) in system.node_of.iter().enumerate() {
            let flat = self.numbers.values[matrix.diagonal(row)] <= 2.0 * LEAST_SLOPE;
            if flat && self.step[row].abs() <= self.allowed(node, point) {
                self.step[row] = 0.0;
            }
        }
    }

    /// The Newton step at `point`; false where there is none.
    pub(super) fn solve_step(&mut self, point: &NetworkState, stats: &mut Stats) -> bool {
        stats.newton_steps += 1;
        self.assemble(point);
        if self.solve_assembled(stats) {
            return true;
        }
        self.desk.forget();
        self.assemble(point);
        for row in 0..self.system.node_of.len() {
            self.numbers.values[self.system.matrix.diagonal(row)] *= 1.0 + RAISED;
        }
        self.solve_assembled(stats)
    }

    fn solve_assembled(&mut self, stats: &mut Stats) -> bool {
        let (matrix, rhs) = (&self.system.matrix, &mut self.step);
        match matrix.solve_again(&self.numbers, rhs, &mut self.desk) {
            Some(solved) => solved,
            None => {
                stats.factorisations += 1;
                matrix.solve(&self.numbers, rhs, &mut self.desk)
            }
        }
    }
}
