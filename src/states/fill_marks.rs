//! Fill marks: how full the lowest vessel may stand before the pump is started, and how full it must be.
//!
//! Too full, and it floods when the pump stops and everything drains down to it. Too empty, and the pump
//! draws it down to the intake before the first water returns. Both limits are found with whole simulations, since
//! nothing shorter knows what drains down.

use super::chain;
use super::hybrid_system::{HybridSystem, Intake, SwitchKind};
use super::lines::LineWater;
use super::simulate::{SimulationOptions, simulate};
use super::{PumpsOnAndOff, StateNotConverged, at_a_start, levels, start_at};
use crate::layout::{Id, Layout};
use crate::lower::evaporation_m3_s;
use crate::solve::System;

/// Tolerance on levels, metres: half of what a tape shows.
const CLOSE_M: f64 = 5e-4;
/// Maximum number of simulations for one mark.
const MOST_TRIES: usize = 14;

/// A fill mark: the level in the lowest vessel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// With the pumps off, metres.
    pub off_m: f64,
    /// The same water with the pumps on, once steady, metres.
    pub on_m: f64,
    /// Water in all vessels, m³.
    pub water_m3: f64,
}

/// The two marks, and what lies between them.
#[derive(Clone, Debug, PartialEq)]
pub struct FillMarks {
    /// The vessel: the one that the pump draws from, the lowest where there are several.
    pub vessel: Id,
    /// Its pump.
    pub pump: Id,
    /// The upper mark: filled higher, the vessel would lack the required freeboard when the pump stops;
    /// none where even an empty one would.
    pub most: Option<Mark>,
    /// The lower mark: filled lower, its intake would be uncovered while starting; none where even a full one is.
    pub least: Option<Mark>,
    /// Lowest permitted level over the intake, metres.
    pub cover_m: f64,
    /// Evaporation of all vessels together, m³/s; from the given weather.
    pub evaporation_m3_s: f64,
    /// A float valve or a constant make-up supplies water automatically.
    pub topped_up: bool,
    /// Flow of the hose, m³/s.
    pub first_fill_m3_s: Option<f64>,
}

impl FillMarks {
    /// How long the water lasts from the upper mark to the lower one, s; none where nothing is lost or
    /// water is supplied automatically.
    pub fn top_up_s(&self) -> Option<f64> {
        let between_m3 = self.between_m3().filter(|between_m3| *between_m3 > 0.0)?;
        let lasts = !self.topped_up && self.evaporation_m3_s > 0.0;
        lasts.then(|| between_m3 / self.evaporation_m3_s)
    }

    /// Duration of the first fill to the upper mark, s; none where no hose is given.
    pub fn first_fill_s(&self) -> Option<f64> {
        let hose_m3_s = self.first_fill_m3_s.filter(|flow| *flow > 0.0)?;
        Some(self.most?.water_m3 / hose_m3_s)
    }

    /// Water between the marks, m³; negative where there is no room between them.
    pub fn between_m3(&self) -> Option<f64> {
        Some(self.most?.water_m3 - self.least?.water_m3)
    }
}

/// The fill marks of a layout; none where no pump draws from a vessel. `tall`: with tall walls.
pub fn fill_marks(
    layout: &Layout,
    tall: &PumpsOnAndOff,
) -> Result<Option<FillMarks>, StateNotConverged> {
    let filled = chain::filled_by_hand(layout, &tall.off);
    let on = HybridSystem::new(layout, tall.on.clone(), tall.off.clone());
    let off = HybridSystem::new(layout, tall.off.clone(), tall.off.clone()).primed(&filled);
    let Some((pump, intake)) = lowest_intake(&on) else {
        return Ok(None);
    };
    let Some(vessel) = layout.vessels.get(intake.vessel) else {
        return Ok(None);
    };
    let search = Search {
        on: &on,
        off: &off,
        intake,
        bounds_m: (vessel.floor_m, vessel.rim_m),
    };
    let now = search.at(vessel.fill_m.clamp(vessel.floor_m, vessel.rim_m))?;
    let counted = counted(layout, &now, &intake);
    let room = |tried: &FillingTried| -room_left_m(layout, tried, &counted, intake.vessel);
    let cover = |tried: &FillingTried| tried.lowest_m - intake.cover_m();
    Ok(Some(FillMarks {
        vessel: vessel.id.clone(),
        pump,
        most: search.highest_with(room, &now)?,
        least: search.lowest_with(cover, &now)?,
        cover_m: intake.cover_m(),
        evaporation_m3_s: now.evaporation_m3_s,
        topped_up: is_topped_up(layout),
        first_fill_m3_s: layout.first_fill_m3_s,
    }))
}

fn is_topped_up(layout: &Layout) -> bool {
    let mut vessels = layout.vessels.iter();
    vessels.any(|vessel| vessel.float_valve.is_some() || vessel.make_up_m3_s > 0.0)
        || layout.joints.iter().any(|joint| joint.make_up_m3_s > 0.0)
}

/// The pump whose vessel has the lowest floor.
fn lowest_intake(hybrid: &HybridSystem<'_>) -> Option<(Id, Intake)> {
    let pumps = hybrid.switches.iter().filter_map(|switch| {
        let SwitchKind::Pump(pump) = &switch.kind else {
            return None;
        };
        let intake = pump.intake?;
        let floor_m = hybrid.layout.vessels.get(intake.vessel)?.floor_m;
        Some((floor_m, switch.part.clone(), intake))
    });
    let lowest = pumps.min_by(|a, b| a.0.total_cmp(&b.0));
    lowest.map(|(_, pump, intake)| (pump, intake))
}

/// The vessels that a fuller fill could flood: the lowest, and those with room at the current fill. A vessel that
/// spills in any case is not a question of filling.
fn counted(layout: &Layout, now: &FillingTried, intake: &Intake) -> Vec<usize> {
    let vessels = layout.vessels.iter().enumerate();
    vessels
        .filter(|(index, vessel)| {
            let can_spill = vessel.rim_perimeter_m != Some(0.0);
            *index == intake.vessel || (can_spill && now.highest_m[*index] <= vessel.rim_m)
        })
        .map(|(index, _)| index)
        .collect()
}

/// The least room below a rim; for the lowest vessel, in excess of the required freeboard.
fn room_left_m(layout: &Layout, tried: &FillingTried, counted: &[usize], lowest: usize) -> f64 {
    let rooms = counted.iter().filter_map(|&index| {
        let wanted_m = if index == lowest {
            layout.limits.freeboard_m
        } else {
            0.0
        };
        let rim_m = layout.vessels.get(index)?.rim_m;
        Some(rim_m - wanted_m - tried.highest_m[index])
    });
    rooms.fold(f64::INFINITY, f64::min)
}

/// The outcome of one trial fill.
#[derive(Clone, Debug)]
struct FillingTried {
    fill_m: f64,
    mark: Mark,
    /// Lowest level in the lowest vessel while starting, metres.
    lowest_m: f64,
    /// Highest level of every vessel while starting and, where that was simulated, after stopping, metres.
    highest_m: Vec<f64>,
    /// Level of every vessel while running, metres.
    runs_m: Vec<f64>,
    /// The chains of runs that are then primed.
    primed: Vec<usize>,
    /// The water that the runs then hold.
    water: LineWater,
    /// Evaporation while running, m³/s.
    evaporation_m3_s: f64,
}

struct Search<'a> {
    on: &'a HybridSystem<'a>,
    off: &'a HybridSystem<'a>,
    intake: Intake,
    /// Floor and rim of the lowest vessel, metres.
    bounds_m: (f64, f64),
}

impl Search<'_> {
    /// Fills the lowest vessel to `fill_m`, the others as drawn; simulates rest, start and stop.
    fn at(&self, fill_m: f64) -> Result<FillingTried, StateNotConverged> {
        let mut tried = self.started(fill_m)?;
        let system = System::new(&self.off.on.network);
        let from = start_at(&self.off.on, &system, &tried.runs_m);
        let modes = self.off.modes_at_a_start(&from, &tried.primed);
        let off = self.off.holding(tried.water.clone());
        let stopped = simulate(&off, &from, Some(&modes), SimulationOptions::default())?.1;
        let nodes = &self.on.on.origin.vessels;
        for (highest_m, &node) in tried.highest_m.iter_mut().zip(nodes) {
            *highest_m = highest_m.max(stopped.range_m[node].1);
        }
        Ok(tried)
    }

    /// The same without the stop, which takes longer.
    fn started(&self, fill_m: f64) -> Result<FillingTried, StateNotConverged> {
        let system = System::new(&self.off.on.network);
        let filled = system.start_from(|node| (node == self.intake.node).then_some(fill_m));
        let rest = simulate(self.off, &filled, None, SimulationOptions::default())?.1;
        let levels_m = levels(&self.off.on, &rest.end);
        let from = start_at(&self.on.on, &System::new(&self.on.on.network), &levels_m);
        let modes = self
            .on
            .modes_at_a_start(&from, &self.off.primed_chains(&rest.modes));
        let water = at_a_start(self.on, &from, &rest.end);
        let on = self.on.holding(water);
        let running = simulate(&on, &from, Some(&modes), SimulationOptions::default())?.1;
        let nodes = &self.on.on.origin.vessels;
        let water =
            |node: &usize| super::vessels::volume(&self.off.on, *node, rest.end.head_m[*node]);
        let vessels = self.on.layout.vessels.iter();
        Ok(FillingTried {
            fill_m,
            mark: Mark {
                off_m: rest.end.head_m[self.intake.node],
                on_m: running.end.head_m[self.intake.node],
                water_m3: nodes.iter().map(water).sum(),
            },
            lowest_m: running.range_m[self.intake.node].0,
            highest_m: nodes.iter().map(|node| running.range_m[*node].1).collect(),
            runs_m: levels(&self.on.on, &running.end),
            primed: self.on.primed_chains(&running.modes),
            water: running.water.clone(),
            evaporation_m3_s: vessels
                .zip(nodes)
                .map(|(vessel, &node)| {
                    evaporation_m3_s(self.on.layout, vessel, running.end.head_m[node])
                })
                .sum(),
        })
    }

    /// The highest fill level at which `excess` is not above 0; `excess` increases with the fill.
    fn highest_with(
        &self,
        excess: impl Fn(&FillingTried) -> f64,
        now: &FillingTried,
    ) -> Result<Option<Mark>, StateNotConverged> {
        let found = self.crossing(Self::at, &excess, now)?;
        Ok(match found {
            MarkCrossing::Never(top) => Some(top.mark),
            MarkCrossing::Always(_) => None,
            MarkCrossing::At(below, _) => Some(below.mark),
        })
    }

    /// The lowest fill level at which `excess` is not below 0; `excess` increases with the fill.
    fn lowest_with(
        &self,
        excess: impl Fn(&FillingTried) -> f64,
        now: &FillingTried,
    ) -> Result<Option<Mark>, StateNotConverged> {
        // Only the drawdown of the start matters here.
        let found = self.crossing(Self::started, &excess, now)?;
        Ok(match found {
            MarkCrossing::Never(_) => None,
            MarkCrossing::Always(bottom) => Some(bottom.mark),
            MarkCrossing::At(_, above) => Some(above.mark),
        })
    }

    /// Root of `excess`: by its derivative of about one where that stays inside the bracket, else by bisection.
    fn crossing(
        &self,
        tried: impl Fn(&Self, f64) -> Result<FillingTried, StateNotConverged>,
        excess: &impl Fn(&FillingTried) -> f64,
        now: &FillingTried,
    ) -> Result<MarkCrossing, StateNotConverged> {
        let value = excess(now);
        let end_m = if value <= 0.0 {
            self.bounds_m.1
        } else {
            self.bounds_m.0
        };
        let end = tried(self, end_m)?;
        let (mut below, mut above) = if value <= 0.0 {
            (now.clone(), end)
        } else {
            (end, now.clone())
        };
        if excess(&above) <= 0.0 {
            return Ok(MarkCrossing::Never(Box::new(above)));
        }
        if excess(&below) > 0.0 {
            return Ok(MarkCrossing::Always(Box::new(below)));
        }
        for turn in 0..MOST_TRIES {
            let width_m = above.fill_m - below.fill_m;
            if width_m <= CLOSE_M {
                break;
            }
            let (low, high) = (excess(&below), excess(&above));
            let share = if turn % 3 == 2 {
                0.5
            } else {
                -low / (high - low)
            };
            // A tiny offset to either side in turn, so that both ends of the bracket close in.
            let hair_m = if turn % 2 == 0 { CLOSE_M } else { -CLOSE_M } * 0.5;
            let inside = 0.1 * CLOSE_M;
            let next_m = (below.fill_m + share * width_m + hair_m)
                .clamp(below.fill_m + inside, above.fill_m - inside);
            let next = tried(self, next_m)?;
            if excess(&next) <= 0.0 {
                below = next;
            } else {
                above = next;
            }
        }
        Ok(MarkCrossing::At(Box::new(below), Box::new(above)))
    }
}

enum MarkCrossing {
    /// Not even at the upper end, given here.
    Never(Box<FillingTried>),
    /// Even at the lower end, given here.
    Always(Box<FillingTried>),
    /// Between these two.
    At(Box<FillingTried>, Box<FillingTried>),
}
