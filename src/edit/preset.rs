//! The shelf: common vessels to begin with. Every dimension can be changed afterwards.
//!
//! Sizes are those of common products, rounded: common practice, no source. Measure what stands on the site.

use super::intent::shift::tidy;
use crate::layout::{Id, Medium, Place, Role, Shape, TableRow, Vessel};

/// A vessel on the shelf.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Preset {
    /// A round tank.
    RoundTank,
    /// A rectangular bed with gravel.
    Bed,
    /// A cube of 1000 litres with its top cut open.
    Cube,
    /// A standing barrel of 200 litres with its lid cut out.
    Barrel,
    /// A round tank with a cone under it, for settling.
    ConeBottom,
    /// A long trough.
    Trough,
    /// A pond with sloping banks, dug in.
    Pond,
    /// A low tank from which a pump draws.
    Sump,
    /// A high tank from which water falls.
    Header,
    /// A vessel defined by a table of depth and area.
    OwnTable,
}

impl Preset {
    /// All of them in the order of the shelf.
    pub const ALL: [Preset; 10] = [
        Preset::RoundTank,
        Preset::Bed,
        Preset::Cube,
        Preset::Barrel,
        Preset::ConeBottom,
        Preset::Trough,
        Preset::Pond,
        Preset::Sump,
        Preset::Header,
        Preset::OwnTable,
    ];

    /// Its label on the shelf.
    pub fn words(self) -> &'static str {
        match self {
            Preset::RoundTank => "Round tank",
            Preset::Bed => "Bed",
            Preset::Cube => "1000 L cube",
            Preset::Barrel => "Barrel",
            Preset::ConeBottom => "Cone-bottom tank",
            Preset::Trough => "Trough",
            Preset::Pond => "Pond",
            Preset::Sump => "Sump",
            Preset::Header => "Header",
            Preset::OwnTable => "Vessel by table",
        }
    }

    /// Its tooltip.
    pub fn tip(self) -> &'static str {
        match self {
            Preset::RoundTank => "A round tank with upright walls, 1.2 m wide and 0.75 m deep",
            Preset::Bed => "A rectangular bed with gravel, 2.0 m by 1.0 m and 0.3 m deep",
            Preset::Cube => {
                "A cube of 1000 litres with its top cut open, 1.1 m by 0.95 m and 0.96 m deep inside"
            }
            Preset::Barrel => "A standing barrel of about 200 litres with its lid cut out",
            Preset::ConeBottom => "A round tank with a cone below, in which solids settle",
            Preset::Trough => "A long trough, 2.0 m by 0.5 m and 0.4 m deep",
            Preset::Pond => "A pond with sloping banks, dug in",
            Preset::Sump => "The lowest vessel, from which the pump draws, on the ground",
            Preset::Header => "The highest vessel, from which water falls, 2 m up",
            Preset::OwnTable => "A vessel of any shape, by a table of depth and water area",
        }
    }

    /// The stem of the names of new vessels.
    pub fn stem(self) -> &'static str {
        match self {
            Preset::RoundTank | Preset::ConeBottom => "Tank",
            Preset::Cube => "Cube",
            Preset::OwnTable => "Vessel",
            Preset::Bed
            | Preset::Barrel
            | Preset::Trough
            | Preset::Pond
            | Preset::Sump
            | Preset::Header => self.words(),
        }
    }

    fn role(self) -> Role {
        match self {
            Preset::RoundTank | Preset::Cube | Preset::Barrel | Preset::OwnTable => Role::Tank,
            Preset::Bed | Preset::Trough => Role::Bed,
            Preset::ConeBottom => Role::Settler,
            Preset::Pond => Role::Pond,
            Preset::Sump => Role::Sump,
            Preset::Header => Role::Header,
        }
    }

    fn shape(self) -> Shape {
        let rectangular = |length_m, width_m| Shape::Rectangular { length_m, width_m };
        let row = |depth_m, area_m2| TableRow { depth_m, area_m2 };
        match self {
            Preset::RoundTank => Shape::Round { diameter_m: 1.2 },
            Preset::Bed => rectangular(2.0, 1.0),
            Preset::Cube => rectangular(1.1, 0.95),
            Preset::Barrel | Preset::Header => Shape::Round { diameter_m: 0.57 },
            Preset::ConeBottom => Shape::ConeBottom {
                diameter_m: 0.9,
                cone_height_m: 0.45,
            },
            Preset::Trough => rectangular(2.0, 0.5),
            Preset::Pond => Shape::Table {
                rows: vec![row(0.0, 2.0), row(0.3, 4.0), row(0.75, 7.0)],
            },
            Preset::Sump => rectangular(1.2, 0.8),
            Preset::OwnTable => Shape::Table {
                rows: vec![row(0.0, 0.5), row(0.5, 1.0)],
            },
        }
    }

    /// Floor and inside depth, metres.
    fn heights(self) -> (f64, f64) {
        match self {
            Preset::RoundTank => (0.9, 0.75),
            Preset::Bed => (0.6, 0.3),
            Preset::Cube => (0.15, 0.96),
            Preset::Barrel => (0.15, 0.86),
            Preset::ConeBottom => (0.6, 1.05),
            Preset::Trough => (0.6, 0.4),
            Preset::Pond => (-0.75, 0.75),
            Preset::Sump => (0.0, 0.5),
            Preset::Header => (2.0, 0.86),
            Preset::OwnTable => (0.5, 0.5),
        }
    }

    /// The default floor, metres above the datum.
    pub fn floor_m(self) -> f64 {
        self.heights().0
    }

    /// The height of its walls, metres.
    pub fn depth_m(self) -> f64 {
        self.heights().1
    }

    /// Its size in the plan: length and width, metres.
    pub fn footprint_m(self) -> (f64, f64) {
        self.shape().footprint_m()
    }

    /// The vessel with this floor and centre, without name and id.
    pub fn vessel(self, floor_m: f64, place: Place) -> Vessel {
        let depth_m = self.depth_m();
        let rim_m = floor_m + depth_m;
        // Filled to 0.1 m below the rim, or less in a shallow vessel; a sump has room for the drain-back.
        let free_m = match self {
            Preset::Sump => 0.35 * depth_m,
            _ => 0.1_f64.min(0.2 * depth_m),
        };
        let gravel = self.role() == Role::Bed && self == Preset::Bed;
        Vessel {
            id: Id::default(),
            name: String::new(),
            role: self.role(),
            shape: self.shape(),
            floor_m,
            rim_m: tidy(rim_m),
            fill_m: tidy(rim_m - free_m),
            // Washed gravel: two fifths of it is water (common practice, no source).
            medium: gravel.then(|| Medium {
                top_m: tidy(rim_m - 0.03),
                porosity: 0.4,
            }),
            rim_perimeter_m: None,
            spills_to: None,
            make_up_m3_s: 0.0,
            make_up_outlet_m: None,
            make_up_drinking_water: false,
            float_valve: None,
            under_cover: false,
            catch_area_m2: None,
            wanted_turnover_per_h: None,
            place,
            already_built: false,
        }
    }

    /// The same with another length and width, metres; for a round one the width is its diameter.
    pub fn sized(self, (length_m, width_m): (f64, f64), floor_m: f64, place: Place) -> Vessel {
        let mut vessel = self.vessel(floor_m, place);
        let wide = length_m.max(width_m);
        match &mut vessel.shape {
            Shape::Round { diameter_m } | Shape::ConeBottom { diameter_m, .. } => {
                *diameter_m = wide
            }
            Shape::Rectangular {
                length_m: length,
                width_m: width,
            } => {
                *length = length_m;
                *width = width_m;
            }
            Shape::Table { rows } => {
                let most = rows
                    .iter()
                    .map(|row| row.area_m2)
                    .fold(f64::MIN_POSITIVE, f64::max);
                let scale = length_m * width_m / most;
                rows.iter_mut().for_each(|row| row.area_m2 *= scale);
            }
            Shape::Prism { area_m2 } => *area_m2 = length_m * width_m,
            Shape::LyingDrum {
                diameter_m,
                length_m: length,
            } => {
                *length = length_m;
                *diameter_m = width_m;
            }
        }
        vessel
    }
}
