//! Power drawn by a pump, and its net positive suction head.

use crate::hydraulics::water::Water;

/// Power drawn, W: ρ·g·Q·H/η. `efficiency` from 0.01 to 1, outside it is clamped.
pub fn power_w(
    density_kg_m3: f64,
    gravity_m_s2: f64,
    flow_m3_s: f64,
    head_m: f64,
    efficiency: f64,
) -> f64 {
    density_kg_m3 * gravity_m_s2 * flow_m3_s * head_m / efficiency.clamp(0.01, 1.0)
}

/// The suction side of a pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Suction {
    /// Absolute pressure on the water it draws from, Pa.
    pub surface_pressure_pa: f64,
    /// Water level above the pump's datum, m; negative if the pump stands above the water.
    pub static_head_m: f64,
    /// Head loss up to the pump, m.
    pub loss_m: f64,
}

/// Net positive suction head available, m: (p − p_v)/(ρg) + static − loss. [@hi-9.6.1]
pub fn npsh_available_m(suction: &Suction, water: &Water, gravity_m_s2: f64) -> f64 {
    let over_vapour_pa = suction.surface_pressure_pa - water.vapour_pressure_pa;
    over_vapour_pa / (water.density_kg_m3 * gravity_m_s2) + suction.static_head_m - suction.loss_m
}

/// Net positive suction head required by a pump at `flow_m3_s`, m, from (flow, head) points with increasing
/// flow: linear between them, constant before the first, extrapolated beyond the last; none without points.
/// [@hi-9.6.1]
pub fn npsh_required_m(points: &[(f64, f64)], flow_m3_s: f64) -> Option<f64> {
    let first = points.first()?;
    if flow_m3_s <= first.0 || points.len() == 1 {
        return Some(first.1);
    }
    let on = points.windows(2).find(|pair| flow_m3_s <= pair[1].0);
    let &[low, high] = on.or_else(|| points.windows(2).next_back())? else {
        return None;
    };
    let share = (flow_m3_s - low.0) / (high.0 - low.0).max(f64::MIN_POSITIVE);
    Some((low.1 + share * (high.1 - low.1)).max(0.0))
}
