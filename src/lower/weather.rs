//! Rain and evaporation.

use super::vessel;
use crate::layout::{Layout, Vessel};

/// Rain that runs into a vessel, m³/s: on its catchment area, else on its own open plan area.
///
/// Under cover only what is caught elsewhere counts.
pub(super) fn rain_m3_s(layout: &Layout, vessel: &Vessel) -> f64 {
    let own_m2 = match vessel.under_cover {
        true => 0.0,
        false => vessel::open_area_m2(vessel),
    };
    let area_m2 = vessel.catch_area_m2.unwrap_or(own_m2);
    layout.weather.rain_m_s.max(0.0) * area_m2.max(0.0)
}

/// Evaporation from a vessel at a level, m³/s (≥ 0): from its water surface, in a medium from the pores.
///
/// It is part of no state, because a loop without make-up would never be steady. It determines how long the water
/// lasts.
pub fn evaporation_m3_s(layout: &Layout, vessel: &Vessel, level_m: f64) -> f64 {
    if vessel.under_cover || level_m <= vessel.floor_m {
        return 0.0;
    }
    let surface_m2 = vessel::storage(vessel).area_m2(level_m);
    layout.weather.evaporation_m_s.max(0.0) * surface_m2
}
