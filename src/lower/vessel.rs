//! The shape of a vessel becomes a level–volume curve.

use crate::layout::{Medium, Shape, TableRow, Vessel};
use crate::network::{Segment, Storage};
use std::f64::consts::{FRAC_PI_4, PI};

/// Level–volume curve of the water in a vessel; below the top of a medium its porosity counts.
pub(super) fn storage(vessel: &Vessel) -> Storage {
    let open = segments(&vessel.shape);
    let filled = match &vessel.medium {
        Some(medium) => with_medium(open, medium, vessel.floor_m),
        None => open,
    };
    Storage::new(vessel.floor_m, filled)
}

/// Length of rim that water can spill over, metres.
///
/// Of a shape given by its area alone, the round one with that area: the shortest it can be, so
/// that a spill is never made to look too easy.
pub(super) fn rim_perimeter_m(vessel: &Vessel) -> f64 {
    if let Some(given) = vessel.rim_perimeter_m {
        return given;
    }
    match vessel.shape {
        Shape::Round { diameter_m } => PI * diameter_m,
        Shape::Rectangular { length_m, width_m } => 2.0 * (length_m + width_m),
        Shape::Prism { .. } | Shape::ConeBottom { .. } | Shape::Table { .. } => {
            let empty = Storage::new(vessel.floor_m, segments(&vessel.shape));
            2.0 * (PI * empty.area_m2(vessel.rim_m)).sqrt()
        }
    }
}

fn straight(bottom_m: f64, area_m2: f64) -> Segment {
    Segment {
        bottom_m,
        area_m2,
        linear_m: 0.0,
        square: 0.0,
    }
}

fn segments(shape: &Shape) -> Vec<Segment> {
    match shape {
        Shape::Round { diameter_m } => vec![straight(0.0, circle_m2(*diameter_m))],
        Shape::Rectangular { length_m, width_m } => vec![straight(0.0, length_m * width_m)],
        Shape::Prism { area_m2 } => vec![straight(0.0, *area_m2)],
        Shape::ConeBottom {
            diameter_m,
            cone_height_m,
        } => cone_bottom(*diameter_m, *cone_height_m),
        Shape::Table { rows } => table(rows),
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

/// Straight lines of area between the rows; rows that do not rise are passed over.
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
