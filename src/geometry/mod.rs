//! Points and lengths in the plan.
//!
//! Invariant: knows nothing but numbers in metres; no part, no pixel.

mod overlap;

pub use overlap::{overlap, overlap_m};

use serde::{Deserialize, Serialize};

/// A place in the plan (x to the right, y up the page) with its elevation, in metres; as a corner of a run it may
/// be vented.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Corner {
    /// Metres to the right in the plan.
    pub x_m: f64,
    /// Metres up the page in the plan.
    pub y_m: f64,
    /// Elevation above the layout datum, metres.
    pub z_m: f64,
    /// Air gets in and out of the run here.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub vented: bool,
    /// Top of the vent, metres above the datum: water leaves over it. None: at the pipe itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vent_top_m: Option<f64>,
}

/// A place in the plan without a height, metres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlanPoint {
    /// Metres to the right.
    pub x_m: f64,
    /// Metres up the page.
    pub y_m: f64,
}

impl Corner {
    /// A place without a vent: metres to the right, metres up the page, elevation above the datum in metres.
    pub const fn at(x_m: f64, y_m: f64, z_m: f64) -> Corner {
        Corner {
            x_m,
            y_m,
            z_m,
            vented: false,
            vent_top_m: None,
        }
    }

    /// Straight distance to `other`, metres.
    pub fn distance_m(self, other: Corner) -> f64 {
        let (dx, dy, dz) = (
            other.x_m - self.x_m,
            other.y_m - self.y_m,
            other.z_m - self.z_m,
        );
        (dx * dx + dy * dy + dz * dz).sqrt()
    }
}

/// Position of each corner along the line through all `corners`, as a share of its length; evenly spread where the line
/// has no length.
pub fn route_shares(corners: &[Corner]) -> Vec<f64> {
    let steps = corners.windows(2).map(|pair| match *pair {
        [from, to] => from.distance_m(to),
        _ => 0.0,
    });
    shares(steps.collect())
}

/// Returns the cumulative shares of the steps, from 0 to 1, one more than there are steps; evenly spread where their
/// sum is not above 0.
pub fn shares(mut steps: Vec<f64>) -> Vec<f64> {
    let mut total: f64 = steps.iter().sum();
    if !(total.is_finite() && total > 0.0) {
        steps.iter_mut().for_each(|step| *step = 1.0);
        total = steps.iter().sum();
    }
    let mut gone = 0.0;
    let mut all = vec![0.0];
    for step in steps {
        gone += step;
        all.push((gone / total).min(1.0));
    }
    all
}

/// Length of the line through all `corners` in order, metres; 0 for fewer than two.
pub fn route_length_m(corners: &[Corner]) -> f64 {
    corners
        .windows(2)
        .map(|pair| pair[0].distance_m(pair[1]))
        .sum()
}
