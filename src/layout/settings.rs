//! Settings of the whole layout: water, friction, coefficients, ageing, weather and limits.

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
    /// Lowest temperature that the water reaches, °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cold_c: Option<f64>,
    /// Highest temperature that the water reaches, °C.
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

/// Friction law.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Friction {
    /// Darcy–Weisbach with the Colebrook–White friction factor.
    #[default]
    DarcyWeisbach,
    /// Hazen–Williams.
    HazenWilliams,
}

/// Constant of the Hazen–Williams law; sources print it with small differences.
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
    /// C_o of a submerged lip or hole as an orifice.
    pub orifice: f64,
    /// k_e, entrance loss of a side hole and of every plain entrance.
    pub entrance_k: f64,
    /// Exit loss coefficient into still water.
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

/// Ageing of pipes, openings and screens, used for the fouled state.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Ageing {
    /// Thickness of the film on every wall and opening, metres.
    pub film_m: f64,
    /// Smallest roughness of a fouled wall, metres.
    pub roughness_m: f64,
    /// Smallest share of each screen that is blinded.
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

/// Limits that the check applies. `docs/findings/` gives the reason of each default.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Limits {
    /// Smallest allowed freeboard, metres.
    pub freeboard_m: f64,
    /// Smallest allowed ratio of the capacity of a drain at the rim to its flow.
    pub drain_reserve: f64,
    /// Highest allowed velocity in a pumped run, m/s.
    pub pumped_velocity_m_s: f64,
    /// Highest allowed velocity in a gravity run, m/s.
    pub gravity_velocity_m_s: f64,
    /// Lowest allowed velocity in a gravity run that carries solids, m/s.
    pub solids_velocity_m_s: f64,
    /// Smallest allowed duty flow, as a share of the flow at the end of the pump curve.
    pub least_share_of_curve: f64,
    /// Largest allowed duty flow, as a share of the flow at the end of the pump curve.
    pub most_share_of_curve: f64,
    /// Shortest allowed time from the blocking of a path until something spills, s.
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
