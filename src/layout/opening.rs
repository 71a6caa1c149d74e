//! Openings: where a run meets a vessel or a fixed level.

use serde::{Deserialize, Serialize};

/// Which way an open end faces.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Turned {
    /// Sideways.
    #[default]
    Horizontal,
    /// An upturned lip.
    Up,
    /// A downturned mouth.
    Down,
}

/// How a mouth is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Edge {
    /// As the layout has it: its own coefficients.
    #[default]
    Plain,
    /// Flush with the wall, square.
    Flush,
    /// Flush, rounded or bevelled.
    Rounded,
    /// A thin pipe that stands out from the wall.
    Projecting,
    /// A socket that faces the water.
    Groove,
    /// Cut off along a slope.
    Mitred,
}

impl Edge {
    /// Every one, in the order in which they are offered.
    pub const ALL: [Edge; 6] = [
        Edge::Plain,
        Edge::Flush,
        Edge::Rounded,
        Edge::Projecting,
        Edge::Groove,
        Edge::Mitred,
    ];

    /// The layout's own coefficients count.
    pub fn is_plain(&self) -> bool {
        *self == Edge::Plain
    }

    /// In words of the trade.
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

/// The opening of a run at one of its ends. Heights are elevations above the
/// datum; a bore that is not given is the run's own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Opening {
    /// A standing pipe with its open lip at the crest.
    Upstand {
        /// Height of the lip, metres.
        crest_m: f64,
        /// Inside bore of the lip (a bell has its own), metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
    },
    /// A hole in the wall.
    SideHole {
        /// Bottom of the inside of the hole, metres.
        invert_m: f64,
        /// Inside bore, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
    },
    /// An outlet in the floor.
    Floor {
        /// Height of its lip, metres; else the vessel's floor.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lip_m: Option<f64>,
        /// Inside bore, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
    },
    /// An open end of pipe, in air or under water: a return, a suction.
    Mouth {
        /// Height of its lip (the invert of a horizontal one), metres.
        lip_m: f64,
        /// Which way it faces.
        #[serde(default)]
        turned: Turned,
        /// Inside bore, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
        /// It is meant to stay in air, and nothing is ever drawn back through it.
        #[serde(default)]
        air_gap: bool,
    },
    /// An opening deep enough that nothing limits what it takes in.
    Submerged {
        /// Its height, metres: the least level it discharges against; else none.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lip_m: Option<f64>,
        /// Inside bore, metres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        bore_m: Option<f64>,
    },
    /// An overflow that draws from near the floor, lifts over a crest and falls again.
    RaisedIntake {
        /// Lip of its intake, metres.
        intake_m: f64,
        /// The crest, metres: what the builder sets.
        crest_m: f64,
        /// What stands at the crest.
        #[serde(default)]
        crest: CrestKind,
        /// The leg that rises from the intake to the crest.
        #[serde(default)]
        rise: Rise,
        /// The vent over the crest.
        #[serde(default)]
        vent: Vent,
    },
    /// A notch cut into the wall from above.
    Notch {
        /// Height of its crest, or of the point of a vee, metres.
        crest_m: f64,
        /// Its shape.
        shape: NotchShape,
        /// Coefficient of the plain weir law in place of the thin-plate law of the standard.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        weir: Option<f64>,
    },
}

/// The shape of a notch.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum NotchShape {
    /// A level crest between upright cheeks.
    Rectangular {
        /// Its width, metres.
        width_m: f64,
        /// Width of the channel that leads to it, metres; none: so wide that it does not count.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        channel_m: Option<f64>,
    },
    /// A vee standing on its point.
    Vee {
        /// The angle between its edges, degrees.
        angle_deg: f64,
    },
}

/// What water crosses at the top of a raised-intake overflow.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CrestKind {
    /// The invert of a tee's branch: the side-hole law.
    #[default]
    Tee,
    /// An open cup: the upstand law.
    Cup,
}

/// The rising leg of a raised-intake overflow.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Rise {
    /// Its length, metres; else from intake to crest.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length_m: Option<f64>,
    /// Its bore, metres; else the run's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bore_m: Option<f64>,
    /// Its roughness, metres; else the run's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roughness_m: Option<f64>,
    /// Everything it loses beside friction; else its entrance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub total_k: Option<f64>,
}

/// The vent over the crest of a raised-intake overflow.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Vent {
    /// Open to the air, with no height given: water never leaves there.
    #[default]
    Open,
    /// An open pipe up to this height, over which water leaves.
    OpenTo {
        /// Top of the vent, metres.
        top_m: f64,
    },
    /// Shut or missing.
    Shut,
}

impl Opening {
    /// The height that the opening starts to pass water (crest, invert, lip), where it has one.
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

    /// What people call that height.
    pub fn height_word(&self) -> &'static str {
        match self {
            Opening::Upstand { .. } | Opening::RaisedIntake { .. } | Opening::Notch { .. } => {
                "crest"
            }
            Opening::SideHole { .. } => "invert",
            Opening::Floor { .. } | Opening::Mouth { .. } | Opening::Submerged { .. } => "lip",
        }
    }

    /// Its own bore, where it has one.
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
