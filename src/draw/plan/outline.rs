//! Outlines of vessels in the plan, in metres.

use super::shapes::{PlanShape, widest};
use crate::draw::page::view::Bounds;
use crate::geometry::Corner;
use crate::layout::Vessel;

/// Position and outline of a vessel in the plan.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Outline {
    /// Its middle, at the height of its floor.
    pub middle: Corner,
    pub form: PlanShape,
    /// Cosine and sine of its rotation.
    turned: (f64, f64),
    pub rim_m: f64,
}

/// Number of corners of a circle treated as a polygon.
const PIECES: u32 = 64;

/// Makes a point in the plan at elevation 0.
pub(super) fn place(x_m: f64, y_m: f64) -> Corner {
    Corner::at(x_m, y_m, 0.0)
}

/// Returns the distance of two points in the plan, metres.
pub(super) fn apart_m(a: Corner, b: Corner) -> f64 {
    (a.x_m - b.x_m).hypot(a.y_m - b.y_m)
}

/// Returns the point at a share of the way between two points.
pub(super) fn between(from: Corner, to: Corner, share: f64) -> Corner {
    let on = |from: f64, to: f64| from + (to - from) * share;
    Corner::at(
        on(from.x_m, to.x_m),
        on(from.y_m, to.y_m),
        on(from.z_m, to.z_m),
    )
}

impl Outline {
    pub fn of(part: &Vessel, middle: Corner) -> Outline {
        let angle = part.place.turned_deg.to_radians();
        Outline {
            middle: Corner {
                z_m: part.floor_m,
                ..middle
            },
            form: widest(&part.shape),
            turned: (angle.cos(), angle.sin()),
            rim_m: part.rim_m,
        }
    }

    /// Converts coordinates along and across the vessel to a point in the plan.
    fn out(&self, along_m: f64, across_m: f64) -> Corner {
        let (cos, sin) = self.turned;
        Corner::at(
            self.middle.x_m + along_m * cos - across_m * sin,
            self.middle.y_m + along_m * sin + across_m * cos,
            self.middle.z_m,
        )
    }

    /// Converts a point in the plan to coordinates along and across the vessel.
    fn inwards(&self, at: Corner) -> (f64, f64) {
        let (cos, sin) = self.turned;
        let (dx, dy) = (at.x_m - self.middle.x_m, at.y_m - self.middle.y_m);
        (dx * cos + dy * sin, dy * cos - dx * sin)
    }

    /// Returns the corners of a shape around the middle of the vessel, in order; a circle as a polygon.
    pub fn corners(&self, form: PlanShape) -> Vec<Corner> {
        match form {
            PlanShape::Round { radius_m } => self.round(radius_m, PIECES),
            PlanShape::Box { half_x_m, half_y_m } => {
                [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
                    .map(|(along, across)| self.out(along * half_x_m, across * half_y_m))
                    .to_vec()
            }
        }
    }

    /// Returns a circle around the middle as a polygon with `pieces` corners.
    pub fn round(&self, radius_m: f64, pieces: u32) -> Vec<Corner> {
        let step = std::f64::consts::TAU / f64::from(pieces.max(3));
        (0..pieces.max(3))
            .map(|index| (f64::from(index) * step).sin_cos())
            .map(|(sin, cos)| self.out(radius_m * cos, radius_m * sin))
            .collect()
    }

    /// Returns its bounding rectangle.
    pub fn bounds(&self) -> Bounds {
        let (cos, sin) = (self.turned.0.abs(), self.turned.1.abs());
        let (half_x, half_y) = match self.form {
            PlanShape::Round { radius_m } => (radius_m, radius_m),
            PlanShape::Box { half_x_m, half_y_m } => (
                half_x_m * cos + half_y_m * sin,
                half_x_m * sin + half_y_m * cos,
            ),
        };
        Bounds {
            left_m: self.middle.x_m - half_x,
            right_m: self.middle.x_m + half_x,
            low_m: self.middle.y_m - half_y,
            high_m: self.middle.y_m + half_y,
        }
    }

    /// Returns whether a point lies in a shape around the middle of the vessel, or on its edge.
    pub fn holds(&self, form: PlanShape, at: Corner) -> bool {
        let (along, across) = self.inwards(at);
        match form {
            PlanShape::Round { radius_m } => along.hypot(across) <= radius_m,
            PlanShape::Box { half_x_m, half_y_m } => {
                along.abs() <= half_x_m && across.abs() <= half_y_m
            }
        }
    }

    /// Returns the part of a line that lies inside, as shares of the line; exact, and `None` if it only touches.
    pub fn inside(&self, from: Corner, to: Corner) -> Option<(f64, f64)> {
        let (ax, ay) = self.inwards(from);
        let (bx, by) = self.inwards(to);
        let (dx, dy) = (bx - ax, by - ay);
        let (enter, leave) = match self.form {
            PlanShape::Round { radius_m } => in_circle((ax, ay), (dx, dy), radius_m)?,
            PlanShape::Box { half_x_m, half_y_m } => {
                let (a, b) = in_strip(ax, dx, half_x_m)?;
                let (c, d) = in_strip(ay, dy, half_y_m)?;
                (a.max(c), b.min(d))
            }
        };
        let (enter, leave) = (enter.max(0.0), leave.min(1.0));
        (enter < leave).then_some((enter, leave))
    }

    /// Returns the point on the wall nearest to `at`.
    pub fn nearest_wall(&self, at: Corner) -> Corner {
        let (along, across) = self.inwards(at);
        let (along, across) = match self.form {
            PlanShape::Round { radius_m } => {
                let off = along.hypot(across);
                let by = radius_m / off.max(1e-12);
                if off > 1e-12 {
                    (along * by, across * by)
                } else {
                    (radius_m, 0.0)
                }
            }
            PlanShape::Box { half_x_m, half_y_m } => {
                let (x, y) = (
                    along.clamp(-half_x_m, half_x_m),
                    across.clamp(-half_y_m, half_y_m),
                );
                let (to_x, to_y) = (half_x_m - x.abs(), half_y_m - y.abs());
                let outside = x != along || y != across;
                if outside {
                    (x, y)
                } else if to_x < to_y {
                    (half_x_m.copysign(x), y)
                } else {
                    (x, half_y_m.copysign(y))
                }
            }
        };
        self.out(along, across)
    }

    /// Returns the unit vector along the wall nearest to `at`, in metres.
    pub fn along_wall(&self, at: Corner) -> (f64, f64) {
        let (along, across) = self.inwards(at);
        let (cos, sin) = self.turned;
        let (x, y) = match self.form {
            PlanShape::Round { .. } => {
                let off = along.hypot(across).max(1e-12);
                (-across / off, along / off)
            }
            PlanShape::Box { half_x_m, half_y_m } => {
                if half_x_m - along.abs() < half_y_m - across.abs() {
                    (0.0, 1.0)
                } else {
                    (1.0, 0.0)
                }
            }
        };
        (x * cos - y * sin, x * sin + y * cos)
    }
}

/// Returns the part of the line from `a` by `d` that lies in a circle around the origin.
fn in_circle(from: (f64, f64), step: (f64, f64), radius: f64) -> Option<(f64, f64)> {
    let (ax, ay) = from;
    let (dx, dy) = step;
    let length2 = dx * dx + dy * dy;
    let start2 = ax * ax + ay * ay - radius * radius;
    if length2 <= 0.0 {
        return (start2 < 0.0).then_some((0.0, 1.0));
    }
    let half = ax * dx + ay * dy;
    let root2 = half * half - length2 * start2;
    if root2 <= 0.0 {
        return None;
    }
    let root = root2.sqrt();
    Some(((-half - root) / length2, (root - half) / length2))
}

/// Returns the part of the line from `a` by `d` that lies between −`half` and `half`.
fn in_strip(a: f64, d: f64, half: f64) -> Option<(f64, f64)> {
    if d == 0.0 {
        return (a.abs() < half).then_some((f64::NEG_INFINITY, f64::INFINITY));
    }
    let (first, last) = ((-half - a) / d, (half - a) / d);
    Some((first.min(last), first.max(last)))
}
