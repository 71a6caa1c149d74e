//! Numbers of the settings of a layout.

use super::NumberSlot;
use super::parse::indices;
use super::reach::{FieldValue, fields, index, reach};
use crate::layout::Layout;
use crate::layout::range::{self, Range};
use crate::units::Quantity;

fields! {
    /// A number of the settings of a layout.
    SettingField of Layout {
        /// Temperature of the water.
        Temperature "water.temperature_c" Temperature TEMPERATURE [.water .temperature_c];
        /// Salinity of the water, g/kg.
        Salinity "water.salinity_g_kg" Ratio SALINITY [.water .salinity_g_kg];
        /// Kinematic viscosity, m²/s.
        Viscosity "water.kinematic_viscosity_m2_s" Ratio VISCOSITY [.water .kinematic_viscosity_m2_s];
        /// Density, kg/m³.
        Density "water.density_kg_m3" Ratio DENSITY [.water .density_kg_m3];
        /// Pressure of the air.
        Atmosphere "water.atmosphere_pa" Pressure ATMOSPHERE [.water .atmosphere_pa];
        /// Lowest temperature.
        Coldest "water.cold_c" Temperature TEMPERATURE [.water .cold_c];
        /// Highest temperature.
        Warmest "water.warm_c" Temperature TEMPERATURE [.water .warm_c];
        /// Coefficient of a lip.
        Weir "coefficients.weir" Ratio COEFFICIENT [.coefficients .weir];
        /// Coefficient of a submerged opening.
        Orifice "coefficients.orifice" Ratio COEFFICIENT [.coefficients .orifice];
        /// Loss coefficient of an entrance.
        EntranceK "coefficients.entrance_k" Ratio LOSS_K [.coefficients .entrance_k];
        /// Loss coefficient of an exit.
        ExitK "coefficients.exit_k" Ratio LOSS_K [.coefficients .exit_k];
        /// Coefficient of a rim, SI.
        Rim "coefficients.rim" Ratio COEFFICIENT [.coefficients .rim];
        /// Acceleration of gravity, m/s².
        Gravity "coefficients.gravity_m_s2" Ratio GRAVITY [.coefficients .gravity_m_s2];
        /// Coefficient of the Hazen–Williams formula, SI.
        HazenWilliamsK "coefficients.hazen_williams.k" Ratio COEFFICIENT [.coefficients .hazen_williams .k];
        /// Least freeboard.
        Freeboard "limits.freeboard_m" Height LIMIT [.limits .freeboard_m];
        /// Least reserve of a drain.
        DrainReserve "limits.drain_reserve" Ratio LIMIT [.limits .drain_reserve];
        /// Greatest velocity in a pumped pipe.
        PumpedVelocity "limits.pumped_velocity_m_s" Velocity LIMIT [.limits .pumped_velocity_m_s];
        /// Greatest velocity in a gravity pipe.
        GravityVelocity "limits.gravity_velocity_m_s" Velocity LIMIT [.limits .gravity_velocity_m_s];
        /// Least velocity with solids.
        SolidsVelocity "limits.solids_velocity_m_s" Velocity LIMIT [.limits .solids_velocity_m_s];
        /// Least share of the curve of a pump.
        LeastShareOfCurve "limits.least_share_of_curve" Ratio LIMIT [.limits .least_share_of_curve];
        /// Greatest share of the curve of a pump.
        MostShareOfCurve "limits.most_share_of_curve" Ratio LIMIT [.limits .most_share_of_curve];
        /// Least time until a blocked path spills.
        BlockedSpill "limits.blocked_spill_s" Time LIMIT [.limits .blocked_spill_s];
        /// Film in fouled pipes.
        Film "ageing.film_m" Bore LIMITS [.ageing .film_m];
        /// Roughness of fouled pipes.
        FouledRoughness "ageing.roughness_m" Bore ROUGHNESS [.ageing .roughness_m];
        /// Blinded share of screens, 0 to 1.
        ScreensBlinded "ageing.screens_blinded" Ratio SHARE [.ageing .screens_blinded];
        /// Rain, m/s.
        Rain "weather.rain_m_s" Ratio WEATHER [.weather .rain_m_s];
        /// Evaporation, m/s.
        Evaporation "weather.evaporation_m_s" Ratio WEATHER [.weather .evaporation_m_s];
        /// Flow that it is first filled with.
        FirstFill "first_fill_m3_s" Flow CURVE_FLOW [.first_fill_m3_s];
        /// X of the lower left corner of the site picture.
        PictureX "underlay.at.x_m" Length PLAN [.underlay? .at .x_m];
        /// Y of that corner.
        PictureY "underlay.at.y_m" Length PLAN [.underlay? .at .y_m];
        /// Scale of the site picture, metres a pixel.
        PictureScale "underlay.metres_per_pixel" Ratio DOT [.underlay? .metres_per_pixel];
        /// Rotation of the site picture, degrees.
        PictureTurned "underlay.turned_deg" Ratio TURN [.underlay? .turned_deg];
        /// Opacity of the site picture, 0 to 1.
        PictureStrength "underlay.strength" Ratio SHARE [.underlay? .strength];
        /// Time of a washing in an operating mode.
        WashingTime(mode) "ways.{}.washing_s" Time DURATION [.ways [mode] .washing_s];
        /// Index of a valve in an operating mode.
        ModeValve(mode, set) "ways.{}.valves.{}.valve" Ratio VALVE_INDEX [.ways [mode] .valves [set] .valve];
        /// Opening of a valve in an operating mode, 0 to 1.
        ModeOpening(mode, set) "ways.{}.valves.{}.opening" Ratio SHARE [.ways [mode] .valves [set] .opening];
    }
}
