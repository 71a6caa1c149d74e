//! Limit cycles: endless switching, detected by recurring levels.

use super::cycle_extrapolation::CycleExtrapolation;
use super::hybrid_system::SwitchMode;
use super::simulate::Simulated;
use crate::solve::{System, Trace, Watch};

/// Levels that differ by no more than this after one cycle count as recurring, metres.
const SAME_M: f64 = 2e-4;
/// Tolerance on the water held in runs, m³, or relative where that is more.
const SAME_M3: f64 = 1e-5;
const SAME: f64 = 5e-3;
/// A level that drifts no faster than this from cycle to cycle counts as steady, m/s: 0.1 mm an hour.
const STANDS_M_S: f64 = 1e-4 / 3600.0;
/// Largest ratio of the closing error of a cycle to that of the one before: above it the levels are not settling but
/// drifting slowly.
const DWINDLES: f64 = 0.75;
/// Where several pumps switch, each with its own period, no cycle closes exactly. After this many switches, and
/// again after each further batch, the second and the last third of the simulation are compared; their means,
/// lowest and highest levels may differ by a fraction of the swing. A choice.
const IRREGULAR_AFTER: usize = 60;
const IRREGULAR_EVERY: usize = 30;
const ALIKE: [f64; 3] = [0.05, 0.1, 0.1];

/// A limit cycle: figures of its last period, or of its last periods where no two are the same.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct LimitCycle {
    /// Period, s; a mean where no two are the same.
    pub period_s: f64,
    /// Every period is like the one before.
    pub regular: bool,
    /// Start of the interval from which the figures are computed, s.
    pub began_s: f64,
    /// Lowest and highest level of each node in a period, metres.
    pub range_m: Vec<(f64, f64)>,
    /// Mean level of each node, metres.
    pub mean_m: Vec<f64>,
    /// Mean flow of each link, m³/s.
    pub mean_m3_s: Vec<f64>,
}

/// Simulation pieces between two switches, and the moments of the switches.
pub(super) struct CycleDetector {
    /// The nodes whose levels are compared: joints have no level of their own.
    nodes: Vec<usize>,
    pieces: Vec<Piece>,
    moments: Vec<Moment>,
}

struct Piece {
    began_s: f64,
    range_m: Vec<(f64, f64)>,
    level_time_m_s: Vec<f64>,
}

/// A moment of a switch.
pub(super) struct Moment {
    what: (usize, SwitchMode),
    modes: Vec<SwitchMode>,
    pub time_s: f64,
    pub levels_m: Vec<f64>,
    pub volumes_m3: Vec<f64>,
    /// Net volume through each link by then, and the part of it that flowed backwards.
    pub passed_m3: Vec<f64>,
    pub back_m3: Vec<f64>,
    /// Volume taken up by the runs by then, chain by chain, m³.
    taken_m3: Vec<f64>,
}

impl Moment {
    /// Whether the same switch changed, with everything else in the same mode as at the other moment.
    fn stands_as(&self, other: &Moment) -> bool {
        let taken = self.taken_m3.iter().zip(&other.taken_m3);
        self.what == other.what
            && self.modes == other.modes
            && taken
                .into_iter()
                .all(|(now, then)| (now - then).abs() <= SAME_M3.max(SAME * now))
    }
}

impl CycleDetector {
    /// An empty record; `nodes` are those of the vessels.
    pub fn new(nodes: &[usize]) -> CycleDetector {
        CycleDetector {
            nodes: nodes.to_vec(),
            pieces: Vec::new(),
            moments: Vec::new(),
        }
    }

    /// Records a piece that began at `began_s`.
    pub fn take(&mut self, piece: &Trace, began_s: f64) {
        self.pieces.push(Piece {
            began_s,
            range_m: piece.range_m.clone(),
            level_time_m_s: piece.level_time_m_s.clone(),
        });
    }

    /// The limit cycle, if this switch occurred before at the same levels; `modes`: all modes after it.
    pub fn closed(
        &mut self,
        what: (usize, SwitchMode),
        modes: &[SwitchMode],
        way: &Simulated,
    ) -> Option<LimitCycle> {
        let now = Moment {
            what,
            modes: modes.to_vec(),
            time_s: way.time_s,
            levels_m: way.end.head_m.clone(),
            volumes_m3: way.end.volume_m3.clone(),
            passed_m3: way.passed_m3.clone(),
            back_m3: way.back_m3.clone(),
            taken_m3: way.water.taken_m3.clone(),
        };
        let cycle = self.regular(&now).or_else(|| self.irregular(&now));
        self.moments.push(now);
        cycle
    }

    /// Extrapolates over cycles that only drift, if the last ones did; the search starts afresh from there.
    pub fn extrapolation(&mut self, system: &System, watches: &[Watch], way: &mut Simulated) {
        let Some(now) = self.moments.last() else {
            return;
        };
        let mut alike = self
            .moments
            .iter()
            .rev()
            .skip(1)
            .filter(|one| one.stands_as(now));
        let (Some(before), Some(first)) = (alike.next(), alike.next()) else {
            return;
        };
        if let Some(leap) =
            CycleExtrapolation::of([first, before, now], &self.nodes, system, watches)
        {
            leap.make(&self.nodes, system, way);
            self.moments.clear();
            self.pieces.clear();
        }
    }

    /// The cycle that ends now, if it closes and no level drifts from cycle to cycle.
    fn regular(&self, now: &Moment) -> Option<LimitCycle> {
        let mut alike = self.moments.iter().rev().filter(|one| one.stands_as(now));
        let (before, first) = (alike.next()?, alike.next());
        let period_s = now.time_s - before.time_s;
        let closes = period_s > 0.0
            && self.nodes.iter().all(|&node| {
                let missed_m = now.levels_m[node] - before.levels_m[node];
                let dwindles = first.is_some_and(|first| {
                    let last_m = before.levels_m[node] - first.levels_m[node];
                    missed_m.abs() <= DWINDLES * last_m.abs() || missed_m * last_m < 0.0
                });
                missed_m.abs() <= SAME_M && (dwindles || missed_m.abs() <= STANDS_M_S * period_s)
            });
        closes.then(|| self.between(before, now, period_s, true))
    }

    /// The last two thirds of the simulation as one cycle, if they agree with each other.
    fn irregular(&self, now: &Moment) -> Option<LimitCycle> {
        let count = self.moments.len();
        if count < IRREGULAR_AFTER || !(count - IRREGULAR_AFTER).is_multiple_of(IRREGULAR_EVERY) {
            return None;
        }
        let (first, middle) = (
            self.moments.get(count / 3)?,
            self.moments.get(2 * count / 3)?,
        );
        if first.time_s >= middle.time_s || middle.time_s >= now.time_s {
            return None;
        }
        let parts = [(first, middle), (middle, now)];
        let [a, b] = parts.map(|(from, to)| self.between(from, to, 1.0, false));
        let alike = self.nodes.iter().all(|&node| {
            let ((low, high), (lower, higher)) = (a.range_m[node], b.range_m[node]);
            let swing_m = high.max(higher) - low.min(lower);
            let parted_m = [a.mean_m[node] - b.mean_m[node], low - lower, high - higher];
            let mut parted = parted_m.iter().zip(ALIKE);
            parted.all(|(parted_m, share)| parted_m.abs() <= SAME_M + share * swing_m)
        });
        let rounds = self.moments[count / 3..]
            .iter()
            .filter(|one| one.what == now.what);
        let period_s = (now.time_s - first.time_s) / rounds.count().max(1) as f64;
        alike.then(|| self.between(first, now, period_s, false))
    }

    /// The figures of the interval between two moments.
    fn between(&self, before: &Moment, now: &Moment, period_s: f64, regular: bool) -> LimitCycle {
        let took_s = now.time_s - before.time_s;
        let nodes = now.levels_m.len();
        let mut range_m = vec![(f64::INFINITY, f64::NEG_INFINITY); nodes];
        let mut sum_m_s = vec![0.0; nodes];
        for piece in &self.pieces {
            if piece.began_s < before.time_s || piece.began_s >= now.time_s {
                continue;
            }
            for (sum, (low, high)) in range_m.iter_mut().zip(&piece.range_m) {
                *sum = (sum.0.min(*low), sum.1.max(*high));
            }
            for (sum, value) in sum_m_s.iter_mut().zip(&piece.level_time_m_s) {
                *sum += value;
            }
        }
        let passed = now.passed_m3.iter().zip(&before.passed_m3);
        LimitCycle {
            period_s,
            regular,
            began_s: before.time_s,
            range_m,
            mean_m: sum_m_s.iter().map(|sum| sum / took_s).collect(),
            mean_m3_s: passed.map(|(now, then)| (now - then) / took_s).collect(),
        }
    }
}
