//! Lookup table for the grade of a run: heads on a grid of flows and levels, computed on first use.
//!
//! A march costs some ten microseconds, and a solver calls it thousands of times. Between flows the head is
//! interpolated linearly in the loss of the full run, which makes a full run exact; between levels at the outlet it
//! is linear in the level. Both keep it from falling where the marches do not. See `docs/method/grade.md`.

use super::high_point::{Foot, HighPoint};
use super::march_profile::{Leg, MarchProfile, Outfall};
use crate::hydraulics::channel::circle::critical_flow_unit;
use crate::hydraulics::channel::grade::Tabulated;
use crate::hydraulics::losses::loss::Loss;
use std::cell::RefCell;
use std::collections::VecDeque;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, OnceLock};

/// Flows of the grid: (n/64)⁴·√g·D^2.5. A ratio of 1.06 where a bore is well filled, coarser below,
/// where the depth changes little.
const FINENESS: f64 = 64.0;
/// The last flow of the grid, eight times √g·D^2.5; beyond it a run is full and only its loss grows.
const LAST: usize = 108;
/// Steps of the level at the outlet, from its invert to its crown: (n/16)² of the bore, fine where a
/// small flow is slightly submerged.
const ROWS: usize = 16;

/// Required upstream head, m, and its derivatives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Head {
    /// The head, m.
    pub head_m: f64,
    /// With respect to flow, s/m².
    pub by_flow: f64,
    /// With respect to the downstream level, 0 to 1.
    pub by_level: f64,
}

/// Heads at one flow.
#[derive(Clone, Debug, Default)]
struct Column {
    /// Loss of the full run, and head with a free outlet, m.
    free: OnceLock<(f64, f64)>,
    rows: OnceLock<Box<Rows>>,
    /// The curve of the flow, where levels are marched individually.
    curve: OnceLock<Box<Tabulated>>,
    /// Intermediate flows up to the next one, where linear interpolation is not accurate enough.
    finer: OnceLock<Option<Box<[Column]>>>,
}

/// A position in the grid of flows: that of a column, or a fraction of the way to the next.
#[derive(Clone, Copy)]
struct FlowCell {
    column: usize,
    part: usize,
}

/// Subdivisions of a cell in which the law bends: where a drain just fills, or its backwater just reaches the top.
const PARTS: usize = 32;
/// Permitted error of linear interpolation at the midpoint, m.
const STRAIGHT_M: f64 = 3e-5;
/// Increment of level for finite differences, m.
const NUDGE_M: f64 = 1e-6;
/// Largest derivative of a head with respect to the downstream level: from the level, and from shut-in air that sets
/// in over a tenth of the bore.
const MOST_BY_LEVEL: f64 = 12.0;

/// Heads at one flow for levels from the invert of the outlet to its crown, m.
type Rows = [f64; ROWS + 1];

/// The grade law of a run for one direction of flow. Copies share the table.
#[derive(Clone, Debug)]
pub struct Grade(Arc<Cache>);

#[derive(Debug)]
struct Cache {
    course: MarchProfile,
    /// The total loss of the full run.
    loss: Loss,
    unit_m3_s: f64,
    sill_m: f64,
    /// Air can be shut in at a low point, however high the water stands.
    shuts_air_in: bool,
    columns: Box<[Column]>,
    key: u64,
}

impl PartialEq for Grade {
    /// The contents of the table do not count.
    fn eq(&self, other: &Grade) -> bool {
        self.is(other.0.key, &other.0.course, &other.0.loss)
    }
}

/// A position in the grid of levels.
#[derive(Clone, Copy)]
enum LevelCell {
    Free,
    /// Row below, and the fraction of the way to the next.
    Between(usize, f64),
    /// Off the grid: marched for this very level.
    Marched,
}

impl Grade {
    /// The law of a profile whose full run loses `loss`; none where no leg can run part full.
    ///
    /// Recent laws of this thread are cached with their tables: a layout is lowered many times over, and few runs
    /// change from one time to the next.
    pub fn new(course: MarchProfile, loss: Loss) -> Option<Grade> {
        if !course.may_run_part_full() {
            return None;
        }
        Some(KNOWN.with_borrow_mut(|known| remembered(known, course, loss)))
    }

    fn is(&self, key: u64, course: &MarchProfile, loss: &Loss) -> bool {
        self.0.key == key && self.0.course == *course && self.0.loss == *loss
    }

    /// The profile that it is marched on.
    pub fn profile(&self) -> &MarchProfile {
        &self.0.course
    }

    /// Crown of the outlet, m.
    fn crown_m(&self) -> f64 {
        self.0.course.outlet_m + self.0.course.bore_m()
    }

    /// Required upstream head for a flow (≥ 0, m³/s) to pass against a downstream level; against the head,
    /// where that is a joint.
    ///
    /// Never decreases with either. With the level above every crown it is exactly that of the full run, where no
    /// air is shut in.
    pub fn required_head(&self, flow_m3_s: f64, level_m: f64) -> Head {
        let loss = self.0.loss.at(flow_m3_s);
        let Some(row) = self.row_at(level_m, flow_m3_s) else {
            return Head {
                head_m: level_m + loss.value,
                by_flow: loss.derivative,
                by_level: 1.0,
            };
        };
        let at = (flow_m3_s / self.0.unit_m3_s).max(0.0).sqrt().sqrt() * FINENESS;
        let head = self.between(at, row, (level_m, loss.value));
        Head {
            head_m: head.head_m,
            by_flow: head.by_flow * loss.derivative,
            by_level: head.by_level,
        }
    }

    /// The same for no flow, which needs no march: the head, m, and whether it is the downstream level itself.
    pub fn at_rest(&self, level_m: f64) -> (f64, bool) {
        match self.row_at(level_m, 0.0) {
            None => (level_m, true),
            Some(_) => self.0.course.at_rest(level_m),
        }
    }

    /// Height of a row over the invert of the outlet, m.
    fn row_m(&self, row: usize) -> f64 {
        let share = row as f64 / ROWS as f64;
        self.0.course.bore_m() * share * share
    }

    /// Position of a downstream level in the grid; none where it submerges the whole run.
    fn row_at(&self, level_m: f64, flow_m3_s: f64) -> Option<LevelCell> {
        let over_m = level_m - self.0.course.outlet_m;
        let bore_m = self.0.course.bore_m();
        if level_m >= self.0.sill_m + bore_m + self.rides_on_m(flow_m3_s) && !self.0.shuts_air_in {
            return None;
        }
        let joint = self.0.course.outfall == Outfall::Joint;
        let follows = self.0.course.depends_on_joint();
        Some(if follows || joint && over_m > 0.0 || over_m >= bore_m {
            LevelCell::Marched
        } else if over_m > 0.0 {
            self.row(over_m)
        } else {
            LevelCell::Free
        })
    }

    /// Velocity head included in the downstream head, m: at a joint, whose head is the energy line.
    fn rides_on_m(&self, flow_m3_s: f64) -> f64 {
        let course = &self.0.course;
        if course.outfall != Outfall::Joint {
            return 0.0;
        }
        let velocity_m_s = course.pipe.velocity_m_s(flow_m3_s);
        velocity_m_s * velocity_m_s / (2.0 * course.pipe.gravity_m_s2)
    }

    fn row(&self, over_m: f64) -> LevelCell {
        let below = (over_m / self.0.course.bore_m()).sqrt() * ROWS as f64;
        let below = (below as usize).min(ROWS - 1);
        let low_m = self.row_m(below);
        let share = (over_m - low_m) / (self.row_m(below + 1) - low_m);
        LevelCell::Between(below, share.clamp(0.0, 1.0))
    }

    /// Interpolation between two flows of the grid; `by_flow` is with respect to the loss of the full run. `at`: the
    /// flow in columns.
    fn between(&self, at: f64, row: LevelCell, (level_m, loss_m): (f64, f64)) -> Between {
        let column = (at as usize).min(LAST);
        if column == LAST {
            let last = self.node(FlowCell { column, part: 0 }, row, level_m);
            return Between {
                head_m: last.head_m + (loss_m - last.loss_m),
                by_flow: 1.0,
                by_level: last.by_level,
            };
        }
        let (low, high) = self.cell(column, at - column as f64);
        let (low, high) = (self.node(low, row, level_m), self.node(high, row, level_m));
        let rate = (high.head_m - low.head_m) / (high.loss_m - low.loss_m);
        let over_m = (loss_m - low.loss_m).max(0.0);
        let share = over_m / (high.loss_m - low.loss_m);
        Between {
            head_m: low.head_m + rate * over_m,
            by_flow: rate,
            by_level: low.by_level + share * (high.by_level - low.by_level),
        }
    }

    /// The flows of the grid on both sides of a fraction of the way from a column to the next.
    fn cell(&self, column: usize, share: f64) -> (FlowCell, FlowCell) {
        let next = FlowCell {
            column: column + 1,
            part: 0,
        };
        if self.finer(column).is_none() {
            return (FlowCell { column, part: 0 }, next);
        }
        let part = ((share * PARTS as f64) as usize).min(PARTS - 1);
        let high = match part + 1 {
            PARTS => next,
            part => FlowCell { column, part },
        };
        (FlowCell { column, part }, high)
    }

    /// The flows inside a cell, where the law bends there.
    fn finer(&self, column: usize) -> Option<&[Column]> {
        // A trickle changes the depth little.
        if column == 0 {
            return None;
        }
        // A few rows cannot show where a high point, or a head that is not on the grid, takes over.
        let course = &self.0.course;
        let kinked = course.outfall == Outfall::Joint
            || !course.high_points.is_empty()
            || !course.local.is_empty();
        let made = || {
            (kinked || self.bends(column)).then(|| (1..PARTS).map(|_| Column::default()).collect())
        };
        self.0.columns[column].finer.get_or_init(made).as_deref()
    }

    /// Whether linear interpolation from a column to the next is inaccurate at the midpoint.
    fn bends(&self, column: usize) -> bool {
        let ends = [column, column + 1].map(|column| FlowCell { column, part: 0 });
        let part = PARTS / 2;
        let flow_m3_s = self.flow_m3_s(FlowCell { column, part });
        let loss_m = self.0.loss.at(flow_m3_s).value;
        let free_m = self.0.course.march(flow_m3_s, f64::NEG_INFINITY).head_m;
        let rows = self.rows(flow_m3_s, (loss_m, free_m));
        let half = ROWS / 2;
        let looked_at = [
            (LevelCell::Free, free_m),
            (LevelCell::Between(half, 0.0), rows[half]),
            (LevelCell::Between(ROWS - 1, 1.0), rows[ROWS]),
        ];
        looked_at.into_iter().any(|(row, head_m)| {
            let [low, high] = ends.map(|place| self.node(place, row, self.crown_m()));
            let rate = (high.head_m - low.head_m) / (high.loss_m - low.loss_m);
            let straight_m = low.head_m + rate * (loss_m - low.loss_m);
            (straight_m - head_m).abs() > STRAIGHT_M
        })
    }

    fn flow_m3_s(&self, place: FlowCell) -> f64 {
        let at = place.column as f64 + place.part as f64 / PARTS as f64;
        (at / FINENESS).powi(4) * self.0.unit_m3_s
    }

    fn column(&self, place: FlowCell) -> &Column {
        let column = &self.0.columns[place.column];
        let finer = column.finer.get().and_then(Option::as_deref);
        let part = place.part.checked_sub(1);
        let inside = part.zip(finer).and_then(|(part, finer)| finer.get(part));
        inside.unwrap_or(column)
    }

    fn node(&self, place: FlowCell, row: LevelCell, level_m: f64) -> Node {
        if place.column == 0 && place.part == 0 {
            return self.still(row, level_m);
        }
        let flow_m3_s = self.flow_m3_s(place);
        let column = self.column(place);
        let (loss_m, free_m) = *column.free.get_or_init(|| {
            let free_m = self.0.course.march(flow_m3_s, f64::NEG_INFINITY).head_m;
            (self.0.loss.at(flow_m3_s).value, free_m)
        });
        let (head_m, by_level) = match row {
            LevelCell::Free => (free_m, 0.0),
            LevelCell::Marched => self.marched(column, flow_m3_s, (level_m, loss_m, free_m)),
            LevelCell::Between(below, share) => {
                let rows = column.rows.get_or_init(|| {
                    let rows = self.rows(flow_m3_s, (loss_m, free_m));
                    Box::new(rows)
                });
                let (low, high) = (rows[below], rows[below + 1]);
                let step_m = self.row_m(below + 1) - self.row_m(below);
                (low + share * (high - low), (high - low) / step_m)
            }
        };
        Node {
            loss_m,
            head_m,
            by_level,
        }
    }

    /// The head for one level, and its derivative with respect to that level.
    fn marched(
        &self,
        column: &Column,
        flow_m3_s: f64,
        (level_m, loss_m, free_m): (f64, f64, f64),
    ) -> (f64, f64) {
        let course = &self.0.course;
        let tabulated = column.curve.get_or_init(|| {
            let kept = course.with_curve(flow_m3_s, |curve| curve.tabulated());
            Box::new(kept)
        });
        let [here, above] = course.with_tabulated((flow_m3_s, tabulated), |curve| {
            [level_m, level_m + NUDGE_M].map(|level_m| course.march_on(curve, flow_m3_s, level_m))
        });
        if here.full {
            return (level_m + loss_m, 1.0);
        }
        let (here_m, above_m) = (here.head_m, above.head_m);
        // Where shut-in air sets in, the head rises faster than the level.
        let by_level = ((above_m - here_m) / NUDGE_M).clamp(0.0, MOST_BY_LEVEL);
        if here_m < free_m && level_m >= course.outlet_m {
            return (free_m, 0.0);
        }
        (here_m, by_level)
    }

    /// Without flow: the level, or the head that the highest invert and shut-in air require.
    fn still(&self, row: LevelCell, level_m: f64) -> Node {
        let level_m = match row {
            LevelCell::Free => f64::NEG_INFINITY,
            LevelCell::Between(..) | LevelCell::Marched => level_m,
        };
        let (head_m, is_level) = self.0.course.at_rest(level_m);
        // The head held back by shut-in air rises with the level, and faster where it sets in.
        let by_level = match is_level {
            true => 1.0,
            false if self.0.shuts_air_in => {
                let (above_m, _) = self.0.course.at_rest(level_m + NUDGE_M);
                ((above_m - head_m) / NUDGE_M).clamp(0.0, MOST_BY_LEVEL)
            }
            false => 0.0,
        };
        Node {
            loss_m: 0.0,
            head_m,
            by_level,
        }
    }

    fn rows(&self, flow_m3_s: f64, (loss_m, free_m): (f64, f64)) -> Rows {
        let level_m = |row: usize| self.0.course.outlet_m + self.row_m(row);
        let levels_m: [f64; ROWS + 1] = std::array::from_fn(level_m);
        let tops = self.0.course.heads(flow_m3_s, levels_m);
        let full = tops[ROWS].full;
        let mut head_m = tops.map(|top| top.head_m);
        if full {
            head_m[ROWS] = self.crown_m() + loss_m;
        }
        // An entrance loses less where the water stands deeper, so that a little backwater could
        // seem to help. It is not allowed to: a vessel does not fall because another rises.
        let mut most_m = free_m;
        for head_m in &mut head_m {
            most_m = head_m.max(most_m);
            *head_m = most_m;
        }
        head_m
    }
}

/// Maximum number of cached laws.
const MOST_KNOWN: usize = 512;

thread_local! {
    static KNOWN: RefCell<VecDeque<Grade>> = const { RefCell::new(VecDeque::new()) };
}

/// The cached law, or a new one, which is then cached.
fn remembered(known: &mut VecDeque<Grade>, course: MarchProfile, loss: Loss) -> Grade {
    let key = key(&course, &loss);
    let mut lately = known.iter().rev();
    if let Some(same) = lately.find(|one| one.is(key, &course, &loss)) {
        return same.clone();
    }
    if known.len() >= MOST_KNOWN {
        known.pop_front();
    }
    let made = Grade(Arc::new(Cache {
        unit_m3_s: critical_flow_unit(course.bore_m(), course.pipe.gravity_m_s2),
        sill_m: course.sill_m(),
        shuts_air_in: course.high_points.iter().any(is_shut_in),
        columns: (0..=LAST).map(|_| Column::default()).collect(),
        key,
        course,
        loss,
    }));
    known.push_back(made.clone());
    made
}

/// Whether a low point can shut in air behind a high point.
fn is_shut_in(point: &HighPoint) -> bool {
    !point.vented && matches!(point.foot, Foot::LowPoint { .. })
}

/// Differs between most laws that differ.
fn key(course: &MarchProfile, loss: &Loss) -> u64 {
    let mut hasher = DefaultHasher::new();
    let mut take = |value: f64| value.to_bits().hash(&mut hasher);
    for leg in &course.legs {
        match *leg {
            Leg::Sloping {
                length_m,
                lower_m,
                upper_m,
            } => [length_m, lower_m, upper_m].into_iter().for_each(&mut take),
            Leg::Plumb { length_m } => take(length_m),
        }
    }
    take(course.outlet_m);
    take(course.bore_m());
    for point in &course.high_points {
        take(point.invert_m);
    }
    for local in &course.local {
        take(local.loss.equipment_b);
        local.loss.minors.iter().for_each(|minor| take(minor.k));
    }
    take(loss.equipment_b);
    for minor in &loss.minors {
        take(minor.k);
    }
    hasher.finish()
}

struct Node {
    loss_m: f64,
    head_m: f64,
    by_level: f64,
}

struct Between {
    head_m: f64,
    by_flow: f64,
    by_level: f64,
}
