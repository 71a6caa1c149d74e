//! Numbers of vessels, joints and fixed levels.

use super::NumberSlot;
use super::parse::indices;
use super::reach::{FieldValue, fields, index, reach};
use crate::layout::range::{self, Range};
use crate::layout::{Fixed, Joint, Shape, Vessel};
use crate::units::Quantity;

fields! {
    /// A number of a vessel.
    VesselField of Vessel {
        /// Inside bottom.
        Floor "floor_m" Height ELEVATION [.floor_m];
        /// Level at which it spills.
        Rim "rim_m" Height ELEVATION [.rim_m];
        /// Level that it is filled to.
        Fill "fill_m" Height ELEVATION [.fill_m];
        /// Top of its medium.
        MediumTop "medium.top_m" Height ELEVATION [.medium? .top_m];
        /// Void share of its medium.
        Porosity "medium.porosity" Ratio POROSITY [.medium? .porosity];
        /// Length of its rim.
        RimPerimeter "rim_perimeter_m" Length LENGTH [.rim_perimeter_m];
        /// Constant inflow from outside.
        MakeUp "make_up_m3_s" Flow INFLOW [.make_up_m3_s];
        /// Mouth of the make-up.
        MakeUpOutlet "make_up_outlet_m" Height ELEVATION [.make_up_outlet_m];
        /// Level at which its float valve is shut.
        FloatValveShut "float_valve.shut_m" Height ELEVATION [.float_valve? .shut_m];
        /// Level at which its float valve is fully open.
        FloatValveOpen "float_valve.open_m" Height ELEVATION [.float_valve? .open_m];
        /// Flow of its float valve when open.
        FloatValveFlow "float_valve.flow_m3_s" Flow CURVE_FLOW [.float_valve? .flow_m3_s];
        /// Mouth of its float valve.
        FloatValveOutlet "float_valve.outlet_m" Height ELEVATION [.float_valve? .outlet_m];
        /// Area that catches rain.
        CatchArea "catch_area_m2" Area ROW_AREA [.catch_area_m2];
        /// Required water changes per hour.
        Turnover "wanted_turnover_per_h" Ratio TURNOVER [.wanted_turnover_per_h];
        /// Position in the plan.
        X "place.x_m" Length PLAN [.place.x_m];
        /// Position in the plan.
        Y "place.y_m" Length PLAN [.place.y_m];
        /// Position along the section.
        Along "place.along_m" Length PLAN [.place.along_m];
        /// Rotation in the plan, degrees.
        Turned "place.turned_deg" Ratio TURN [.place.turned_deg];
        /// Diameter, round.
        Diameter "shape.round.diameter_m" Length SIZE [.shape (Shape::Round => diameter_m)];
        /// Length, rectangular.
        Length "shape.rectangular.length_m" Length SIZE [.shape (Shape::Rectangular => length_m)];
        /// Width, rectangular.
        Width "shape.rectangular.width_m" Length SIZE [.shape (Shape::Rectangular => width_m)];
        /// Plan area, upright.
        PlanArea "shape.prism.area_m2" Area PLAN_AREA [.shape (Shape::Prism => area_m2)];
        /// Diameter, cone-bottom.
        ConeDiameter "shape.cone_bottom.diameter_m" Length SIZE [.shape (Shape::ConeBottom => diameter_m)];
        /// Height of the cone.
        ConeHeight "shape.cone_bottom.cone_height_m" Length SIZE [.shape (Shape::ConeBottom => cone_height_m)];
        /// Diameter of a lying drum.
        DrumDiameter "shape.lying_drum.diameter_m" Length SIZE [.shape (Shape::LyingDrum => diameter_m)];
        /// Length of a lying drum.
        DrumLength "shape.lying_drum.length_m" Length SIZE [.shape (Shape::LyingDrum => length_m)];
        /// Depth of a row of its table.
        TableDepth(row) "shape.table.rows.{}.depth_m" Length DEPTH [.shape (Shape::Table => rows) [row] .depth_m];
        /// Area of a row of its table. The last row must have some.
        TableArea(row) "shape.table.rows.{}.area_m2" Area ROW_AREA [.shape (Shape::Table => rows) [row] .area_m2];
    }
}

fields! {
    /// A number of a joint.
    JointField of Joint {
        /// Height of its centre.
        Elevation "elevation_m" Height ELEVATION [.elevation_m];
        /// Constant inflow from outside.
        MakeUp "make_up_m3_s" Flow INFLOW [.make_up_m3_s];
        /// Top of its vent.
        VentTop "vent_top_m" Height ELEVATION [.vent_top_m];
        /// Position in the plan.
        X "place.x_m" Length PLAN [.place.x_m];
        /// Position in the plan.
        Y "place.y_m" Length PLAN [.place.y_m];
        /// Position along the section.
        Along "place.along_m" Length PLAN [.place.along_m];
        /// Rotation in the plan, degrees.
        Turned "place.turned_deg" Ratio TURN [.place.turned_deg];
    }
}

fields! {
    /// A number of a fixed level.
    FixedField of Fixed {
        /// Its level.
        Level "level_m" Height ELEVATION [.level_m];
        /// Position in the plan.
        X "place.x_m" Length PLAN [.place.x_m];
        /// Position in the plan.
        Y "place.y_m" Length PLAN [.place.y_m];
        /// Position along the section.
        Along "place.along_m" Length PLAN [.place.along_m];
        /// Rotation in the plan, degrees.
        Turned "place.turned_deg" Ratio TURN [.place.turned_deg];
    }
}
