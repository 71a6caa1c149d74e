//! Openings: where a run meets a vessel or a fixed level.

use serde::{Deserialize, Serialize};

/// Direction that an open end faces.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Turned {
    /// Sideways.
    #[default]
    Horizontal,
    /// Upwards, as a lip.
    Up,
    /// Downwards, as a mouth.
    Down,
}

/// Edge of a mouth.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Edge {
    /// Uses the coefficients of the layout.
    #[default]
    Plain,
    /// Flush with the wall and square.
    Flush,
    /// Flush, rounded or bevelled.
    Rounded,
    /// Thin pipe that projects from the wall.
    Projecting,
    /// Socket that faces the water.
    Groove,
    /// Cut off at a slant.
    Mitred,
}

impl Edge {
    /// All edges, in the order in which they are offered.
    pub const ALL: [Edge; 6] = [
        Edge::Plain,
        Edge::Flush,
        Edge::Rounded,
        Edge::Projecting,
        Edge::Groove,
        Edge::Mitred,
    ];

    /// Returns whether the coefficients of the layout apply.
    pub fn is_plain(&self) -> bool {
        *self == Edge::Plain
    }

    /// Returns the label of the edge.
    pub fn words(self) -> &'static str {
        match self {
            Edge::Plain => "The layout's default",
            Edge::Flush => "Flush, square",
            Edge::Rounded => "Rounded or bevelled",
            Edge::Projecting => "Projecting, thin",
            Edge::Groove => "Socket, facing the water",
            Edge::Mitred => "Mitred",
        }
    }
}

/// Opening of a run at one of its ends. Heights are elevations above the datum; where no bore is given, the bore of the
/// run applies.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Opening {
    /// A standing pipe with its open lip at the crest.
    Upstand {
        /// Elevation of the lip, metres.
        crest_m: f64,
        /// Inside bore of the lip, metres; a bell is wider than its pipe.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
    },
    /// A hole in the wall.
    SideHole {
        /// Invert of the hole, metres.
        invert_m: f64,
        /// Inside bore, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
    },
    /// An outlet in the floor.
    Floor {
        /// Elevation of its lip, metres; `None`: the floor of the vessel.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lip_m: Option<f64>,
        /// Inside bore, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
    },
    /// An open end of pipe, in air or under water, such as a return or a suction.
    Mouth {
        /// Elevation of its lip (the invert of a horizontal mouth), metres.
        lip_m: f64,
        /// Direction it faces.
        #[serde(default)]
        turned: Turned,
        /// Inside bore, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
        /// Whether it is meant to stay in air, so that nothing is ever drawn back through it.
        #[serde(default)]
        air_gap: bool,
    },
    /// An opening so deep that it does not limit the flow.
    Submerged {
        /// Its elevation, metres: the lowest level it discharges against; `None`: no lowest level.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lip_m: Option<f64>,
        /// Inside bore, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
    },
    /// An overflow that draws near the floor, rises over a crest and falls again.
    RaisedIntake {
        /// Elevation of the intake lip, metres.
        intake_m: f64,
        /// Elevation of the crest, metres: what the builder sets.
        crest_m: f64,
        /// What forms the crest.
        #[serde(default)]
        crest: CrestKind,
        /// Leg that rises from the intake to the crest.
        #[serde(default)]
        rise: Rise,
        /// Vent over the crest.
        #[serde(default)]
        vent: Vent,
    },
    /// A notch cut into the wall from above.
    Notch {
        /// Elevation of its crest, or of the point of a vee, metres.
        crest_m: f64,
        /// Its shape.
        shape: NotchShape,
        /// Coefficient of the plain weir law, which then replaces the thin-plate law of the standard.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        weir: Option<f64>,
    },
}

/// Shape of a notch.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum NotchShape {
    /// A level crest between vertical sides.
    Rectangular {
        /// Its width, metres.
        width_m: f64,
        /// Width of the approach channel, metres; `None`: so wide that it has no effect.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        channel_m: Option<f64>,
    },
    /// A vee with its point down.
    Vee {
        /// Angle between its edges, degrees.
        angle_deg: f64,
    },
}

/// What water crosses at the top of a raised-intake overflow.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CrestKind {
    /// The invert of a tee's branch; uses the side-hole law.
    #[default]
    Tee,
    /// An open cup; uses the upstand law.
    Cup,
}

/// Rising leg of a raised-intake overflow.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Rise {
    /// Length, metres; `None`: from intake to crest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_m: Option<f64>,
    /// Bore, metres; `None`: that of the run.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bore_m: Option<f64>,
    /// Roughness, metres; `None`: that of the run.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roughness_m: Option<f64>,
    /// Total loss coefficient apart from friction; `None`: the entrance only.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub total_k: Option<f64>,
}

/// Vent over the crest of a raised-intake overflow.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Vent {
    /// Open to the air, with no height given: water never leaves by it.
    #[default]
    Open,
    /// Open pipe up to this elevation, over which water leaves.
    OpenTo {
        /// Top of the vent, metres.
        top_m: f64,
    },
    /// Shut or missing.
    Shut,
}

impl Opening {
    /// Returns the elevation at which the opening starts to pass water (crest, invert or lip), if it has one.
    pub fn crest_m(&self) -> Option<f64> {
        match self {
            Opening::Upstand { crest_m, .. }
            | Opening::RaisedIntake { crest_m, .. }
            | Opening::Notch { crest_m, .. } => Some(*crest_m),
            Opening::SideHole { invert_m, .. } => Some(*invert_m),
            Opening::Floor { lip_m, .. } | Opening::Submerged { lip_m, .. } => *lip_m,
            Opening::Mouth { lip_m, .. } => Some(*lip_m),
        }
    }

    /// Returns the name of that height.
    pub fn height_word(&self) -> &'static str {
        match self {
            Opening::Upstand { .. } | Opening::RaisedIntake { .. } | Opening::Notch { .. } => {
                "crest"
            }
            Opening::SideHole { .. } => "invert",
            Opening::Floor { .. } | Opening::Mouth { .. } | Opening::Submerged { .. } => "lip",
        }
    }

    /// Returns the bore of the opening, if it is given.
    pub fn bore_m(&self) -> Option<f64> {
        match self {
            Opening::Upstand { bore_m, .. }
            | Opening::SideHole { bore_m, .. }
            | Opening::Floor { bore_m, .. }
            | Opening::Mouth { bore_m, .. }
            | Opening::Submerged { bore_m, .. } => *bore_m,
            Opening::RaisedIntake { .. } | Opening::Notch { .. } => None,
        }
    }
}
