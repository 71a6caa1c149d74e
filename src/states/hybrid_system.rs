//! A layout whose pumps and siphons can change how they stand, and the network that belongs to each way.
//!
//! Everything that has a memory is here: a pump that stopped for want of water, a float switch, runs with air at
//! their high points or primed. Between two changes all of it stands, so that the levels are unique.

use super::chain::{self, Chain};
use super::chatter::ChatterDetector;
use super::lines::LineWater;
use crate::layout::{Direction, Id, Layout, Opening, Run};
use crate::lower::Lowered;
use crate::network::{Check, Link};
use crate::solve::NetworkState;

/// Head over an intake at which no water counts as left, metres: a film.
/// Common practice, no source.
const FILM_M: f64 = 0.001;
/// Bores over the lip at which an intake counts as uncovered, and at which a dry pump starts again.
/// Common practice, no source.
const INTAKE_COVER_BORES: f64 = 1.0;
const RESTART_BORES: f64 = 2.0;

/// The layout as it is followed in one state.
pub(super) struct HybridSystem<'a> {
    pub layout: &'a Layout,
    /// With its pumps on.
    pub on: Lowered,
    /// The same with its pumps off.
    pub off: Lowered,
    pub switches: Vec<Switch>,
    /// The chains that are primed at its start, by their numbers.
    pub primed: Vec<usize>,
    /// What its runs take up, and hold at its start.
    pub water: LineWater,
}

/// A part with a memory.
pub(super) struct Switch {
    /// The pump, or the run with the high point.
    pub part: Id,
    /// Its place in `layout.runs`.
    pub run: usize,
    /// Its link.
    pub link: usize,
    pub kind: SwitchKind,
}

/// What kind of memory.
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
    /// Its place in `layout.vessels`.
    pub vessel: usize,
    /// Its lip, metres.
    pub lip_m: f64,
    /// Its bore, metres.
    pub bore_m: f64,
}

impl Intake {
    /// Level at which it is dry, metres.
    pub fn dry_m(&self) -> f64 {
        self.lip_m + FILM_M
    }

    /// Level at which it counts as uncovered, metres.
    pub fn cover_m(&self) -> f64 {
        self.lip_m + INTAKE_COVER_BORES * self.bore_m
    }

    /// Level at which a pump that ran dry starts again, metres.
    pub fn restart_m(&self) -> f64 {
        self.lip_m + RESTART_BORES * self.bore_m
    }
}

/// A pump as it is switched.
pub(super) struct PumpSwitch {
    /// What it draws through; none where it draws from a joint or a level that does not move.
    pub intake: Option<Intake>,
    /// It stops when it is dry.
    pub stops_when_dry: bool,
    /// Its float switch.
    pub float: Option<Float>,
}

/// A float switch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Float {
    /// Node of the vessel it hangs in.
    pub node: usize,
    /// Level at which it turns the pump on, metres.
    pub on_m: f64,
    /// Level at which it turns the pump off, metres.
    pub off_m: f64,
}

impl Float {
    /// The pump runs while the water is high; else while it is low.
    pub fn runs_high(&self) -> bool {
        self.on_m >= self.off_m
    }

    /// What it says at a level; none between its two levels, where it leaves things as they are.
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

/// How a switch stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SwitchMode {
    /// The pump runs.
    Runs,
    /// The float switch has turned it off.
    Waits,
    /// It has run dry and stands.
    Dry,
    /// Air stands at the high points of the chain.
    WithAir,
    /// It is full of water over them.
    Primed,
}

impl<'a> HybridSystem<'a> {
    /// `on` and `off` must be the same layout in the same situation but for the pumps.
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

    /// The same with this water in its runs at its start.
    pub fn with_water(self, water: LineWater) -> HybridSystem<'a> {
        HybridSystem { water, ..self }
    }

    /// The same with these chains primed at its start.
    pub fn primed(self, chains: &[usize]) -> HybridSystem<'a> {
        HybridSystem {
            primed: chains.to_vec(),
            ..self
        }
    }

    /// As it is, with other water in its runs.
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

    /// The chains that are primed while the switches stand so, by their numbers.
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

    /// The layout with its switches standing so.
    pub fn lowered(&self, modes: &[SwitchMode]) -> Lowered {
        let mut made = self.on.clone();
        for (switch, mode) in self.switches.iter().zip(modes) {
            match (mode, &switch.kind) {
                (SwitchMode::Waits | SwitchMode::Dry, _) => {
                    stand_still(&mut made, &self.off, switch.run)
                }
                // Chains come behind the pumps: what a pump has left standing can still be full of water.
                (SwitchMode::Primed, SwitchKind::Chain(chain)) => prime(&mut made, &chain.links),
                _ => {}
            }
        }
        made
    }

    /// How everything stands at a start.
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

    /// No chain of it has turned yet.
    pub fn restless(&self) -> ChatterDetector {
        ChatterDetector::new(&self.on.origin.vessels, self.switches.len())
    }

    /// Sets right what stands against the levels, as after a change.
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

/// The opening at an end (as drawn) of a run, where it draws from a vessel by a lip that counts.
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

/// The opening's own bore, where it has one; of a raised intake that of its rising leg.
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

/// The run as it is with its pump off, also where the others are on; `off`: all pumps off. Runs that only this pump
/// pushed through joints stand with it.
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

/// Puts in a run as it is with all pumps off.
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

/// Sets which way a run lets water pass.
pub(super) fn set_check(lowered: &mut Lowered, run: usize, check: Check) {
    let Some(&link) = lowered.origin.runs.get(run) else {
        return;
    };
    if let Some(Link::Run(law)) = lowered.network.edge_weight_mut((link as u32).into()) {
        law.check = check;
    }
}
