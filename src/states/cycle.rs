//! Cycles: things that switch for ever, found by the levels coming back.

use super::follow::Followed;
use super::plant::Mode;
use crate::solve::Trace;

/// Levels this close after one round are those of the round before, metres.
const SAME_M: f64 = 2e-4;
/// Switches after which a round counts that nearly closes, and the share of its swing that a level may then miss.
/// Where several pumps come and go, each in its own time, no round closes for good; a choice.
const NEARLY: [(usize, f64); 3] = [(200, 0.1), (120, 0.05), (60, 0.02)];

/// A cycle that repeats for ever: what its last round was like.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Cycle {
    /// Length of a round, s.
    pub period_s: f64,
    /// Lowest and highest level of each node in a round, metres.
    pub range_m: Vec<(f64, f64)>,
    /// Mean level of each node, metres.
    pub mean_m: Vec<f64>,
    /// Mean flow of each link, m³/s.
    pub mean_m3_s: Vec<f64>,
}

/// Pieces between two switches, and the moments at which something switched.
pub(super) struct Rounds {
    /// The nodes whose levels count: joints have none of their own.
    nodes: Vec<usize>,
    pieces: Vec<Piece>,
    moments: Vec<Moment>,
}

struct Piece {
    began_s: f64,
    range_m: Vec<(f64, f64)>,
    level_time_m_s: Vec<f64>,
}

struct Moment {
    what: (usize, Mode),
    modes: Vec<Mode>,
    time_s: f64,
    levels_m: Vec<f64>,
    passed_m3: Vec<f64>,
}

impl Moment {
    /// The same switched, and everything else stood as at the other moment.
    fn stands_as(&self, other: &Moment) -> bool {
        self.what == other.what && self.modes == other.modes
    }
}

impl Rounds {
    /// Nothing yet; `nodes` are those of the vessels.
    pub fn new(nodes: &[usize]) -> Rounds {
        Rounds {
            nodes: nodes.to_vec(),
            pieces: Vec::new(),
            moments: Vec::new(),
        }
    }

    /// Remembers a piece that began at `began_s`.
    pub fn take(&mut self, piece: &Trace, began_s: f64) {
        self.pieces.push(Piece {
            began_s,
            range_m: piece.range_m.clone(),
            level_time_m_s: piece.level_time_m_s.clone(),
        });
    }

    /// The cycle, if this switch happened before with the same levels; `modes`: how all stand after it.
    pub fn closed(&mut self, what: (usize, Mode), modes: &[Mode], way: &Followed) -> Option<Cycle> {
        let now = Moment {
            what,
            modes: modes.to_vec(),
            time_s: way.time_s,
            levels_m: way.end.head_m.clone(),
            passed_m3: way.passed_m3.clone(),
        };
        let before = self.moments.iter().rev().find(|one| one.stands_as(&now));
        let closed = before.filter(|before| self.same(before, &now) && before.time_s < now.time_s);
        let closed = closed.or_else(|| self.nearly(&now));
        let cycle = closed.map(|before| self.between(before, &now));
        self.moments.push(now);
        cycle
    }

    /// The moment at which the shortest round began that nearly closes now, once there were many switches.
    fn nearly(&self, now: &Moment) -> Option<&Moment> {
        let share = NEARLY
            .iter()
            .find(|(switches, _)| self.moments.len() >= *switches)?
            .1;
        let mut swing_m = vec![(f64::INFINITY, f64::NEG_INFINITY); now.levels_m.len()];
        // Each piece ends with its moment: behind a moment comes the next piece.
        let rounds = self.moments.iter().zip(self.pieces.iter().skip(1)).rev();
        for (before, piece) in rounds {
            for (sum, (low, high)) in swing_m.iter_mut().zip(&piece.range_m) {
                *sum = (sum.0.min(*low), sum.1.max(*high));
            }
            let closes = self.nodes.iter().all(|&node| {
                let (low, high) = swing_m[node];
                let missed_m = (before.levels_m[node] - now.levels_m[node]).abs();
                missed_m <= SAME_M + share * (high - low)
            });
            if closes && before.stands_as(now) && before.time_s < now.time_s {
                return Some(before);
            }
        }
        None
    }

    fn between(&self, before: &Moment, now: &Moment) -> Cycle {
        let period_s = now.time_s - before.time_s;
        let nodes = now.levels_m.len();
        let mut range_m = vec![(f64::INFINITY, f64::NEG_INFINITY); nodes];
        let mut sum_m_s = vec![0.0; nodes];
        for piece in &self.pieces {
            if piece.began_s < before.time_s {
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
        Cycle {
            period_s,
            range_m,
            mean_m: sum_m_s.iter().map(|sum| sum / period_s).collect(),
            mean_m3_s: passed.map(|(now, then)| (now - then) / period_s).collect(),
        }
    }

    fn same(&self, before: &Moment, now: &Moment) -> bool {
        self.nodes
            .iter()
            .all(|&node| (before.levels_m[node] - now.levels_m[node]).abs() <= SAME_M)
    }
}
