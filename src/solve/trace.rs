//! Simulating a network in time until it is at steady state.

use super::approach::{FinalApproach, approach};
use super::gauges::Gauges;
use super::line_fill::Filling;
use super::newton::{self, ConvergenceError, Problem, Stats};
use super::steady_state::settle_for_ever;
use super::step::{SolvedStep, step};
use super::system::{NetworkState, System};
use super::watch::Watch;
use crate::network::Node;

/// Permitted error of a level in one step, metres.
const STEP_ERROR_M: f64 = 1e-4;
/// First step after a start, s.
const FIRST_STEP_S: f64 = 0.05;
/// Step length below which a simulation ends with a convergence error, s.
const LEAST_STEP_S: f64 = 1e-7;
/// Shortest step to which the error control may go, s. At the tip of a cone a wide pipe takes all the water in less
/// than the limit above.
const FINEST_STEP_S: f64 = 1e-9;
/// Steps tried, accepted or not, after which a simulation is given up: it would never end.
const MOST_TRIES: usize = 20_000;
/// Newton steps in total after which it is given up too: several times what any sound layout needs.
const MOST_NEWTON_STEPS: usize = 50_000;
/// Minimum fraction of a step to which a run that becomes full in it cuts the step.
const LEAST_SHARE: f64 = 1e-3;
/// Maximum growth and shrinkage factor of steps.
const GROW: f64 = 5.0;
const SHRINK: f64 = 0.2;
/// Steady: no level moves faster than 0.1 mm an hour, m/s.
const STILL_M_S: f64 = 1e-4 / 3600.0;
/// Largest change of a level by which the final steady-state solve may end a simulation, metres.
const POLISH_M: f64 = 1e-4;
/// Volume that may be gained or lost in the final step to a steady state, m³: a tenth of a millilitre.
const TRIFLE_M3: f64 = 1e-7;
/// Height above the highest initial level beyond which a level counts as rising for ever, metres.
const OVER_THE_TOP_M: f64 = 200.0;
/// Time at which a simulation that is not steady is given up, s (about thirty years).
const GIVE_UP_S: f64 = 1e9;

/// How long to simulate, and what to watch on the way.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TraceOptions {
    /// End time even if the state is not steady, s; none: continue to a steady state.
    pub until_s: Option<f64>,
    /// Keep every step, not only the end.
    pub keep_steps: bool,
    /// The watched gauges. Each crossing is located in time, and ends a step.
    pub watches: Vec<Watch>,
}

/// An event: a gauge that crossed 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GaugeCrossing {
    /// Time, s from the start.
    pub time_s: f64,
    /// Index into [`TraceOptions::watches`].
    pub watch: usize,
    /// The gauge went up; else down.
    pub up: bool,
}

/// The trajectory: the kept steps of a simulation.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trajectory {
    /// Times, s; the first is 0.
    pub times_s: Vec<f64>,
    /// The network state at each time.
    pub points: Vec<NetworkState>,
    /// Cumulative volume through each link up to each time, m³, positive from source to target.
    pub passed_m3: Vec<Vec<f64>>,
    /// Volume taken up by runs that fill, less that released by runs that empty, up to each time, m³.
    pub in_runs_m3: Vec<f64>,
}

/// The simulation result of a network.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// The last state; the steady state itself where the simulation reached it.
    pub end: NetworkState,
    /// End time, s from the start.
    pub time_s: f64,
    /// Every level had become steady.
    pub still: bool,
    /// Time since which no level has moved, s from the start; none where one did at the end. The steady state itself
    /// may be reached much later: a crest drains slowly.
    pub still_since_s: Option<f64>,
    /// The work budget was spent before the simulation ended.
    pub given_up: bool,
    /// Nodes whose level was still moving at the end.
    pub moving: Vec<usize>,
    /// Net volume through each link, m³, positive from source to target.
    pub passed_m3: Vec<f64>,
    /// Volume through each link from target to source, m³, never negative; a part of `passed_m3`.
    pub back_m3: Vec<f64>,
    /// Lowest and highest level of each node during the simulation, metres.
    pub range_m: Vec<(f64, f64)>,
    /// Time at which each node was at its lowest, s from the start.
    pub lowest_s: Vec<f64>,
    /// Integral of the level of each node over time, m·s.
    pub level_time_m_s: Vec<f64>,
    /// Events, in order of time.
    pub events: Vec<GaugeCrossing>,
    /// The event that ended the simulation: its index in `events`.
    pub stopped_by: Option<usize>,
    /// Volume that each fill of runs took up, m³.
    pub taken_m3: Vec<f64>,
    /// Mass balance error: volume in the vessels by their levels minus that by their flows, m³.
    pub volume_error_m3: f64,
    /// Largest imbalance at a node at the end, m³/s.
    pub mass_error_m3_s: f64,
    /// Largest residual of the energy equation of a run at the end, metres.
    pub energy_error_m: f64,
    /// Work done.
    pub stats: Stats,
    /// The trajectory, where steps were kept.
    pub course: Trajectory,
}

/// Simulates `system` from `from` until it is steady, or until a stop condition.
pub fn trace(
    system: &System,
    from: &NetworkState,
    options: &TraceOptions,
) -> Result<Trace, ConvergenceError> {
    let mut run = TraceRun::new(system, from.clone(), options);
    let mut try_polish_after = 0.0;
    while run.time_s < run.until_s && !run.is_over_the_top() && run.has_patience() {
        run.advance()?;
        if run.stopped_by.is_some() {
            break;
        }
        if options.until_s.is_none() && run.time_s >= try_polish_after && run.is_still() {
            // Runs that fill with almost no inflow would never be full.
            if run.filling.goes_on() || run.polish() {
                break;
            }
            try_polish_after = 2.0 * run.time_s;
        }
    }
    Ok(run.finish())
}

impl Trace {
    /// The result of a steady-state solve in the form of a simulation result of zero duration and zero volumes.
    pub fn for_steady_state(system: &System, end: NetworkState, stats: Stats) -> Trace {
        let links = system.links.len();
        let last = Problem::new(&end.volume_m3, f64::INFINITY);
        let (mass_error_m3_s, energy_error_m) = newton::errors(system, &last, &end);
        let options = TraceOptions::default();
        let run = TraceRun::new(system, end, &options);
        Trace {
            time_s: 0.0,
            moving: run.moving(),
            still: run.is_still(),
            still_since_s: None,
            given_up: false,
            passed_m3: vec![0.0; links],
            back_m3: vec![0.0; links],
            range_m: run.range_m.clone(),
            lowest_s: run.lowest_s.clone(),
            level_time_m_s: vec![0.0; system.nodes.len()],
            events: Vec::new(),
            stopped_by: None,
            taken_m3: Vec::new(),
            volume_error_m3: 0.0,
            mass_error_m3_s,
            energy_error_m,
            stats,
            course: Trajectory::default(),
            end: run.point,
        }
    }
}

/// Highest head of a state, metres.
fn highest(point: &NetworkState) -> f64 {
    point
        .head_m
        .iter()
        .copied()
        .fold(f64::NEG_INFINITY, f64::max)
}

struct TraceRun<'a, 'n> {
    system: &'a System<'n>,
    point: NetworkState,
    time_s: f64,
    until_s: f64,
    step_s: f64,
    options: &'a TraceOptions,
    passed_m3: Vec<f64>,
    back_m3: Vec<f64>,
    range_m: Vec<(f64, f64)>,
    lowest_s: Vec<f64>,
    level_time_m_s: Vec<f64>,
    gauges: Gauges<'a>,
    filling: Filling,
    events: Vec<GaugeCrossing>,
    stopped_by: Option<usize>,
    still_since_s: Option<f64>,
    stats: Stats,
    course: Trajectory,
    /// Spurious volume from the final steady-state solve, m³.
    volume_error_m3: f64,
    polished: bool,
    ceiling_m: f64,
    tries: usize,
}

impl<'a, 'n> TraceRun<'a, 'n> {
    fn new(
        system: &'a System<'n>,
        point: NetworkState,
        options: &'a TraceOptions,
    ) -> TraceRun<'a, 'n> {
        let mut course = Trajectory::default();
        if options.keep_steps {
            course.times_s.push(0.0);
            course.points.push(point.clone());
            course.passed_m3.push(vec![0.0; system.links.len()]);
            course.in_runs_m3.push(0.0);
        }
        TraceRun {
            system,
            time_s: 0.0,
            until_s: options.until_s.unwrap_or(GIVE_UP_S),
            step_s: FIRST_STEP_S,
            options,
            passed_m3: vec![0.0; system.links.len()],
            back_m3: vec![0.0; system.links.len()],
            range_m: point.head_m.iter().map(|&head| (head, head)).collect(),
            lowest_s: vec![0.0; point.head_m.len()],
            level_time_m_s: vec![0.0; system.nodes.len()],
            gauges: Gauges::new(&options.watches, system, &point),
            filling: Filling::begin(system),
            events: Vec::new(),
            stopped_by: None,
            still_since_s: None,
            stats: Stats::default(),
            course,
            volume_error_m3: 0.0,
            polished: false,
            tries: 0,
            ceiling_m: OVER_THE_TOP_M + highest(&point),
            point,
        }
    }

    /// One accepted step, as long as its error allows.
    fn advance(&mut self) -> Result<(), ConvergenceError> {
        loop {
            self.tries += 1;
            let left = self.until_s - self.time_s;
            // A tiny remaining step would consist of rounding only.
            let length = if self.step_s > 0.999 * left {
                left
            } else {
                self.step_s
            };
            match step(self.system, &self.point, length, &mut self.stats) {
                Ok(done) => {
                    let error = done.error_m / STEP_ERROR_M;
                    let factor = 0.9 / error.max(1e-12).sqrt();
                    let full = self.filling.share_of_step(self.system, &done.taken_m3);
                    if let Some(share) = full.filter(|_| length > FINEST_STEP_S && error <= 1.0) {
                        self.step_s = length * share.clamp(LEAST_SHARE, 1.0);
                        continue;
                    }
                    if error <= 1.0 || length <= FINEST_STEP_S {
                        self.step_s = length * factor.clamp(SHRINK, GROW);
                        self.accept_to_event(done, length);
                        return Ok(());
                    }
                    self.step_s = length * factor.clamp(SHRINK, 0.9);
                }
                Err(stuck) if length <= LEAST_STEP_S => return Err(stuck),
                Err(_) => self.step_s = 0.25 * length,
            }
        }
    }

    /// Accepts a step up to the first event in it.
    fn accept_to_event(&mut self, done: SolvedStep, length_s: f64) {
        let start = &self.point;
        let (done, length_s) =
            self.gauges
                .first_crossing(self.system, (done, length_s), |shorter_s| {
                    step(self.system, start, shorter_s, &mut self.stats).ok()
                });
        let crossed = self.gauges.take(self.system, &done.end);
        self.accept(done, length_s);
        for (watch, up) in crossed {
            if self.options.watches[watch].stops(up) && self.stopped_by.is_none() {
                self.stopped_by = Some(self.events.len());
            }
            self.events.push(GaugeCrossing {
                time_s: self.time_s,
                watch,
                up,
            });
        }
    }

    fn accept(&mut self, done: SolvedStep, length_s: f64) {
        self.balance_mass(done.passed_m3.iter().copied().enumerate());
        self.filling.take(self.system, &done.taken_m3);
        for (node, &level) in done.end.head_m.iter().enumerate() {
            let (low, high) = self.range_m[node];
            if level < low {
                self.lowest_s[node] = self.time_s + length_s;
            }
            self.range_m[node] = (low.min(level), high.max(level));
            self.level_time_m_s[node] += 0.5 * length_s * (self.point.head_m[node] + level);
        }
        self.time_s += length_s;
        self.point = done.end;
        self.still_since_s = match self.is_still() {
            true => self.still_since_s.or(Some(self.time_s)),
            false => None,
        };
        self.stats.time_steps += 1;
        if self.options.keep_steps {
            self.course.times_s.push(self.time_s);
            self.course.points.push(self.point.clone());
            self.course.passed_m3.push(self.passed_m3.clone());
            let emptied_m3 = self.system.emptied_m3_s() * self.time_s;
            let taken_m3: f64 = self.filling.taken_m3.iter().sum();
            self.course.in_runs_m3.push(taken_m3 - emptied_m3);
        }
    }

    /// Adds the volumes that links passed, m³, positive from source to target.
    fn balance_mass(&mut self, passed_m3: impl IntoIterator<Item = (usize, f64)>) {
        for (link, passed) in passed_m3 {
            self.passed_m3[link] += passed;
            self.back_m3[link] += (-passed).max(0.0);
        }
    }

    /// Vessels whose level still moves, by their current balance.
    fn moving(&self) -> Vec<usize> {
        let mut outflow = vec![0.0; self.system.nodes.len()];
        self.system.outflow(&self.point, &mut outflow);
        (0..outflow.len())
            .filter(|&node| matches!(self.system.nodes[node], Node::Vessel { .. }))
            .filter(|&node| {
                outflow[node].abs() / self.system.area(node, self.point.head_m[node]) > STILL_M_S
            })
            .collect()
    }

    /// Whether a level has left the height range of the layout: it rises for ever. The head of a joint does not
    /// count: a pump may maintain it there, or water that no run takes.
    fn is_over_the_top(&self) -> bool {
        let mut vessels = self.system.vessels.iter();
        vessels.any(|&node| self.point.head_m[node] > self.ceiling_m)
    }

    /// A budget of work and not of time: the same layout ends alike on every machine.
    fn has_patience(&self) -> bool {
        self.tries < MOST_TRIES && self.stats.newton_steps < MOST_NEWTON_STEPS
    }

    fn is_still(&self) -> bool {
        self.moving().is_empty()
    }

    /// The steady state of the simulation, and the water accounting of the final step to it.
    ///
    /// The way there may be long, and a joint loses or gains a trifle in every step of it: that is returned to
    /// where the water went, or taken from there.
    fn limit(&mut self) -> Option<(NetworkState, FinalApproach)> {
        let mut limit = self.point.clone();
        settle_for_ever(self.system, &mut limit, &mut self.stats).ok()?;
        let last = approach(self.system, &self.point, &limit);
        if last
            .open_m3
            .iter()
            .all(|(_, open_m3)| open_m3.abs() <= TRIFLE_M3)
        {
            return Some((limit, last));
        }
        let mut mended = limit.clone();
        for (node, open_m3) in &last.open_m3 {
            mended.volume_m3[*node] -= open_m3;
        }
        let settled = settle_for_ever(self.system, &mut mended, &mut self.stats);
        Some(match settled {
            Ok(()) => {
                let last = approach(self.system, &self.point, &mended);
                (mended, last)
            }
            Err(_) => (limit, last),
        })
    }

    /// Ends at the steady state itself, if the simulation was heading for it.
    fn polish(&mut self) -> bool {
        let Some((limit, last)) = self.limit() else {
            return false;
        };
        let levels = self.system.nodes.iter().enumerate().all(|(node, kind)| {
            let moved = (limit.head_m[node] - self.point.head_m[node]).abs();
            !matches!(kind, Node::Vessel { .. }) || moved <= POLISH_M
        });
        let states = (0..self.system.links.len())
            .all(|link| self.sign(link, &limit) == self.sign(link, &self.point));
        if levels && states {
            self.volume_error_m3 += last.open_m3.iter().map(|(_, open_m3)| open_m3).sum::<f64>();
            self.balance_mass(last.passed_m3);
            self.point = limit;
            self.polished = true;
        }
        levels && states
    }

    /// −1, 0 or 1: direction of flow in a link, where a trickle counts as none.
    fn sign(&self, link: usize, point: &NetworkState) -> i8 {
        let flow = point.flow_m3_s[link];
        let ends = self.system.links[link].ends();
        let area = ends
            .iter()
            .map(|&node| self.system.area(node, point.head_m[node]))
            .filter(|area| *area > 0.0)
            .fold(f64::INFINITY, f64::min);
        let trickle = if area.is_finite() {
            (2.0 * area * STILL_M_S).max(1e-9)
        } else {
            1e-9
        };
        if flow.abs() <= trickle {
            0
        } else {
            flow.signum() as i8
        }
    }

    fn finish(mut self) -> Trace {
        let moving = if self.polished {
            Vec::new()
        } else {
            self.moving()
        };
        let ended = self.polished || self.stopped_by.is_some() || self.time_s >= self.until_s;
        let given_up = !ended && !self.has_patience();
        let by_level: f64 = (0..self.system.nodes.len())
            .map(|node| self.system.volume(node, self.point.head_m[node]))
            .sum();
        self.volume_error_m3 += by_level - self.point.volume_m3.iter().sum::<f64>();
        let last = Problem::new(&self.point.volume_m3, f64::INFINITY);
        let (mut mass_error_m3_s, energy_error_m) = newton::errors(self.system, &last, &self.point);
        if !moving.is_empty() || !self.polished {
            mass_error_m3_s = self.joint_imbalance();
        }
        Trace {
            time_s: self.time_s,
            still: moving.is_empty(),
            still_since_s: self.still_since_s,
            given_up,
            moving,
            passed_m3: self.passed_m3,
            back_m3: self.back_m3,
            range_m: self.range_m,
            lowest_s: self.lowest_s,
            level_time_m_s: self.level_time_m_s,
            events: self.events,
            stopped_by: self.stopped_by,
            taken_m3: self.filling.taken_m3,
            volume_error_m3: self.volume_error_m3,
            mass_error_m3_s,
            energy_error_m,
            stats: self.stats,
            course: self.course,
            end: self.point,
        }
    }

    /// Largest imbalance at a joint: the only measure left while levels move.
    fn joint_imbalance(&self) -> f64 {
        let mut outflow = vec![0.0; self.system.nodes.len()];
        self.system.outflow(&self.point, &mut outflow);
        self.system
            .nodes
            .iter()
            .zip(&outflow)
            .filter(|(node, _)| matches!(node, Node::Joint { .. }))
            .fold(0.0_f64, |most, (_, out)| most.max(out.abs()))
    }
}
