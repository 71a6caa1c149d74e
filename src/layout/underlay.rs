//! A picture of the site that lies under the plan.

use crate::geometry::PlanPoint;
use serde::{Deserialize, Serialize};

/// A photo from above, or a scan of a drawing, laid under the plan at a scale.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Underlay {
    /// The file with the picture, PNG or JPEG, with `/` between folders; from the folder of the layout's own file,
    /// or from the root.
    pub file: String,
    /// Where its lower left corner lies in the plan.
    #[serde(default)]
    pub at: PlanPoint,
    /// What one dot of the picture covers in the plan, metres, 1e-6 to 1000.
    pub metres_per_pixel: f64,
    /// How far it is turned about its lower left corner, degrees anticlockwise, −360 to 360.
    #[serde(default)]
    pub turned_deg: f64,
    /// How strongly it is drawn: 0 not at all, 1 as it is.
    #[serde(default = "half")]
    pub strength: f64,
}

impl Underlay {
    /// Its four corners in the plan: lower left, lower right, upper right, upper left.
    /// `width` and `height` in dots.
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

/// So that the plan can be read on top of it.
fn half() -> f64 {
    0.5
}
