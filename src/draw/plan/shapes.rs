//! Shapes of vessels in the plan, and of the water in them.

use crate::layout::{Shape, TableRow};

/// Shape of a vessel or of the water in it, before rotation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum PlanShape {
    /// A circle.
    Round { radius_m: f64 },
    /// A rectangle: half its length along x and half its width along y.
    Box { half_x_m: f64, half_y_m: f64 },
}

/// Returns the shape of the footprint in the plan.
pub(super) fn widest(shape: &Shape) -> PlanShape {
    let (length_m, width_m) = shape.footprint_m();
    if shape.is_round() {
        circle(length_m)
    } else {
        oblong(length_m, width_m)
    }
}

/// Makes a rectangle; negative lengths count as 0.
fn oblong(length_m: f64, width_m: f64) -> PlanShape {
    PlanShape::Box {
        half_x_m: length_m.max(0.0) / 2.0,
        half_y_m: width_m.max(0.0) / 2.0,
    }
}

fn circle(diameter_m: f64) -> PlanShape {
    PlanShape::Round {
        radius_m: diameter_m.max(0.0) / 2.0,
    }
}

fn square(area_m2: f64) -> PlanShape {
    let side_m = area_m2.max(0.0).sqrt();
    oblong(side_m, side_m)
}

/// Returns the shape of the water surface at a depth above the floor.
pub(super) fn surface(shape: &Shape, depth_m: f64) -> PlanShape {
    match shape {
        Shape::Round { diameter_m } => circle(*diameter_m),
        Shape::Rectangular { length_m, width_m } => oblong(*length_m, *width_m),
        Shape::Prism { area_m2 } => square(*area_m2),
        Shape::ConeBottom {
            diameter_m,
            cone_height_m,
        } => circle(diameter_m * (depth_m / cone_height_m.max(1e-9)).clamp(0.0, 1.0)),
        Shape::LyingDrum {
            diameter_m,
            length_m,
        } => {
            let depth_m = depth_m.max(0.0).min(*diameter_m);
            let half_m = (depth_m * (diameter_m - depth_m)).max(0.0).sqrt();
            oblong(*length_m, 2.0 * half_m)
        }
        Shape::Table { rows } => square(area_at(rows, depth_m)),
    }
}

/// Returns the area at a depth, linear between the rows.
fn area_at(rows: &[TableRow], depth_m: f64) -> f64 {
    for pair in rows.windows(2) {
        if let [low, high] = pair
            && depth_m <= high.depth_m
        {
            let share = (depth_m - low.depth_m) / (high.depth_m - low.depth_m).max(1e-9);
            return low.area_m2 + (high.area_m2 - low.area_m2) * share.clamp(0.0, 1.0);
        }
    }
    rows.last().map_or(0.0, |row| row.area_m2)
}
