//! Numbers of runs.

use super::NumberSlot;
use super::parse::indices;
use super::reach::{FieldValue, fields, index, reach};
use crate::layout::range::{self, Range};
use crate::layout::{Pipe, Run};
use crate::units::Quantity;

fields! {
    /// A number of a run. Indices count from 0 in the lists of the run.
    RunField of Run {
        /// Bore of a pipe given by its bore.
        Bore "pipe.own.bore_m" Bore BORE [.pipe (Pipe::Own => bore_m)];
        /// Roughness of that pipe.
        Roughness "pipe.own.roughness_m" Bore ROUGHNESS [.pipe (Pipe::Own => roughness_m)];
        /// Hazen–Williams C of that pipe.
        HazenWilliamsC "pipe.own.hazen_williams_c" Ratio HAZEN_WILLIAMS_C [.pipe (Pipe::Own => hazen_williams_c)];
        /// Roughness of a pipe from the catalogue.
        BoughtRoughness "pipe.bought.roughness_m" Bore ROUGHNESS [.pipe (Pipe::Bought => roughness_m)];
        /// Hazen–Williams C of a pipe from the catalogue.
        BoughtHazenWilliamsC "pipe.bought.hazen_williams_c" Ratio HAZEN_WILLIAMS_C [.pipe (Pipe::Bought => hazen_williams_c)];
        /// X of a corner.
        CornerX(corner) "route.{}.x_m" Length PLAN [.route [corner] .x_m];
        /// Y of a corner.
        CornerY(corner) "route.{}.y_m" Length PLAN [.route [corner] .y_m];
        /// Height of a corner.
        CornerZ(corner) "route.{}.z_m" Height ELEVATION [.route [corner] .z_m];
        /// Top of the vent at a corner.
        CornerVentTop(corner) "route.{}.vent_top_m" Height ELEVATION [.route [corner] .vent_top_m];
        /// Length, in place of that of the route.
        Length "length_m" Length LENGTH [.length_m];
        /// Number of fittings of one entry.
        FittingCount(fitting) "fittings.{}.count" Ratio FITTING_COUNT [.fittings [fitting] .count];
        /// Loss coefficient of a fitting.
        FittingK(fitting) "fittings.{}.k" Ratio LOSS_K [.fittings [fitting] .k];
        /// Second bore of a fitting.
        FittingBore(fitting) "fittings.{}.bore_m" Bore BORE [.fittings [fitting] .bore_m];
        /// Place of a fitting along the run.
        FittingAt(fitting) "fittings.{}.at_m" Length LENGTH [.fittings [fitting] .at_m];
        /// Opening of a valve, 0 to 1.
        ValveOpening(valve) "valves.{}.opening" Ratio SHARE [.valves [valve] .opening];
        /// Loss coefficient of a valve.
        ValveK(valve) "valves.{}.k" Ratio LOSS_K [.valves [valve] .k];
        /// Place of a valve along the run.
        ValveAt(valve) "valves.{}.at_m" Length LENGTH [.valves [valve] .at_m];
        /// Place of equipment along the run.
        EquipmentAt(piece) "equipment.{}.at_m" Length LENGTH [.equipment [piece] .at_m];
        /// Head at which equipment is washed.
        WashHead(piece) "equipment.{}.wash_head_m" Head LOSS_HEAD [.equipment [piece] .wash_head_m];
        /// Height of the hole of its siphon break.
        SiphonBreakHeight "siphon_break.height_m" Height ELEVATION [.siphon_break? .height_m];
        /// Bore of the hole of its siphon break.
        SiphonBreakBore "siphon_break.bore_m" Bore BORE [.siphon_break? .bore_m];
        /// Loss coefficient in place of all others.
        TotalK "total_k" Ratio LOSS_K [.total_k];
        /// Friction factor in place of the law.
        FrictionFactor "friction_factor" Ratio FRICTION_FACTOR [.friction_factor];
    }
}
