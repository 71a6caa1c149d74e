//! Choice of the vessels whose levels are plotted.

use crate::layout::{Direction, Id, Layout};
use crate::states::InterpolatedSeries;

/// Level of a vessel over time.
#[derive(Clone, Debug, PartialEq)]
pub struct Lane {
    /// Id of the vessel.
    pub vessel: Id,
    /// Name of the vessel.
    pub name: String,
    /// Rim of the vessel, metres.
    pub rim_m: f64,
    /// Levels over time, (s, m), in order of time.
    pub levels_m: Vec<(f64, f64)>,
}

/// Returns at most two vessels that matter most: the one that spills first or comes nearest to its rim, and the one
/// that a pump draws from, or else the one whose level changes most. `looked_at`: a selected or hovered vessel, which
/// replaces the second.
pub fn lanes(film: &InterpolatedSeries, looked_at: Option<&Id>) -> Vec<Lane> {
    let layout = film.layout();
    let ranges: Vec<(f64, f64)> = (0..layout.vessels.len())
        .map(|vessel| range_m(film, vessel))
        .collect();
    let at = |id: &Id| layout.vessels.iter().position(|vessel| vessel.id == *id);
    let spills = film.first_spill().and_then(|(id, _)| at(id));
    let room_m = |vessel: usize| {
        let part = layout.vessels.get(vessel);
        let can_spill = part.filter(|part| part.rim_perimeter_m != Some(0.0));
        can_spill.map_or(f64::INFINITY, |part| part.rim_m - ranges[vessel].1)
    };
    let all = 0..layout.vessels.len();
    let nearest = all.clone().min_by(|a, b| room_m(*a).total_cmp(&room_m(*b)));
    let Some(first) = spills.or(nearest) else {
        return Vec::new();
    };
    let swing_m = |vessel: usize| ranges[vessel].1 - ranges[vessel].0;
    let mut others: Vec<usize> = all.filter(|vessel| *vessel != first).collect();
    others.sort_by(|a, b| swing_m(*b).total_cmp(&swing_m(*a)));
    let drawn_from = pumped(layout).into_iter().filter_map(|id| at(&id));
    let candidates = looked_at.and_then(at).into_iter().chain(drawn_from);
    let mut candidates = candidates.chain(others);
    let second = candidates.find(|vessel| *vessel != first);
    let chosen = [Some(first), second].into_iter().flatten();
    chosen.filter_map(|vessel| lane(film, vessel)).collect()
}

/// Returns the levels of the curves at a time, metres; `time_s`: `None` for the end.
///
/// The end is that of the simulation, not that of the axis, at which a level may still be a millimetre away from its
/// final value.
pub fn levels(film: &InterpolatedSeries, lanes: &[Lane], time_s: Option<f64>) -> Vec<Option<f64>> {
    let time_s = time_s.unwrap_or_else(|| film.end_s());
    let at = |lane: &Lane| film.level_at_m(&lane.vessel, time_s);
    lanes.iter().map(at).collect()
}

/// Returns the parts that pumps draw from.
fn pumped(layout: &Layout) -> Vec<Id> {
    let runs = layout.runs.iter();
    let ends = runs.filter_map(|run| {
        let pump = run.pump.as_ref()?;
        Some(match pump.pushes {
            Direction::Forward => run.from.at.clone(),
            Direction::Backward => run.to.at.clone(),
        })
    });
    ends.collect()
}

fn range_m(film: &InterpolatedSeries, vessel: usize) -> (f64, f64) {
    let none = (f64::INFINITY, f64::NEG_INFINITY);
    film.levels_m(vessel)
        .fold(none, |(low, high), level| (low.min(level), high.max(level)))
}

fn lane(film: &InterpolatedSeries, vessel: usize) -> Option<Lane> {
    let part = film.layout().vessels.get(vessel)?;
    let times = film.times_s().iter().copied();
    Some(Lane {
        vessel: part.id.clone(),
        name: film.layout().name_of(&part.id).to_owned(),
        rim_m: part.rim_m,
        levels_m: times.zip(film.levels_m(vessel)).collect(),
    })
}
