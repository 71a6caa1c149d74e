//! A picture of the site that lies under the plan.

use crate::geometry::PlanPoint;
use serde::{Deserialize, Serialize};

/// A photo from above, or a scan of a drawing, laid under the plan at a scale.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Underlay {
    /// Picture file, PNG or JPEG, with `/` between folders; relative to the folder of the layout file, or absolute.
    pub file: String,
    /// Position of its lower left corner in the plan.
    #[serde(default)]
    pub at: PlanPoint,
    /// Size of one pixel in the plan, metres, 1e-6 to 1000.
    pub metres_per_pixel: f64,
    /// Rotation about its lower left corner, degrees anticlockwise, −360 to 360.
    #[serde(default)]
    pub turned_deg: f64,
    /// Opacity: 0 invisible, 1 opaque.
    #[serde(default = "half")]
    pub strength: f64,
}

impl Underlay {
    /// Returns its four corners in the plan: lower left, lower right, upper right, upper left. `width` and `height` are
    /// in pixels.
    pub fn corners(&self, width: f64, height: f64) -> [PlanPoint; 4] {
        let (sin, cos) = self.turned_deg.to_radians().sin_cos();
        [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)].map(|(right, up)| {
            let (right_m, up_m) = (right * self.metres_per_pixel, up * self.metres_per_pixel);
            PlanPoint {
                x_m: self.at.x_m + right_m * cos - up_m * sin,
                y_m: self.at.y_m + right_m * sin + up_m * cos,
            }
        })
    }
}

/// Half opacity keeps the plan readable on top of the picture.
fn half() -> f64 {
    0.5
}
