//! The water and the coefficients of openings, in the form that the laws need.

use crate::hydraulics::openings::coefficients;
use crate::hydraulics::water::Water;
use crate::layout::{Coefficients, WaterSettings};

/// Fresh water at 20 °C, for settings that are not numbers at all. [@iapws-sr6, @iapws-if97]
const ORDINARY: Water = Water {
    density_kg_m3: 998.2,
    kinematic_viscosity_m2_s: 1.003e-6,
    vapour_pressure_pa: 2339.0,
};

/// The water of the settings. Outside the range of the formulas, properties that are not given
/// are those at the nearest limit.
pub(super) fn water(settings: &WaterSettings) -> Water {
    let temperature_c = settings.temperature_c.clamp(0.0, 40.0);
    let salinity_g_kg = settings.salinity_g_kg.clamp(0.0, 42.0);
    let by_temperature = Water::at(temperature_c, salinity_g_kg).unwrap_or(ORDINARY);
    Water {
        density_kg_m3: settings
            .density_kg_m3
            .unwrap_or(by_temperature.density_kg_m3),
        kinematic_viscosity_m2_s: settings
            .kinematic_viscosity_m2_s
            .unwrap_or(by_temperature.kinematic_viscosity_m2_s),
        vapour_pressure_pa: by_temperature.vapour_pressure_pa,
    }
}

pub(super) fn coefficients(of_layout: &Coefficients) -> coefficients::Coefficients {
    coefficients::Coefficients {
        weir: of_layout.weir,
        orifice: of_layout.orifice,
        entrance_k: of_layout.entrance_k,
        rim: of_layout.rim,
        gravity_m_s2: of_layout.gravity_m_s2,
    }
}
