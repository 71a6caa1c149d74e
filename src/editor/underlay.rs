//! Scales the picture under the plan from two clicked points and their distance.

use crate::edit::EditError;
use crate::geometry::PlanPoint;
use crate::layout::Underlay;

/// Smallest distance between the points, as a share of the true one: below it, pointer error would set the scale.
const LEAST_SHARE: f64 = 1e-6;

/// Whether the picture turns while it is scaled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Turning {
    /// It keeps its rotation.
    #[default]
    AsItIs,
    /// It turns, by the smaller angle, until the line between the points is horizontal on the page.
    Level,
}

/// The next input.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Scaling {
    /// The first point.
    #[default]
    First,
    /// The second point.
    Second {
        /// The first, in the plan.
        first: PlanPoint,
    },
    /// The distance between them.
    Distance {
        /// The first, in the plan.
        first: PlanPoint,
        /// The second, in the plan.
        second: PlanPoint,
    },
}

impl Scaling {
    /// The next input after a click at this place of the plan. Once both points exist, another click moves the
    /// second; a click on the first point asks for the second again.
    #[must_use]
    pub fn clicked(self, at: PlanPoint) -> Scaling {
        match self {
            Scaling::First => Scaling::Second { first: at },
            Scaling::Second { first } | Scaling::Distance { first, .. } if first == at => {
                Scaling::Second { first }
            }
            Scaling::Second { first } | Scaling::Distance { first, .. } => {
                Scaling::Distance { first, second: at }
            }
        }
    }

    /// Instructions for the user.
    pub fn asks(self) -> &'static str {
        match self {
            Scaling::First => "Click one end of something whose length you know.",
            Scaling::Second { .. } => "Click its other end.",
            Scaling::Distance { .. } => "Type the distance between them.",
        }
    }

    /// The points so far, in the plan.
    pub fn points(self) -> Vec<PlanPoint> {
        match self {
            Scaling::First => Vec::new(),
            Scaling::Second { first } => vec![first],
            Scaling::Distance { first, second } => vec![first, second],
        }
    }

    /// The picture scaled so that the two points are `between_m` apart.
    ///
    /// # Errors
    /// A missing point, and the errors of [`scaled`].
    pub fn done(
        self,
        picture: &Underlay,
        between_m: f64,
        lie: Turning,
    ) -> Result<Underlay, EditError> {
        match self {
            Scaling::Distance { first, second } => scaled(picture, [first, second], between_m, lie),
            _ => Err(refused("two points are needed", "click both")),
        }
    }
}

/// Scales the picture, and turns it where asked, so that two points of it are `between_m` apart; the first stays
/// where it is. `points`: their present positions in the plan, metres.
///
/// # Errors
/// A distance that is not above 0 and finite, or two points in one place.
pub fn scaled(
    picture: &Underlay,
    points: [PlanPoint; 2],
    between_m: f64,
    lie: Turning,
) -> Result<Underlay, EditError> {
    let [first, second] = points;
    let (across_m, up_m) = (second.x_m - first.x_m, second.y_m - first.y_m);
    let now_m = across_m.hypot(up_m);
    if !between_m.is_finite() || between_m <= 0.0 {
        let what = "the distance must be a positive number";
        return Err(refused(
            what,
            "type the distance between the points, such as 4.2 m",
        ));
    }
    if !now_m.is_finite() || now_m <= LEAST_SHARE * between_m {
        let what = "the two points are in one place";
        return Err(refused(what, "click two points well apart on the picture"));
    }
    let larger = between_m / now_m;
    let turn_deg = match lie {
        Turning::AsItIs => 0.0,
        Turning::Level => level_turn_deg(across_m, up_m),
    };
    let (sin, cos) = turn_deg.to_radians().sin_cos();
    let (x_m, y_m) = (picture.at.x_m - first.x_m, picture.at.y_m - first.y_m);
    Ok(Underlay {
        at: PlanPoint {
            x_m: first.x_m + larger * (x_m * cos - y_m * sin),
            y_m: first.y_m + larger * (x_m * sin + y_m * cos),
        },
        metres_per_pixel: larger * picture.metres_per_pixel,
        turned_deg: within_a_turn(picture.turned_deg + turn_deg),
        ..picture.clone()
    })
}

/// A new picture: upright, `room_m` wide, its lower left corner at the lower left of the room.
pub fn laid(file: String, width: f64, corner: PlanPoint, room_m: f64) -> Underlay {
    Underlay {
        file,
        at: corner,
        metres_per_pixel: room_m / width.max(1.0),
        turned_deg: 0.0,
        strength: 0.5,
    }
}

/// The smaller turn that levels a line, −90 to 90 degrees.
fn level_turn_deg(across_m: f64, up_m: f64) -> f64 {
    let lies_deg = up_m.atan2(across_m).to_degrees();
    let folded = match lies_deg {
        lies if lies > 90.0 => lies - 180.0,
        lies if lies < -90.0 => lies + 180.0,
        lies => lies,
    };
    -folded
}

/// The same turn between −180 and 180 degrees.
fn within_a_turn(turned_deg: f64) -> f64 {
    let turned = turned_deg.rem_euclid(360.0);
    if turned > 180.0 {
        turned - 360.0
    } else {
        turned
    }
}

fn refused(what: &str, cure: &str) -> EditError {
    EditError {
        what: what.into(),
        part: None,
        cure: cure.into(),
    }
}
