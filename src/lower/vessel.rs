//! The level–volume curve of a vessel from its shape.

use crate::layout::{Medium, Shape, TableRow, Vessel};
use crate::network::{Segment, Storage};
use std::f64::consts::{FRAC_PI_4, PI};

/// Level–volume curve of the water in a vessel; below the top of a medium its porosity counts.
pub(super) fn storage(vessel: &Vessel) -> Storage {
    let open = segments(vessel);
    let filled = match &vessel.medium {
        Some(medium) => with_medium(open, medium, vessel.floor_m),
        None => open,
    };
    Storage::new(vessel.floor_m, filled)
}

/// Length of rim that water can spill over, metres.
///
/// For a shape given by its area alone, the circle with that area: the shortest it can be, so
/// that a spill is never made to look too easy.
pub(super) fn rim_perimeter_m(vessel: &Vessel) -> f64 {
    if let Some(given) = vessel.rim_perimeter_m {
        return given;
    }
    match vessel.shape {
        Shape::Round { diameter_m } => PI * diameter_m,
        Shape::Rectangular { length_m, width_m } => 2.0 * (length_m + width_m),
        Shape::LyingDrum {
            diameter_m,
            length_m,
        } => {
            let angle = drum_angle(diameter_m, vessel.rim_m - vessel.floor_m);
            2.0 * (length_m + diameter_m * angle.sin())
        }
        Shape::Prism { .. } | Shape::ConeBottom { .. } | Shape::Table { .. } => {
            2.0 * (PI * open_area_m2(vessel)).sqrt()
        }
    }
}

/// Plan area at the rim, m².
pub(super) fn open_area_m2(vessel: &Vessel) -> f64 {
    Storage::new(vessel.floor_m, segments(vessel)).area_m2(vessel.rim_m)
}

fn straight(bottom_m: f64, area_m2: f64) -> Segment {
    Segment {
        bottom_m,
        area_m2,
        linear_m: 0.0,
        square: 0.0,
    }
}

fn segments(vessel: &Vessel) -> Vec<Segment> {
    match &vessel.shape {
        Shape::Round { diameter_m } => vec![straight(0.0, circle_m2(*diameter_m))],
        Shape::Rectangular { length_m, width_m } => vec![straight(0.0, length_m * width_m)],
        Shape::Prism { area_m2 } => vec![straight(0.0, *area_m2)],
        Shape::ConeBottom {
            diameter_m,
            cone_height_m,
        } => cone_bottom(*diameter_m, *cone_height_m),
        Shape::LyingDrum {
            diameter_m,
            length_m,
        } => lying_drum(*diameter_m, *length_m, vessel.rim_m - vessel.floor_m),
        Shape::Table { rows } => table(rows),
    }
}

/// Number of steps for a lying drum, from its lowest line to its rim.
const DRUM_STEPS: u32 = 64;
/// Smallest fraction of the plan area of a lying drum assumed for its opening.
const LEAST_DRUM_OPENING: f64 = 0.02;

/// Half the central angle of the wetted arc in a lying drum, radians: 0 empty, π full to the crown.
fn drum_angle(diameter_m: f64, depth_m: f64) -> f64 {
    let share = 2.0 * depth_m / diameter_m.max(1e-9);
    (1.0 - share).clamp(-1.0, 1.0).acos()
}

/// Area L·D·sin θ at the depth D/2·(1 − cos θ); volume L·D²/4·(θ − sin θ·cos θ), exact at each step.
///
/// Above the rim the walls go straight up from the opening that is cut there.
fn lying_drum(diameter_m: f64, length_m: f64, rim_depth_m: f64) -> Vec<Segment> {
    let whole_m2 = diameter_m * length_m;
    let full = drum_angle(diameter_m, rim_depth_m);
    let depth = |angle: f64| 0.5 * diameter_m * (1.0 - angle.cos());
    let volume = |angle: f64| 0.25 * whole_m2 * diameter_m * (angle - angle.sin() * angle.cos());
    let step = full / f64::from(DRUM_STEPS);
    let mut segments: Vec<Segment> = (0..DRUM_STEPS)
        .map(|index| {
            let (low, high) = (f64::from(index) * step, f64::from(index + 1) * step);
            let areas = [low, high].map(|angle| whole_m2 * angle.sin());
            let bottom_m = depth(low);
            through(
                bottom_m,
                (depth(high) - bottom_m, volume(high) - volume(low)),
                areas,
            )
        })
        .collect();
    let opening_m2 = (whole_m2 * full.sin()).max(LEAST_DRUM_OPENING * whole_m2);
    segments.push(straight(depth(full), opening_m2));
    segments
}

/// The quadratic with these areas at its bottom and its top, and this volume between them.
fn through(bottom_m: f64, (rise_m, volume_m3): (f64, f64), [low_m2, high_m2]: [f64; 2]) -> Segment {
    let more_m2 = high_m2 - low_m2;
    let bulge_m3 = volume_m3 - low_m2 * rise_m - 0.5 * more_m2 * rise_m;
    let square = -6.0 * bulge_m3 / (rise_m * rise_m * rise_m);
    Segment {
        bottom_m,
        area_m2: low_m2,
        linear_m: more_m2 / rise_m - square * rise_m,
        square,
    }
}

fn circle_m2(diameter_m: f64) -> f64 {
    FRAC_PI_4 * diameter_m * diameter_m
}

/// Area π(R·y/h)² up to the height h of the cone, πR² above.
fn cone_bottom(diameter_m: f64, cone_height_m: f64) -> Vec<Segment> {
    let full_m2 = circle_m2(diameter_m);
    if cone_height_m.is_nan() || cone_height_m <= 0.0 {
        return vec![straight(0.0, full_m2)];
    }
    let cone = Segment {
        square: full_m2 / (cone_height_m * cone_height_m),
        ..straight(0.0, 0.0)
    };
    vec![cone, straight(cone_height_m, full_m2)]
}

/// Area interpolated linearly between the rows; rows that do not rise are skipped.
fn table(rows: &[TableRow]) -> Vec<Segment> {
    let mut kept: Vec<TableRow> = Vec::with_capacity(rows.len());
    for row in rows {
        if kept.last().is_none_or(|last| row.depth_m > last.depth_m) {
            kept.push(*row);
        }
    }
    if let Some(first) = kept.first_mut() {
        first.depth_m = 0.0;
    }
    let mut segments: Vec<Segment> = kept
        .windows(2)
        .filter_map(|pair| match pair {
            [low, high] => Some(Segment {
                linear_m: (high.area_m2 - low.area_m2) / (high.depth_m - low.depth_m),
                ..straight(low.depth_m, low.area_m2)
            }),
            _ => None,
        })
        .collect();
    segments.extend(kept.last().map(|top| straight(top.depth_m, top.area_m2)));
    segments
}

/// Cuts the curve at the top of the medium and lets water fill only its pores below.
fn with_medium(open: Vec<Segment>, medium: &Medium, floor_m: f64) -> Vec<Segment> {
    let top_m = medium.top_m - floor_m;
    if top_m.is_nan() || top_m <= 0.0 {
        return open;
    }
    let above = open.iter().filter(|segment| segment.bottom_m > top_m);
    let above: Vec<Segment> = above.copied().collect();
    let below = open.iter().filter(|segment| segment.bottom_m <= top_m);
    let mut cut: Vec<Segment> = below.map(|open| porous(open, medium.porosity)).collect();
    if let Some(split) = open.iter().rfind(|segment| segment.bottom_m <= top_m) {
        cut.push(from_height(split, top_m));
    }
    cut.extend(above);
    cut
}

fn porous(open: &Segment, porosity: f64) -> Segment {
    Segment {
        bottom_m: open.bottom_m,
        area_m2: open.area_m2 * porosity,
        linear_m: open.linear_m * porosity,
        square: open.square * porosity,
    }
}

/// The same curve, with its bottom moved up to `bottom_m`.
fn from_height(open: &Segment, bottom_m: f64) -> Segment {
    let rise = bottom_m - open.bottom_m;
    Segment {
        bottom_m,
        area_m2: open.area_m2 + rise * (open.linear_m + rise * open.square),
        linear_m: open.linear_m + 2.0 * rise * open.square,
        square: open.square,
    }
}
