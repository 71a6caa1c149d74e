//! What holds for the whole layout: units, water, friction, coefficients, limits.

use serde::{Deserialize, Serialize};

/// The water in the system.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct WaterSettings {
    /// Temperature, 0 to 40 °C.
    pub temperature_c: f64,
    /// Salinity in grams per kilogram: 0 fresh, 35 sea.
    pub salinity_g_kg: f64,
    /// Kinematic viscosity in place of the one at this temperature, m²/s.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kinematic_viscosity_m2_s: Option<f64>,
    /// Density in place of the one at this temperature, kg/m³.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub density_kg_m3: Option<f64>,
    /// Air pressure on the free surfaces, Pa.
    pub atmosphere_pa: f64,
    /// The coldest that it gets, °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cold_c: Option<f64>,
    /// The warmest that it gets, °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub warm_c: Option<f64>,
}

impl Default for WaterSettings {
    fn default() -> Self {
        WaterSettings {
            temperature_c: 20.0,
            salinity_g_kg: 0.0,
            kinematic_viscosity_m2_s: None,
            density_kg_m3: None,
            atmosphere_pa: 101_325.0,
            cold_c: None,
            warm_c: None,
        }
    }
}

/// The friction law.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Friction {
    /// Darcy–Weisbach with Colebrook–White.
    #[default]
    DarcyWeisbach,
    /// Hazen–Williams.
    HazenWilliams,
}

/// The constant of Hazen–Williams, printed with small differences by different sources.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct HazenWilliams {
    /// k in h = k·L·Q^1.852/(C^1.852·D^4.8704), SI.
    pub k: f64,
}

impl Default for HazenWilliams {
    fn default() -> Self {
        HazenWilliams { k: 10.67 }
    }
}

/// Coefficients of openings and rims, and gravity.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Coefficients {
    /// C_w of the lip of an upstand as a weir.
    pub weir: f64,
    /// C_o of a drowned lip or hole as an orifice.
    pub orifice: f64,
    /// k_e, entrance loss of a side hole and of every plain entrance.
    pub entrance_k: f64,
    /// Exit loss into still water.
    pub exit_k: f64,
    /// C_rim in Q = C_rim·P·h^1.5, SI.
    pub rim: f64,
    /// Gravity, m/s².
    pub gravity_m_s2: f64,
    /// The constant of Hazen–Williams.
    pub hazen_williams: HazenWilliams,
}

impl Default for Coefficients {
    fn default() -> Self {
        Coefficients {
            weir: 0.6,
            orifice: 0.6,
            entrance_k: 0.5,
            exit_k: 1.0,
            rim: 1.44,
            gravity_m_s2: 9.80665,
            hazen_williams: HazenWilliams::default(),
        }
    }
}

/// What use does to pipes, openings and screens; what the fouled state is computed with.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Ageing {
    /// Thickness of the film on every wall and opening, metres.
    pub film_m: f64,
    /// Least roughness of a fouled wall, metres.
    pub roughness_m: f64,
    /// Least share of every screen that is blinded.
    pub screens_blinded: f64,
}

impl Default for Ageing {
    /// 2 mm, 1 mm and half: common practice, no source.
    fn default() -> Self {
        Ageing {
            film_m: 0.002,
            roughness_m: 0.001,
            screens_blinded: 0.5,
        }
    }
}

/// Rain and evaporation.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Weather {
    /// Rain, metres of water per second: 1 mm/h is 2.78e-7.
    pub rain_m_s: f64,
    /// Evaporation, metres of water per second: 5 mm a day is 5.8e-8.
    pub evaporation_m_s: f64,
}

/// What the check holds a layout to. `docs/findings/` gives the reason of each default.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Limits {
    /// Least rim minus level, metres.
    pub freeboard_m: f64,
    /// Least (capacity at the rim) / flow of a drain.
    pub drain_reserve: f64,
    /// Most velocity in a run that a pump pushes, m/s.
    pub pumped_velocity_m_s: f64,
    /// Most velocity in a run that flows by gravity, m/s.
    pub gravity_velocity_m_s: f64,
    /// Least velocity in a gravity run that carries solids, m/s.
    pub solids_velocity_m_s: f64,
    /// Least share of the end of the pump's curve that the duty may be.
    pub least_share_of_curve: f64,
    /// Most share of the end of the pump's curve that the duty may be.
    pub most_share_of_curve: f64,
    /// Least time until something spills once a path is blocked, s.
    pub blocked_spill_s: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            freeboard_m: 0.025,
            drain_reserve: 1.25,
            pumped_velocity_m_s: 1.5,
            gravity_velocity_m_s: 1.5,
            solids_velocity_m_s: 0.3,
            least_share_of_curve: 0.1,
            most_share_of_curve: 1.0,
            blocked_spill_s: 900.0,
        }
    }
}
