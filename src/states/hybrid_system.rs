//! Hybrid system: a layout whose pumps and siphons switch between modes, and the network of each combination of modes.
//!
//! Everything with a memory is here: a pump that stopped for lack of water, a float switch, runs that hold air at
//! their high points or are primed. Between two events all modes stay the same, so that the levels are unique.

use super::chain::{self, Chain};
use super::chatter::ChatterDetector;
use super::lines::LineWater;
use crate::layout::{Direction, Id, Layout, Opening, Run};
use crate::lower::Lowered;
use crate::network::{Check, Link};
use crate::solve::NetworkState;

/// Head over an intake below which no water counts as left, metres: a film. Common practice, no source.
const WETTED_M: f64 = 0.001;
/// Cover over the lip below which an intake counts as uncovered, and above which a dry pump restarts, in bores.
/// Common practice, no source.
const INTAKE_COVER_BORES: f64 = 1.0;
const RESTART_BORES: f64 = 2.0;

/// The hybrid system: the layout as simulated in one state.
pub(super) struct HybridSystem<'a> {
    pub layout: &'a Layout,
    /// With its pumps on.
    pub on: Lowered,
    /// The same with its pumps off.
    pub off: Lowered,
    pub switches: Vec<Switch>,
    /// Numbers of the chains that are initially primed.
    pub primed: Vec<usize>,
    /// Volume that its runs take up, and that they hold initially.
    pub water: LineWater,
}

/// A part with a memory.
pub(super) struct Switch {
    /// The pump, or the run with the high point.
    pub part: Id,
    /// Index of its run in `layout.runs`.
    pub run: usize,
    /// Its link.
    pub link: usize,
    pub kind: SwitchKind,
}

/// The kind of memory.
pub(super) enum SwitchKind {
    Pump(PumpSwitch),
    /// Runs that hold air at their high points, or are primed.
    Chain(Chain),
}

/// The opening that a pump draws through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Intake {
    /// Node of its vessel.
    pub node: usize,
    /// Index of its vessel in `layout.vessels`.
    pub vessel: usize,
    /// Its lip, metres.
    pub lip_m: f64,
    /// Its bore, metres.
    pub bore_m: f64,
}

impl Intake {
    /// Level at which it is dry, metres.
    pub fn dry_m(&self) -> f64 {
        self.lip_m + WETTED_M
    }

    /// Level at which it counts as uncovered, metres.
    pub fn cover_m(&self) -> f64 {
        self.lip_m + INTAKE_COVER_BORES * self.bore_m
    }

    /// Level at which a pump that ran dry restarts, metres.
    pub fn restart_m(&self) -> f64 {
        self.lip_m + RESTART_BORES * self.bore_m
    }
}

/// The switching behaviour of a pump.
pub(super) struct PumpSwitch {
    /// Its intake; none where it draws from a joint or a fixed level.
    pub intake: Option<Intake>,
    /// It stops when it runs dry.
    pub stops_when_dry: bool,
    /// Its float switch.
    pub float: Option<Float>,
}

/// A float switch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Float {
    /// Node of the vessel that it hangs in.
    pub node: usize,
    /// Level at which it turns the pump on, metres.
    pub on_m: f64,
    /// Level at which it turns the pump off, metres.
    pub off_m: f64,
}

impl Float {
    /// Whether the pump runs at high water; else at low water.
    pub fn runs_high(&self) -> bool {
        self.on_m >= self.off_m
    }

    /// Its signal at a level; none between its two levels, where it changes nothing.
    fn says(&self, level_m: f64) -> Option<bool> {
        let (on, off) = if self.runs_high() {
            (level_m > self.on_m, level_m <= self.off_m)
        } else {
            (level_m <= self.on_m, level_m > self.off_m)
        };
        match (on, off) {
            (true, _) => Some(true),
            (_, true) => Some(false),
            _ => None,
        }
    }
}

/// The mode of a switch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SwitchMode {
    /// The pump runs.
    Runs,
    /// The float switch has turned it off.
    Waits,
    /// It ran dry and stopped.
    Dry,
    /// Air stands at the high points of the chain.
    WithAir,
    /// The chain is full of water over its high points.
    Primed,
}

impl<'a> HybridSystem<'a> {
    /// `on` and `off` must be the same layout in the same situation except for the pumps.
    pub fn new(layout: &'a Layout, on: Lowered, off: Lowered) -> HybridSystem<'a> {
        let mut switches = Vec::new();
        for (run, drawn) in layout.runs.iter().enumerate() {
            let Some(&link) = on.origin.runs.get(run) else {
                continue;
            };
            if let Some(kind) = pump(&on, run, drawn) {
                let part = drawn
                    .pump
                    .as_ref()
                    .map_or_else(|| drawn.id.clone(), |pump| pump.id.clone());
                switches.push(Switch {
                    part,
                    run,
                    link,
                    kind,
                });
            }
        }
        switches.extend(chain::switches(layout, &on));
        HybridSystem {
            layout,
            on,
            off,
            switches,
            primed: Vec::new(),
            water: LineWater::default(),
        }
    }

    /// The same with this water in its runs initially.
    pub fn with_water(self, water: LineWater) -> HybridSystem<'a> {
        HybridSystem { water, ..self }
    }

    /// The same with these chains primed initially.
    pub fn primed(self, chains: &[usize]) -> HybridSystem<'a> {
        HybridSystem {
            primed: chains.to_vec(),
            ..self
        }
    }

    /// The same system with other water in its runs.
    pub fn holding(&self, water: LineWater) -> HybridSystem<'a> {
        HybridSystem::new(self.layout, self.on.clone(), self.off.clone())
            .primed(&self.primed)
            .with_water(water)
    }

    /// Nodes of the vessels that pumps draw from, each once.
    pub fn intakes(&self) -> Vec<usize> {
        let mut nodes: Vec<usize> = Vec::new();
        for switch in &self.switches {
            if let SwitchKind::Pump(PumpSwitch {
                intake: Some(intake),
                ..
            }) = &switch.kind
                && !nodes.contains(&intake.node)
            {
                nodes.push(intake.node);
            }
        }
        nodes
    }

    /// Numbers of the chains that are primed in these modes.
    pub fn primed_chains(&self, modes: &[SwitchMode]) -> Vec<usize> {
        let switches = self.switches.iter().zip(modes);
        let primed = switches.filter(|(_, mode)| **mode == SwitchMode::Primed);
        primed
            .filter_map(|(switch, _)| match &switch.kind {
                SwitchKind::Chain(chain) => Some(chain.number),
                SwitchKind::Pump(_) => None,
            })
            .collect()
    }

    /// The lowered layout in these modes.
    pub fn lowered(&self, modes: &[SwitchMode]) -> Lowered {
        let mut made = self.on.clone();
        for (switch, mode) in self.switches.iter().zip(modes) {
            match (mode, &switch.kind) {
                (SwitchMode::Waits | SwitchMode::Dry, _) => {
                    stand_still(&mut made, &self.off, switch.run)
                }
                // Chains come after the pumps: a run whose pump has stopped can still be full of water.
                (SwitchMode::Primed, SwitchKind::Chain(chain)) => prime(&mut made, &chain.links),
                _ => {}
            }
        }
        made
    }

    /// All modes at a start.
    pub fn first_modes(&self, start: &NetworkState) -> Vec<SwitchMode> {
        self.modes_at_a_start(start, &self.primed)
    }

    /// The same with these chains primed.
    pub fn modes_at_a_start(&self, start: &NetworkState, primed: &[usize]) -> Vec<SwitchMode> {
        let mut modes: Vec<SwitchMode> = self
            .switches
            .iter()
            .map(|switch| match &switch.kind {
                SwitchKind::Chain(chain) if primed.contains(&chain.number) => SwitchMode::Primed,
                SwitchKind::Chain(_) => SwitchMode::WithAir,
                SwitchKind::Pump(pump) => match pump.float {
                    Some(float) if float.says(start.head_m[float.node]) != Some(true) => {
                        SwitchMode::Waits
                    }
                    _ => SwitchMode::Runs,
                },
            })
            .collect();
        self.agree(&mut modes, start);
        modes
    }

    /// A record in which no chain has switched yet.
    pub fn chattering(&self) -> ChatterDetector {
        ChatterDetector::new(&self.on.origin.vessels, self.switches.len())
    }

    /// Corrects modes that contradict the levels, as after a change.
    pub fn agree(&self, modes: &mut [SwitchMode], point: &NetworkState) {
        for (switch, mode) in self.switches.iter().zip(modes) {
            let SwitchKind::Pump(pump) = &switch.kind else {
                continue;
            };
            let float_says = pump
                .float
                .and_then(|float| float.says(point.head_m[float.node]));
            if *mode == SwitchMode::Waits && float_says == Some(true) {
                *mode = SwitchMode::Runs;
            }
            if *mode == SwitchMode::Runs && float_says == Some(false) {
                *mode = SwitchMode::Waits;
            }
            if let Some(intake) = pump.intake.filter(|_| pump.stops_when_dry) {
                let level_m = point.head_m[intake.node];
                if *mode == SwitchMode::Runs && level_m <= intake.dry_m() {
                    *mode = SwitchMode::Dry;
                } else if *mode == SwitchMode::Dry && level_m > intake.restart_m() {
                    *mode = if float_says == Some(false) {
                        SwitchMode::Waits
                    } else {
                        SwitchMode::Runs
                    };
                }
            }
        }
    }
}

fn pump(on: &Lowered, run: usize, drawn: &Run) -> Option<SwitchKind> {
    let facts = on.origin.run_facts.get(run)?;
    let pump = drawn.pump.as_ref().filter(|_| facts.pump_on)?;
    Some(SwitchKind::Pump(PumpSwitch {
        intake: intake_of(on, (run, drawn), suction_end(drawn)),
        stops_when_dry: pump.stops_when_dry,
        float: float_of(on, run),
    }))
}

/// The end (as drawn) that the pump of a run draws from: 0 `from`, 1 `to`.
fn suction_end(drawn: &Run) -> usize {
    let pushes = drawn.pump.as_ref().map(|pump| pump.pushes);
    usize::from(pushes == Some(Direction::Backward))
}

fn float_of(on: &Lowered, run: usize) -> Option<Float> {
    let facts = on.origin.run_facts.get(run)?.float.as_ref()?;
    Some(Float {
        node: *on.origin.vessels.get(facts.vessel)?,
        on_m: facts.on_m,
        off_m: facts.off_m,
    })
}

/// The opening at an end (as drawn) of a run, where it draws from a vessel and its lip matters.
fn intake_of(lowered: &Lowered, (run, drawn): (usize, &Run), end: usize) -> Option<Intake> {
    let link = *lowered.origin.runs.get(run)?;
    let facts = lowered.origin.run_facts.get(run)?;
    let (source, target) = lowered.network.edge_endpoints((link as u32).into())?;
    let side = if facts.reversed { 1 - end } else { end };
    let node = [source, target].get(side)?.index();
    let Some(Link::Run(law)) = lowered.network.edge_weight((link as u32).into()) else {
        return None;
    };
    let lip_m = law.ends[side].opens_m();
    lip_m.is_finite().then_some(())?;
    Some(Intake {
        node,
        vessel: lowered.origin.vessels.iter().position(|at| *at == node)?,
        lip_m,
        bore_m: opening_bore_m(drawn, end).unwrap_or(facts.bore_m),
    })
}

/// The bore of the opening itself, where it has one; for a raised intake that of its rising leg.
fn opening_bore_m(drawn: &Run, end: usize) -> Option<f64> {
    let end = if end == 0 { &drawn.from } else { &drawn.to };
    match end.opening.as_ref()? {
        Opening::RaisedIntake { rise, .. } => rise.bore_m,
        other => other.bore_m(),
    }
}

fn prime(made: &mut Lowered, links: &[usize]) {
    for link in links {
        let Some(Link::Run(law)) = made.network.edge_weight_mut((*link as u32).into()) else {
            continue;
        };
        law.primed = true;
        if let Some(raised) = &mut law.raised {
            raised.primed = !raised.vented;
        }
    }
}

/// Replaces a run by itself with its pump off, even where the others are on; `off`: all pumps off. Runs that only this
/// pump pushed through joints stop with it.
pub(super) fn stand_still(made: &mut Lowered, off: &Lowered, run: usize) {
    replace(made, off, run);
    let facts = &made.origin.run_facts;
    let Some(chain) = facts.get(run).map(|facts| facts.chain) else {
        return;
    };
    let mut others = facts.iter().filter(|one| one.chain == chain);
    if others.any(|one| one.pump_on) {
        return;
    }
    let pushed = |(run, one): (usize, &crate::lower::RunFacts)| {
        (one.chain == chain && one.pumped).then_some(run)
    };
    let left: Vec<usize> = facts.iter().enumerate().filter_map(pushed).collect();
    for run in left {
        replace(made, off, run);
    }
}

/// Replaces a run by the same with all pumps off.
fn replace(made: &mut Lowered, off: &Lowered, run: usize) {
    let Some(&link) = made.origin.runs.get(run) else {
        return;
    };
    let edge = (link as u32).into();
    if let (Some(law), Some(stands)) = (
        made.network.edge_weight_mut(edge),
        off.network.edge_weight(edge),
    ) {
        law.clone_from(stands);
    }
    if let (Some(facts), Some(stands)) = (
        made.origin.run_facts.get_mut(run),
        off.origin.run_facts.get(run),
    ) {
        facts.clone_from(stands);
    }
}

/// Sets the directions in which a run passes water.
pub(super) fn set_check(lowered: &mut Lowered, run: usize, check: Check) {
    let Some(&link) = lowered.origin.runs.get(run) else {
        return;
    };
    if let Some(Link::Run(law)) = lowered.network.edge_weight_mut((link as u32).into()) {
        law.check = check;
    }
}
