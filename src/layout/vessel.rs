//! Vessels, joints and fixed levels: where runs end.

use super::Id;
use serde::{Deserialize, Serialize};

/// Purpose of a vessel. The check is stricter for some roles than for others.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Tank that keeps animals, or any other tank.
    #[default]
    Tank,
    /// Settling tank, in which solids sink.
    Settler,
    /// Filter that holds solids back.
    Filter,
    /// Tower that water trickles down through.
    Tower,
    /// Bed that plants grow in.
    Bed,
    /// The lowest vessel, from which the pump draws.
    Sump,
    /// The highest vessel, from which water falls.
    Header,
    /// Open water, dug in or free-standing.
    Pond,
    /// Source of water.
    Supply,
    /// Discharge of water.
    Waste,
}

/// Plan shape of a vessel; heights are in [`Vessel::floor_m`] and [`Vessel::rim_m`].
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Shape {
    /// A round tank with straight walls.
    Round {
        /// Inside diameter, metres.
        diameter_m: f64,
    },
    /// A rectangular tank with straight walls.
    Rectangular {
        /// Inside length, metres.
        length_m: f64,
        /// Inside width, metres.
        width_m: f64,
    },
    /// Any straight-walled tank, by its plan area.
    Prism {
        /// Plan area, m².
        area_m2: f64,
    },
    /// A full cone with its tip at the floor and a cylinder above it.
    ConeBottom {
        /// Inside diameter of the cylinder, metres.
        diameter_m: f64,
        /// Height of the cone, metres.
        cone_height_m: f64,
    },
    /// A round drum lying on its side, with its lowest line at the floor.
    LyingDrum {
        /// Inside diameter, metres.
        diameter_m: f64,
        /// Inside length, metres.
        length_m: f64,
    },
    /// Plan area by depth, linear between the rows and constant above the last.
    Table {
        /// Rows with rising depth, the first at depth 0.
        rows: Vec<TableRow>,
    },
}

impl Shape {
    /// Returns the size of the footprint in the plan: length and width, metres. A shape given only by its area counts
    /// as a square; a table counts by its largest area.
    pub fn footprint_m(&self) -> (f64, f64) {
        let square = |area_m2: f64| (area_m2.max(0.0).sqrt(), area_m2.max(0.0).sqrt());
        match self {
            Shape::Round { diameter_m } | Shape::ConeBottom { diameter_m, .. } => {
                (*diameter_m, *diameter_m)
            }
            Shape::Rectangular { length_m, width_m } => (*length_m, *width_m),
            Shape::Prism { area_m2 } => square(*area_m2),
            Shape::LyingDrum {
                diameter_m,
                length_m,
            } => (*length_m, *diameter_m),
            Shape::Table { rows } => square(rows.iter().map(|row| row.area_m2).fold(0.0, f64::max)),
        }
    }

    /// Returns whether it is a circle in the plan.
    pub fn is_round(&self) -> bool {
        matches!(self, Shape::Round { .. } | Shape::ConeBottom { .. })
    }
}

/// One row of a level–area table.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TableRow {
    /// Depth above the floor, metres.
    pub depth_m: f64,
    /// Plan area of the water there, m².
    pub area_m2: f64,
}

/// Gravel, mats or beads that fill part of a vessel.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Medium {
    /// Elevation of its top, metres above the datum.
    pub top_m: f64,
    /// Share of the volume that water can fill, above 0 and at most 1.
    pub porosity: f64,
}

/// A float valve that lets water in from outside while the level is low.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FloatValve {
    /// Level at which it is shut, metres above the datum.
    pub shut_m: f64,
    /// Level at which it is fully open, metres above the datum; under `shut_m`.
    pub open_m: f64,
    /// Inflow when fully open, m³/s.
    pub flow_m3_s: f64,
    /// Lowest point of its outlet, metres above the datum; `None`: not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outlet_m: Option<f64>,
    /// Whether its water comes from a supply that must be protected from backflow.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub drinking_water: bool,
}

impl FloatValve {
    /// Returns the inflow at a level, m³/s: all of `flow_m3_s` up to `open_m`, none from `shut_m` up, linear between.
    pub fn flow_at_m3_s(&self, level_m: f64) -> f64 {
        let band_m = self.shut_m - self.open_m;
        if level_m >= self.shut_m {
            0.0
        } else if level_m <= self.open_m || band_m <= 0.0 {
            self.flow_m3_s
        } else {
            self.flow_m3_s * (self.shut_m - level_m) / band_m
        }
    }
}

/// Position of a part on the drawings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Place {
    /// Distance to the right in the plan, metres.
    pub x_m: f64,
    /// Distance up the page in the plan, metres.
    pub y_m: f64,
    /// Distance from the staff along the section, metres.
    pub along_m: f64,
    /// Rotation of a vessel in the plan about its middle, degrees, anticlockwise seen from above.
    #[serde(skip_serializing_if = "is_zero")]
    pub turned_deg: f64,
}

// serde passes the value by reference.
#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_zero(value: &f64) -> bool {
    *value == 0.0
}

/// Anything with a free surface that holds water.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Vessel {
    /// Stable id.
    pub id: Id,
    /// Name of the vessel.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Purpose of the vessel.
    #[serde(default)]
    pub role: Role,
    /// Plan shape.
    pub shape: Shape,
    /// Inside bottom, metres above the datum.
    pub floor_m: f64,
    /// Level at which it spills, metres above the datum.
    pub rim_m: f64,
    /// Level it is filled to before anything runs, metres above the datum.
    pub fill_m: f64,
    /// Gravel, mats or beads in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub medium: Option<Medium>,
    /// Length of rim that water can spill over, metres; `None`: from the shape. 0: it never spills.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rim_perimeter_m: Option<f64>,
    /// Part that receives what spills; `None`: the water is lost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spills_to: Option<Id>,
    /// Constant inflow from outside, negative for outflow, m³/s.
    #[serde(default)]
    pub make_up_m3_s: f64,
    /// Lowest point of the outlet of the constant inflow, metres above the datum; `None`: not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make_up_outlet_m: Option<f64>,
    /// Whether the constant inflow comes from a supply that must be protected from backflow.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub make_up_drinking_water: bool,
    /// A float valve that lets water in from outside while the level is low.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub float_valve: Option<FloatValve>,
    /// Whether it is under a roof: no rain falls on it and nothing evaporates; what `catch_area_m2` catches still runs
    /// in.
    #[serde(default)]
    pub under_cover: bool,
    /// Area that catches rain for it, m²; `None`: its open area.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub catch_area_m2: Option<f64>,
    /// Required changes of its water per hour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted_turnover_per_h: Option<f64>,
    /// Position on the drawings.
    #[serde(default)]
    pub place: Place,
    /// Whether it is already built; proposals leave it unchanged.
    #[serde(default)]
    pub already_built: bool,
}

/// A point where runs meet with no free surface: a tee, a manifold.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// Stable id.
    pub id: Id,
    /// Name of the joint.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Elevation of its centre, metres above the datum.
    pub elevation_m: f64,
    /// Constant inflow from outside, negative for outflow, m³/s.
    #[serde(default)]
    pub make_up_m3_s: f64,
    /// Whether the constant inflow comes from a supply that must be protected from backflow.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub make_up_drinking_water: bool,
    /// Whether it is vented: air gets in and out of the runs here.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub vented: bool,
    /// Top of the vent, metres above the datum: water leaves over it. `None`: at the pipe itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vent_top_m: Option<f64>,
    /// Position on the drawings.
    #[serde(default)]
    pub place: Place,
}

/// Purpose of a fixed level.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FixedRole {
    /// Source of water.
    #[default]
    Supply,
    /// Discharge of water.
    Waste,
}

/// A level that the system does not change: a lake, a mains tank, a ditch.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fixed {
    /// Stable id.
    pub id: Id,
    /// Name of the fixed level.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// Purpose of the fixed level.
    #[serde(default)]
    pub role: FixedRole,
    /// Its level, metres above the datum.
    pub level_m: f64,
    /// Whether its water comes from a supply that must be protected from backflow.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub drinking_water: bool,
    /// Position on the drawings.
    #[serde(default)]
    pub place: Place,
}
