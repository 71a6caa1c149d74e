//! Paths of runs: the path that water takes from part to part, and the shortest where it takes none.

mod search;

use crate::evaluate::NO_FLOW_M3_S;
use crate::layout::{Id, Layout};
use crate::states::report::StateReport;
use std::collections::HashMap;

/// Why there is no path.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoPath {
    /// No vessel, joint, fixed level, run or pump has this id.
    Unknown(Id),
    /// No runs lead from the first to the second.
    NotJoined(Id, Id),
    /// The layout has no run, or the named part has none.
    NoRun,
}

/// The graph of the runs of a layout, with the direction of flow in them.
pub struct Paths<'a> {
    layout: &'a Layout,
    nodes: HashMap<&'a Id, usize>,
    edges: Vec<Edge>,
    /// Indices of the edges at each node.
    at: Vec<Vec<usize>>,
}

/// A run between two parts, in the direction in which it was drawn.
struct Edge {
    ends: [usize; 2],
    length_m: f64,
    flow_m3_s: f64,
}

impl Edge {
    /// The end that is not `node`.
    fn other(&self, node: usize) -> usize {
        if self.ends[0] == node {
            self.ends[1]
        } else {
            self.ends[0]
        }
    }

    /// Flow away from `node` in it, m³/s; negative: towards it.
    fn away_m3_s(&self, node: usize) -> f64 {
        if self.ends[0] == node {
            self.flow_m3_s
        } else {
            -self.flow_m3_s
        }
    }

    /// Its ends in the direction of flow; as drawn without flow.
    fn with_flow(&self) -> [usize; 2] {
        let [from, to] = self.ends;
        if self.flow_m3_s < -NO_FLOW_M3_S {
            [to, from]
        } else {
            [from, to]
        }
    }
}

/// One part of a path: where the path reaches it, the run where it is one, and where the path leaves it.
#[derive(Clone, Copy)]
struct PathStop {
    enters: usize,
    run: Option<usize>,
    leaves: usize,
}

impl<'a> Paths<'a> {
    /// The paths of a layout. `report`: of a state in which water flows; without one, and for runs that are not
    /// in it, there is no flow.
    pub fn of(layout: &'a Layout, report: Option<&StateReport>) -> Paths<'a> {
        let vessels = layout.vessels.iter().map(|part| &part.id);
        let joints = layout.joints.iter().map(|part| &part.id);
        let fixed = layout.fixed.iter().map(|part| &part.id);
        let parts = vessels.chain(joints).chain(fixed);
        let nodes: HashMap<&Id, usize> = parts.enumerate().map(|(at, id)| (id, at)).collect();
        let runs = report.map(|report| &report.real().runs);
        let told: HashMap<&Id, (f64, f64)> = runs
            .into_iter()
            .flatten()
            .map(|run| (&run.id, (run.flow_m3_s, run.length_m)))
            .collect();
        let mut at = vec![Vec::new(); nodes.len() + 1];
        // A run with a missing end leads to a node of its own that nothing else leads to.
        let nowhere = nodes.len();
        let edges: Vec<Edge> = layout
            .runs
            .iter()
            .map(|run| {
                let known = told.get(&run.id).copied();
                let (flow_m3_s, length_m) = known.unwrap_or((0.0, run.length_m.unwrap_or(1.0)));
                let place = |id: &Id| nodes.get(id).copied().unwrap_or(nowhere);
                Edge {
                    ends: [place(&run.from.at), place(&run.to.at)],
                    length_m: length_m.max(0.0),
                    flow_m3_s,
                }
            })
            .collect();
        for (number, edge) in edges.iter().enumerate() {
            for end in edge.ends.into_iter().filter(|end| *end != nowhere) {
                if let Some(list) = at.get_mut(end) {
                    list.push(number);
                }
            }
        }
        Paths {
            layout,
            nodes,
            edges,
            at,
        }
    }

    /// Through all `parts` in their order, be they vessels, joints, fixed levels, runs or pumps: between two of
    /// them the path of the water, of several the one with most water; else the shortest. A run is passed
    /// in its direction of flow where both are possible. For one part: [`Paths::through`].
    ///
    /// # Errors
    /// A missing part, two parts without a connection, or a part without runs.
    pub fn along(&self, parts: &[Id]) -> Result<Vec<Id>, NoPath> {
        let [first, rest @ ..] = parts else {
            return self.main();
        };
        if rest.is_empty() {
            return self.through(first);
        }
        let mut ways: Vec<(PathCost, Vec<usize>, usize)> = Vec::new();
        for stop in self.stops(first)? {
            let cost = self.against(&stop);
            ways.push((cost, stop.run.into_iter().collect(), stop.leaves));
        }
        for (before, part) in parts.iter().zip(rest) {
            let mut next = Vec::new();
            for stop in self.stops(part)? {
                let found = ways.iter().filter_map(|way| self.joined(way, &stop));
                let best = found.min_by(|a, b| a.0.by_worth(&b.0));
                next.extend(best);
            }
            if next.is_empty() {
                return Err(NoPath::NotJoined(before.clone(), part.clone()));
            }
            ways = next;
        }
        let best = ways.into_iter().min_by(|a, b| a.0.by_worth(&b.0));
        let runs = best.map(|(_, runs, _)| runs).unwrap_or_default();
        if runs.is_empty() {
            return Err(NoPath::NoRun);
        }
        Ok(self.named(&runs))
    }

    /// The path of the most water: from the discharge of the pump with most flow down to what it draws from, and
    /// through it. Without a running pump: the same through the run with most flow, up and down as far as water
    /// flows.
    ///
    /// # Errors
    /// [`NoPath::NoRun`].
    pub fn main(&self) -> Result<Vec<Id>, NoPath> {
        let pumped = self.pump_run();
        let most = || {
            let all = 0..self.edges.len();
            all.max_by(|a, b| self.size(*a).total_cmp(&self.size(*b)))
        };
        let run = pumped.or_else(most).ok_or(NoPath::NoRun)?;
        Ok(self.named(&self.through_run(run)))
    }

    /// The path of the most water through one part: from the discharge of the pump over it to what the pump draws
    /// from, and through the pump. Where there is no such path: up and down as far as water flows.
    ///
    /// # Errors
    /// A part that is missing or has no run.
    pub fn through(&self, part: &Id) -> Result<Vec<Id>, NoPath> {
        if let Some(run) = self.run(part) {
            return Ok(self.named(&self.through_run(run)));
        }
        let node = *self
            .nodes
            .get(part)
            .ok_or_else(|| NoPath::Unknown(part.clone()))?;
        let round = self.round(|discharge, suction| {
            if node == discharge || node == suction {
                return self.widest(discharge, suction);
            }
            let mut way = self.widest(discharge, node)?;
            way.extend(self.widest(node, suction)?);
            Some(way)
        });
        let way = round.unwrap_or_else(|| {
            let mut way = self.up_from(node, &[node]);
            let passed = self.passed(&way, node);
            way.extend(self.down_from(node, &passed));
            way
        });
        if way.is_empty() {
            // No flow there: one of its runs, as it was drawn.
            let runs = self.at.get(node).and_then(|runs| runs.first());
            return runs.map(|run| self.named(&[*run])).ok_or(NoPath::NoRun);
        }
        Ok(self.named(&way))
    }

    fn through_run(&self, run: usize) -> Vec<usize> {
        let Some([enters, leaves]) = self.edges.get(run).map(Edge::with_flow) else {
            return Vec::new();
        };
        let pumped = self.pump_run();
        let round = self.round(|discharge, suction| {
            if pumped == Some(run) {
                return self.widest(discharge, suction);
            }
            let mut way = self.widest(discharge, enters)?;
            way.push(run);
            way.extend(self.widest(leaves, suction)?);
            Some(way)
        });
        round.unwrap_or_else(|| {
            let mut way = self.up_from(enters, &[enters, leaves]);
            let mut passed = self.passed(&way, enters);
            passed.push(leaves);
            way.push(run);
            way.extend(self.down_from(leaves, &passed));
            way
        })
    }

    /// A path from the discharge of the main pump to its suction, and the run of the pump at its end; none where
    /// no pump runs.
    fn round(&self, way: impl Fn(usize, usize) -> Option<Vec<usize>>) -> Option<Vec<usize>> {
        let run = self.pump_run()?;
        let [suction, discharge] = self.edges.get(run)?.with_flow();
        let mut way = way(discharge, suction)?;
        way.push(run);
        Some(way)
    }

    /// The run of the pump with most flow; none where no pump has any.
    fn pump_run(&self) -> Option<usize> {
        let runs = self.layout.runs.iter().enumerate();
        let pumped = runs.filter(|(at, run)| run.pump.is_some() && self.size(*at) > NO_FLOW_M3_S);
        let pumped = pumped.map(|(at, _)| at);
        pumped.max_by(|a, b| self.size(*a).total_cmp(&self.size(*b)))
    }

    fn size(&self, run: usize) -> f64 {
        self.edges.get(run).map_or(0.0, |edge| edge.flow_m3_s.abs())
    }

    /// The index of a run, or of the run of a pump.
    fn run(&self, id: &Id) -> Option<usize> {
        let mut runs = self.layout.runs.iter();
        runs.position(|run| run.id == *id || run.pump.as_ref().is_some_and(|pump| pump.id == *id))
    }

    fn named(&self, runs: &[usize]) -> Vec<Id> {
        let ids = runs.iter().filter_map(|run| self.layout.runs.get(*run));
        ids.map(|run| run.id.clone()).collect()
    }

    /// The ways to pass a part.
    fn stops(&self, part: &Id) -> Result<Vec<PathStop>, NoPath> {
        if let Some(run) = self.run(part) {
            let [enters, leaves] = self.edges.get(run).map_or([0, 0], Edge::with_flow);
            let one = |enters, leaves| PathStop {
                enters,
                run: Some(run),
                leaves,
            };
            return Ok(vec![one(enters, leaves), one(leaves, enters)]);
        }
        match self.nodes.get(part) {
            Some(&node) => Ok(vec![PathStop {
                enters: node,
                run: None,
                leaves: node,
            }]),
            None => Err(NoPath::Unknown(part.clone())),
        }
    }

    /// The cost of passing a run against its flow.
    fn against(&self, stop: &PathStop) -> PathCost {
        let edge = stop.run.and_then(|run| self.edges.get(run));
        let against = edge.is_some_and(|edge| edge.with_flow() != [stop.enters, stop.leaves]);
        PathCost {
            dry: usize::from(against),
            length_m: edge.map_or(0.0, |edge| edge.length_m),
        }
    }

    /// A path extended to a stop.
    fn joined(
        &self,
        (cost, runs, node): &(PathCost, Vec<usize>, usize),
        stop: &PathStop,
    ) -> Option<(PathCost, Vec<usize>, usize)> {
        let (dry, leg) = match self.widest(*node, stop.enters) {
            Some(leg) => (0, leg),
            None => (1, self.shortest(*node, stop.enters)?),
        };
        let here = self.against(stop);
        let along = leg.iter().filter_map(|run| self.edges.get(*run));
        let length_m: f64 = along.map(|edge| edge.length_m).sum();
        let mut runs = runs.clone();
        runs.extend(leg);
        runs.extend(stop.run);
        let cost = PathCost {
            dry: cost.dry + dry + here.dry,
            length_m: cost.length_m + length_m + here.length_m,
        };
        Some((cost, runs, stop.leaves))
    }
}

/// The cost of a path: its legs without flow, and then its length.
#[derive(Clone, Copy)]
struct PathCost {
    dry: usize,
    length_m: f64,
}

impl PathCost {
    fn by_worth(&self, other: &PathCost) -> std::cmp::Ordering {
        let dry = self.dry.cmp(&other.dry);
        dry.then(self.length_m.total_cmp(&other.length_m))
    }
}
