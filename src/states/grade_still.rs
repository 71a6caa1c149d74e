//! Where water stands in a run without flow.

use super::highest::highest;
use crate::states::SAME_HEIGHT_M;

/// A place of a run: its distance from `from`, its invert, and the level of the water that stands there, metres;
/// none where it is empty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StillPoint {
    /// Distance along the run.
    pub distance_m: f64,
    /// Invert of the pipe.
    pub invert_m: f64,
    /// Water level.
    pub level_m: Option<f64>,
}

/// How water stands in a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandingWater {
    /// Levels at `from` and `to`, metres; none where there is no water.
    pub ends_m: [Option<f64>; 2],
    /// It cannot run back: the water above those levels stays in the pipe.
    pub held: bool,
}

/// The pipe from corner to corner (distance and invert, metres), with the water that stands in it.
///
/// Water reaches from either end as far as the pipe stays below the level there: past the first place above it
/// the pipe has drained. Nor does it stand where the pipe falls away to the other end. Where a check valve
/// holds, the rest is full up to its highest place.
pub fn standing_water(corners: &[(f64, f64)], how: &StandingWater) -> Vec<StillPoint> {
    let mut places = cut(corners, how.ends_m);
    reach(&mut places, how.ends_m);
    places.reverse();
    let [from_m, to_m] = how.ends_m;
    reach(&mut places, [to_m, from_m]);
    places.reverse();
    if how.held {
        let highest_m = places.iter().map(|place| place.invert_m);
        let highest_m = highest_m.fold(f64::NEG_INFINITY, f64::max);
        for place in &mut places {
            place.level_m = place.level_m.or(Some(highest_m));
        }
    }
    places
}

/// The corners, and the places where the pipe crosses one of the levels.
fn cut(corners: &[(f64, f64)], ends_m: [Option<f64>; 2]) -> Vec<StillPoint> {
    let place = |distance_m: f64, invert_m: f64| StillPoint {
        distance_m,
        invert_m,
        level_m: None,
    };
    let mut places: Vec<StillPoint> = corners
        .iter()
        .take(1)
        .map(|one| place(one.0, one.1))
        .collect();
    for pair in corners.windows(2) {
        let [(start_m, low_m), (end_m, high_m)] = *pair else {
            continue;
        };
        let mut between: Vec<StillPoint> = Vec::new();
        for level_m in ends_m.into_iter().flatten() {
            let share = (level_m - low_m) / (high_m - low_m);
            if share > 0.0 && share < 1.0 {
                between.push(place(start_m + (end_m - start_m) * share, level_m));
            }
        }
        between.sort_by(|a, b| a.distance_m.total_cmp(&b.distance_m));
        places.extend(between);
        places.push(place(end_m, high_m));
    }
    places
}

/// Fills the places from the first on, as far as they are below the level there; `ends_m`: levels at the first and
/// the last.
fn reach(places: &mut [StillPoint], [level_m, beyond_m]: [Option<f64>; 2]) {
    let Some(level_m) = level_m else { return };
    let back = places.iter().rev().map(|place| place.invert_m);
    let mut dams_m = highest(beyond_m.unwrap_or(f64::NEG_INFINITY), back);
    dams_m.reverse();
    for (place, dam_m) in places.iter_mut().zip(dams_m) {
        if place.invert_m > level_m + SAME_HEIGHT_M {
            break;
        }
        let runs_away = dam_m < level_m - SAME_HEIGHT_M && dam_m <= place.invert_m + SAME_HEIGHT_M;
        if !runs_away {
            place.level_m = place.level_m.or(Some(level_m.min(dam_m)));
        }
    }
}
