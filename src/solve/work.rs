//! The lines of all links about a point, what is out of balance there, and the step that follows from them.

use super::line_fill::RetainedEnds;
use super::link_tangents::{AllowedFlow, FLOW_M3_S, Found, LinkTangents, is_let_go};
use super::matrix::{Numbers, Workspace};
use super::newton::{Problem, Stats};
use super::pressurised;
use super::system::{NetworkState, System, pass};
use super::tangent::{Tangent, linearise};
use crate::hydraulics::loss_block::AT_A_TIME;
use crate::network::{FlowControl, Link, Node};

/// Imbalance accepted at a node, m³/s, before it is made smaller for long steps.
const MASS_M3_S: f64 = 1e-10;
/// Imbalance of a joint that is never worth another step, m³/s: a tenth of a millilitre in three years, so
/// that several joints together stay within a millilitre.
const LEAST_MASS_M3_S: f64 = 1e-15;
/// Volume error accepted in a step, m³.
const VOLUME_M3: f64 = 1e-9;
/// And less in a small vessel: once dry, it stands this far under its floor, metres, by what it was out by.
const LEVEL_M: f64 = 1e-5;
/// Water that a joint may make or lose in a step, m³.
const JOINT_M3: f64 = 1e-7;
/// Rounding of a balance, as a share of what flows through the node.
const ROUNDING: f64 = 4e-15;
/// Least slope on the diagonal, m²/s: moves the direction of a step, never its residual.
const LEAST_SLOPE: f64 = 1e-12;
/// Share of itself that the diagonal is raised by where the matrix is singular: where steep runs tie nodes to
/// each other and to nothing else, that least slope is lost in rounding.
const RAISED: f64 = 1e-13;

/// The desk of one step: what is known about the point that it stands at.
pub(super) struct StepState<'a, 'n> {
    pub(super) system: &'a System<'n>,
    pub(super) problem: &'a Problem<'a>,
    /// The lines of all links, and what they sum up to.
    pub(super) lines: LinkTangents,
    pub(super) sums: Assembled,
    pub(super) residual: Vec<f64>,
    pub(super) numbers: Numbers,
    /// The change of the levels, by row of the matrix, and what of it was taken, by node.
    pub(super) step: Vec<f64>,
    pub(super) moved: Vec<f64>,
    pub(super) desk: Workspace,
    /// Corners are gone round before a step is given up. A mere try gives up instead, so that where a climb of
    /// tries ends does not hang on the order of the links.
    pub(super) thorough: bool,
}

/// What the lines of all links sum up to.
#[derive(Default)]
pub(super) struct Assembled {
    /// Slope of the outflow of each node with its own level, m²/s.
    pub(super) slope: Vec<f64>,
    /// What flows out of each node by the lines more than by the flows that stand, m³/s.
    pub(super) change: Vec<f64>,
    /// The links that stand closed.
    pub(super) closed: Vec<usize>,
    /// How far the laws of the links are from what stands.
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

/// The flow by whose sign a run that fills keeps what arrives: the one that stands, else that of its line.
#[inline]
fn way(flow: f64, of_line: f64) -> f64 {
    if flow == 0.0 { of_line } else { flow }
}

/// Memory of the work on a step, kept from one step to the next so that none has to ask for it. It
/// carries nothing over: all of it is written before it is read.
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

    /// For whatever it takes.
    pub(super) fn thorough(system: &'a System<'n>, problem: &'a Problem<'a>) -> StepState<'a, 'n> {
        let mut work = StepState::new(system, problem);
        work.thorough = true;
        work
    }

    /// The lines about `point`, their sums, and what is out of balance there: all while a link is at hand.
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

    /// The line of a link that is not between two joints: number `place` of those.
    fn linearise_one(&mut self, point: &NetworkState, place: usize, index: usize) {
        let (link, flow) = (&self.system.links[index], point.flow_m3_s[index]);
        // Written where it stays: built first and then moved, it would take as long again.
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

    /// Adds to the residuals what the vessels take up.
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

    /// Whether laws and balances hold at `point`; lines and residuals are those of `point`.
    pub(super) fn holds(&self, point: &NetworkState) -> bool {
        let mut nodes = self.system.node_of.iter();
        !self.sums.found.off && nodes.all(|&node| self.is_balanced(node, point))
    }

    pub(super) fn is_balanced(&self, node: usize, point: &NetworkState) -> bool {
        let residual = self.residual[node].abs();
        // What is allowed at any joint, first: it is quicker to ask.
        let is_least = residual <= LEAST_MASS_M3_S && !self.system.holds_water(node);
        is_least || residual <= self.allowed(node, point)
    }

    /// Imbalance allowed at a node: small water, but not below the rounding of the balance itself.
    pub(super) fn allowed(&self, node: usize, point: &NetworkState) -> f64 {
        let step_s = self.problem.step_s;
        let touching = self.system.touching(node);
        let through: f64 = touching.map(|link| point.flow_m3_s[link].abs()).sum();
        let Node::Vessel { storage, .. } = self.system.nodes[node] else {
            // In a step of years what a joint is out by would be litres.
            let joint = (JOINT_M3 / step_s).clamp(LEAST_MASS_M3_S, FLOW_M3_S);
            let least = MASS_M3_S.min(VOLUME_M3 / step_s).max(joint);
            let level = point.head_m[node];
            let (inflow, by_level) = self.system.source(node, level);
            let rounded = through + inflow.abs() + by_level.abs() * level.abs();
            return least.max(ROUNDING * rounded);
        };
        let level = point.head_m[node];
        let (inflow, by_level) = self.system.source(node, level);
        // At a floor the last digit of the level is next to no water downwards, but some upwards.
        let area = storage.area_m2(level).max(storage.area_m2(level.next_up()));
        let water = self.problem.volume_m3[node].abs() + area * level.abs();
        let rounded = through + inflow.abs() + by_level.abs() * level.abs() + water / step_s;
        let volume = VOLUME_M3.min(LEVEL_M * storage.least_area_m2());
        MASS_M3_S.min(volume / step_s).max(ROUNDING * rounded)
    }

    /// Fills the matrix and the step from lines and the balance with the lines' own flows.
    pub(super) fn assemble(&mut self, point: &NetworkState) {
        let (system, matrix) = (self.system, &self.system.matrix);
        matrix.fill_across(&mut self.numbers, |link| {
            let keeps = system.line_fills.of(link);
            let way = way(point.flow_m3_s[link], self.lines.flow[link]);
            // The balance of an end that gets nothing does not feel the level at the other.
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

    /// The step from `point`; false where there is none.
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
