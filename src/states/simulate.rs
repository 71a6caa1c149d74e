//! Simulation of a hybrid system in time, through all of its switch events.

use super::chatter::ChatterDetector;
use super::cut_off::is_shut;
use super::cycle::{CycleDetector, LimitCycle};
use super::event::{Event, EventKind};
use super::hybrid_system::{HybridSystem, SwitchKind, SwitchMode};
use super::lines::{self, LineWater};
use super::{StateNotConverged, not_converged};
use crate::layout::Id;
use crate::lower::Lowered;
use crate::solve::{
    ConvergenceError, Gauge, NetworkState, Stats, Stop, System, Trace, TraceOptions, Trajectory,
    Watch, trace,
};

/// Switches after which a simulation without a limit cycle is given up: to its own end, and to a given
/// time. Where levels drift from cycle to cycle for weeks, more cycles would tell no more.
const MOST_SWITCHES: usize = 240;
const MOST_SWITCHES_IN_TIME: usize = 600;

/// Options of a simulation.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct SimulationOptions {
    /// End time, s; none: to the steady state, or once round a limit cycle.
    pub until_s: Option<f64>,
    /// Keep every step.
    pub keep_steps: bool,
    /// Maximum number of kept steps, not counting those with an event; none: all of them.
    pub most_kept: Option<usize>,
    /// Simulate every cycle, without cycle extrapolation.
    pub every_round: bool,
    /// End after a cycle that repeats itself, even where `until_s` is given.
    pub ends_with_round: bool,
    /// Look for spills, uncovered intakes and starved suctions; switches are always watched.
    pub tell: bool,
}

impl SimulationOptions {
    /// To the steady state, with all events.
    pub fn event() -> SimulationOptions {
        SimulationOptions {
            tell: true,
            ..SimulationOptions::default()
        }
    }
}

/// The simulation result of a hybrid system.
#[derive(Clone, Debug)]
pub(super) struct Simulated {
    /// The last state.
    pub end: NetworkState,
    /// The switch modes at the end.
    pub modes: Vec<SwitchMode>,
    /// End time, s from the start.
    pub time_s: f64,
    /// Every level had become steady.
    pub still: bool,
    /// Time since which nothing has moved, s; none where something did at the end.
    pub still_since_s: Option<f64>,
    /// Nodes whose level was still moving.
    pub moving: Vec<usize>,
    /// Net volume through each link, m³, positive from source to target, and the part of it that flowed backwards (≥
    /// 0).
    pub passed_m3: Vec<f64>,
    pub back_m3: Vec<f64>,
    /// Lowest and highest level of each node, metres.
    pub range_m: Vec<(f64, f64)>,
    /// Time at which each node was at its lowest, s.
    pub lowest_s: Vec<f64>,
    /// The events.
    pub told: Vec<Event>,
    /// The limit cycle in which it ended.
    pub cycle: Option<LimitCycle>,
    /// It did not reach an end of its own where it should have.
    pub given_up: bool,
    pub volume_error_m3: f64,
    pub mass_error_m3_s: f64,
    pub energy_error_m: f64,
    pub stats: Stats,
    /// The trajectory, where steps were kept.
    pub course: Trajectory,
    /// The switch modes, each with the first step from which they hold, where steps were kept.
    pub scenes: Vec<(usize, Vec<SwitchMode>)>,
    /// The cycle extrapolations.
    pub leaps: Vec<ExtrapolatedCycles>,
    /// Volume that the runs have taken up in excess of what stands in them at rest.
    pub water: LineWater,
    /// Volume that each node received from runs that emptied, m³.
    pub emptied_m3: Vec<(usize, f64)>,
}

/// Extrapolated cycles: each moved the same volumes as the last simulated one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct ExtrapolatedCycles {
    /// Start and end of the extrapolation, s.
    pub from_s: f64,
    pub to_s: f64,
    /// Period of a cycle, s.
    pub round_s: f64,
}

impl Simulated {
    /// The result of a steady-state solve.
    pub fn for_steady_state(system: &System, end: NetworkState, stats: Stats) -> Simulated {
        let mut followed = Simulated::at(&end);
        followed.take(Trace::for_steady_state(system, end, stats));
        followed
    }

    pub(super) fn at(start: &NetworkState) -> Simulated {
        let (nodes, links) = (start.head_m.len(), start.flow_m3_s.len());
        Simulated {
            end: start.clone(),
            modes: Vec::new(),
            time_s: 0.0,
            still: false,
            still_since_s: None,
            moving: Vec::new(),
            passed_m3: vec![0.0; links],
            back_m3: vec![0.0; links],
            range_m: vec![(f64::INFINITY, f64::NEG_INFINITY); nodes],
            lowest_s: vec![0.0; nodes],
            told: Vec::new(),
            cycle: None,
            given_up: false,
            volume_error_m3: 0.0,
            mass_error_m3_s: 0.0,
            energy_error_m: 0.0,
            stats: Stats::default(),
            course: Trajectory::default(),
            scenes: Vec::new(),
            leaps: Vec::new(),
            water: LineWater::default(),
            emptied_m3: Vec::new(),
        }
    }

    /// Ends the kept steps where the simulation ends: at the steady state itself, if it was reached.
    pub(super) fn end_at_the_limit(&mut self) {
        if !self.still {
            return;
        }
        if let Some(last) = self.course.points.last_mut() {
            last.clone_from(&self.end);
        }
        if let Some(last) = self.course.passed_m3.last_mut() {
            last.clone_from(&self.passed_m3);
        }
    }

    /// Appends a piece of the simulation.
    fn take(&mut self, piece: Trace) {
        let began_s = self.time_s;
        self.still_since_s = piece.still_since_s.map(|since_s| began_s + since_s);
        self.time_s += piece.time_s;
        self.still = piece.still;
        self.given_up |= piece.given_up;
        self.moving = piece.moving;
        let passed = piece.course.passed_m3.into_iter().map(|mut passed_m3| {
            add(&mut passed_m3, &self.passed_m3);
            passed_m3
        });
        self.course.passed_m3.extend(passed);
        let held_m3 = self.water.sum_m3();
        let in_runs = piece.course.in_runs_m3.iter();
        let in_runs = in_runs.map(|taken_m3| held_m3 + taken_m3);
        self.course.in_runs_m3.extend(in_runs);
        add(&mut self.passed_m3, &piece.passed_m3);
        add(&mut self.back_m3, &piece.back_m3);
        let lowest = self.lowest_s.iter_mut().zip(&piece.lowest_s);
        let ranges = self.range_m.iter().zip(&piece.range_m);
        for ((lowest_s, at_s), (sum, (low, _))) in lowest.zip(ranges) {
            if *low < sum.0 {
                *lowest_s = began_s + at_s;
            }
        }
        for (sum, (low, high)) in self.range_m.iter_mut().zip(piece.range_m) {
            *sum = (sum.0.min(low), sum.1.max(high));
        }
        self.volume_error_m3 += piece.volume_error_m3;
        self.mass_error_m3_s = piece.mass_error_m3_s;
        self.energy_error_m = piece.energy_error_m;
        self.stats += piece.stats;
        let times = piece.course.times_s.iter().map(|time| began_s + time);
        self.course.times_s.extend(times);
        self.course.points.extend(piece.course.points);
        self.end = piece.end;
    }
}

fn add(sums: &mut [f64], values: &[f64]) {
    for (sum, value) in sums.iter_mut().zip(values) {
        *sum += value;
    }
}

/// The meaning of a watch in a piece.
enum WatchPurpose {
    /// The rim of a vessel, which spills.
    Spill(Id),
    /// The rim of a vessel whose walls are taken as tall.
    Rim(Id),
    /// The cover of an intake, in a vessel.
    Cover(Id, Id),
    /// A suction.
    Suction(Id),
    /// A mode change: the switch, its new mode, the event kind, and the part.
    Change(usize, SwitchMode, EventKind, Id),
}

/// Simulates `hybrid` from `start`.
///
/// `modes`: the switch modes; none: those of a start. Also returns the lowered layout as it stood at the end.
pub(super) fn simulate(
    hybrid: &HybridSystem<'_>,
    start: &NetworkState,
    modes: Option<&[SwitchMode]>,
    how: SimulationOptions,
) -> Result<(Lowered, Simulated), StateNotConverged> {
    simulated(hybrid, start, modes, how)
        .map_err(|stuck| not_converged(hybrid.layout, &hybrid.on, &stuck))
}

fn simulated(
    hybrid: &HybridSystem<'_>,
    start: &NetworkState,
    modes: Option<&[SwitchMode]>,
    how: SimulationOptions,
) -> Result<(Lowered, Simulated), ConvergenceError> {
    let mut modes = match modes {
        Some(modes) => modes.to_vec(),
        None => hybrid.first_modes(start),
    };
    let mut restless = hybrid.chattering();
    let start = &hybrid.settle_air(&mut modes, start, &restless)?;
    let mut way = Simulated::at(start);
    let mut work = lines::LineSimulation::begin(&hybrid.water);
    way.water = hybrid.water.clone();
    let mut rounds = CycleDetector::new(&hybrid.on.origin.vessels);
    let mut switched = 0;
    loop {
        let lowered = hybrid.lowered(&modes);
        let (watches, meanings) = watches(hybrid, &lowered, (&modes, &restless), how);
        work.switch(&lowered, (&way.end, way.time_s));
        let until_s = how.until_s.map(|until_s| until_s - way.time_s);
        let empties_s = work.until_s(way.time_s);
        let options = TraceOptions {
            until_s: until_s.into_iter().chain(empties_s).reduce(f64::min),
            keep_steps: how.keep_steps,
            watches,
        };
        let mut from = way.end.clone();
        // Flow that a switch has stopped does not continue.
        from.flow_m3_s.resize(lowered.network.edge_count(), 0.0);
        let system = work.system(&lowered);
        let mut piece = trace(&system, &from, &options)?;
        if how.keep_steps {
            just_after(&system, &from, &mut piece.course)?;
        }
        let began_s = way.time_s;
        let stopped_by = piece.stopped_by;
        for event in &piece.events {
            if let Some(meaning) = meanings.get(event.watch) {
                record_event(&mut way.told, began_s + event.time_s, meaning, event.up);
            }
        }
        let changes = stopped_by.and_then(|event| {
            let event = piece.events.get(event)?;
            match meanings.get(event.watch)? {
                WatchPurpose::Change(switch, mode, ..) => Some((*switch, *mode)),
                _ => None,
            }
        });
        rounds.take(&piece, began_s);
        work.take(&piece, began_s + piece.time_s);
        if how.keep_steps {
            way.scenes.push((way.course.points.len(), modes.clone()));
        }
        way.take(piece);
        way.water = work.water();
        if let Some(most) = how.most_kept {
            way.thin(most);
        }
        let Some((switch, mode)) = changes else {
            let is_over = how.until_s.is_some_and(|until_s| way.time_s >= until_s);
            if is_over || way.given_up || !work.goes_on(&lowered, (&way.end, way.time_s), way.still)
            {
                break;
            }
            continue;
        };
        if let Some(stands) = modes.get_mut(switch) {
            *stands = mode;
        }
        if matches!(mode, SwitchMode::WithAir | SwitchMode::Primed) {
            restless.note(switch, mode, &way.end.head_m);
        }
        hybrid.agree(&mut modes, &way.end);
        way.end.flow_m3_s = hybrid
            .settle_air(&mut modes, &way.end, &restless)?
            .flow_m3_s;
        switched += 1;
        // A simulation to a given time shows every cycle, unless the rest can be computed from one.
        if how.until_s.is_none() || how.ends_with_round {
            way.cycle = rounds.closed((switch, mode), &modes, &way);
            if way.cycle.is_some() {
                break;
            }
            let leaps = !how.every_round && !restless.is_chattering(switch);
            if how.until_s.is_none() && leaps {
                rounds.extrapolation(&system, &options.watches, &mut way);
            }
        }
        let most = match how.until_s {
            None => MOST_SWITCHES,
            Some(_) => MOST_SWITCHES_IN_TIME,
        };
        if switched >= most {
            way.given_up = true;
            break;
        }
    }
    if way.still && how.tell {
        way.told.push(Event {
            time_s: way.still_since_s.unwrap_or(way.time_s),
            what: EventKind::Still,
            about: Vec::new(),
        });
    }
    let lowered = hybrid.lowered(&modes);
    way.modes = modes;
    way.emptied_m3 = work.emptied_m3;
    Ok((lowered, way))
}

/// Replaces the flows of the first state, which are those before a switch, by those just after it: in that short time
/// levels move no further than the tolerance of a step.
fn just_after(
    system: &System,
    from: &NetworkState,
    course: &mut Trajectory,
) -> Result<(), ConvergenceError> {
    const BLINK_S: f64 = 1e-6;
    let blink = TraceOptions {
        until_s: Some(BLINK_S),
        ..TraceOptions::default()
    };
    let after = trace(system, from, &blink)?.end;
    if let Some(first) = course.points.first_mut() {
        first.flow_m3_s = after.flow_m3_s;
    }
    Ok(())
}

fn record_event(told: &mut Vec<Event>, time_s: f64, meaning: &WatchPurpose, up: bool) {
    let (what, about) = match meaning {
        WatchPurpose::Spill(id) if up => (EventKind::SpillBegins, vec![id.clone()]),
        WatchPurpose::Spill(id) => (EventKind::SpillEnds, vec![id.clone()]),
        WatchPurpose::Rim(id) if up => (EventKind::RimReached, vec![id.clone()]),
        WatchPurpose::Rim(_) => return,
        WatchPurpose::Cover(part, vessel) if up => {
            (EventKind::IntakeCovered, vec![part.clone(), vessel.clone()])
        }
        WatchPurpose::Cover(part, vessel) => (
            EventKind::IntakeUncovered,
            vec![part.clone(), vessel.clone()],
        ),
        WatchPurpose::Suction(part) if up => (EventKind::SuctionStarved, vec![part.clone()]),
        WatchPurpose::Suction(part) => (EventKind::SuctionRecovered, vec![part.clone()]),
        WatchPurpose::Change(_, _, what, part) => (*what, vec![part.clone()]),
    };
    told.push(Event {
        time_s,
        what,
        about,
    });
}

/// The watches that apply in these switch modes.
fn watches(
    hybrid: &HybridSystem<'_>,
    lowered: &Lowered,
    (modes, restless): (&[SwitchMode], &ChatterDetector),
    how: SimulationOptions,
) -> (Vec<Watch>, Vec<WatchPurpose>) {
    let mut list: Vec<(Watch, WatchPurpose)> = Vec::new();
    if how.tell {
        list.extend(rims(hybrid, lowered));
    }
    for (index, (switch, mode)) in hybrid.switches.iter().zip(modes).enumerate() {
        match &switch.kind {
            SwitchKind::Pump(pump) => {
                if let Some(intake) = &pump.intake {
                    let vessel = hybrid.layout.vessels.get(intake.vessel);
                    if let Some(vessel) = vessel.filter(|_| how.tell) {
                        let gauge = level(intake.node, intake.cover_m());
                        let meaning = WatchPurpose::Cover(switch.part.clone(), vessel.id.clone());
                        list.push((Watch::is_reported(gauge), meaning));
                    }
                    // A pump with a blocked path neither runs short of water nor recovers.
                    let passes = !is_shut(lowered, switch.link);
                    if how.tell && *mode == SwitchMode::Runs && passes {
                        let gauge = Gauge::Starved { link: switch.link };
                        list.push((
                            Watch::is_reported(gauge),
                            WatchPurpose::Suction(switch.part.clone()),
                        ));
                    }
                    if pump.stops_when_dry {
                        list.extend(dryness(index, switch.part.clone(), *intake, *mode));
                    }
                }
                list.extend(float(index, switch.part.clone(), pump.float, *mode));
            }
            SwitchKind::Chain(_) if restless.is_left(index) => {}
            SwitchKind::Chain(chain) => {
                let (gauge, stop, next, what) = match mode {
                    SwitchMode::Primed => (
                        chain.stays_primed(),
                        Stop::Down,
                        SwitchMode::WithAir,
                        EventKind::SiphonBroken,
                    ),
                    _ => (
                        chain.primes(),
                        Stop::Up,
                        SwitchMode::Primed,
                        EventKind::SiphonPrimed,
                    ),
                };
                let meaning = WatchPurpose::Change(index, next, what, switch.part.clone());
                list.push((Watch { gauge, stop }, meaning));
            }
        }
    }
    list.into_iter().unzip()
}

fn level(node: usize, height_m: f64) -> Gauge {
    Gauge::Level { node, height_m }
}

fn rims(hybrid: &HybridSystem<'_>, lowered: &Lowered) -> Vec<(Watch, WatchPurpose)> {
    let origin = &lowered.origin;
    let vessels = hybrid.layout.vessels.iter().zip(&origin.vessels);
    vessels
        .enumerate()
        .map(|(index, (vessel, &node))| {
            let spills = origin.rims.get(index).copied().flatten().is_some();
            let id = vessel.id.clone();
            let meaning = if spills {
                WatchPurpose::Spill(id)
            } else {
                WatchPurpose::Rim(id)
            };
            (Watch::is_reported(level(node, vessel.rim_m)), meaning)
        })
        .collect()
}

fn dryness(
    index: usize,
    part: Id,
    intake: super::hybrid_system::Intake,
    mode: SwitchMode,
) -> Option<(Watch, WatchPurpose)> {
    match mode {
        SwitchMode::Runs => Some((
            Watch {
                gauge: level(intake.node, intake.dry_m()),
                stop: Stop::Down,
            },
            WatchPurpose::Change(index, SwitchMode::Dry, EventKind::PumpRunsDry, part),
        )),
        SwitchMode::Dry => Some((
            Watch {
                gauge: level(intake.node, intake.restart_m()),
                stop: Stop::Up,
            },
            WatchPurpose::Change(index, SwitchMode::Runs, EventKind::PumpRestarts, part),
        )),
        _ => None,
    }
}

fn float(
    index: usize,
    part: Id,
    float: Option<super::hybrid_system::Float>,
    mode: SwitchMode,
) -> Option<(Watch, WatchPurpose)> {
    let float = float?;
    let (height_m, next, what) = match mode {
        SwitchMode::Runs => (float.off_m, SwitchMode::Waits, EventKind::FloatOff),
        SwitchMode::Waits => (float.on_m, SwitchMode::Runs, EventKind::FloatOn),
        _ => return None,
    };
    // High water turns a draining pump on, and a filling pump off.
    let stop = if float.runs_high() == (mode == SwitchMode::Waits) {
        Stop::Up
    } else {
        Stop::Down
    };
    let watch = Watch {
        gauge: level(float.node, height_m),
        stop,
    };
    Some((watch, WatchPurpose::Change(index, next, what, part)))
}
