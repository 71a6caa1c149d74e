//! Loss coefficients of fittings from formulas.
//!
//! Limitations: the K of a fitting has no single value; published ones for one bend differ by a
//! factor of two and more. Handbook values belong to the catalogue, with their source.

use crate::hydraulics::{LEAST_BORE_M, full_area_m2};

/// Roughness that underlies the turbulent factor, m (0.0018 in, commercial steel). [@crane-410]
pub const CRANE_ROUGHNESS_M: f64 = 0.0018 * 0.0254;

/// Density at which a valve's Kv is defined, kg/m³. [@iec-60534]
const KV_DENSITY_KG_M3: f64 = 1000.0;
/// Pressure drop at which a valve's Kv is defined, Pa. [@iec-60534]
const KV_PRESSURE_PA: f64 = 1e5;

/// Fully turbulent friction factor f_T of clean steel pipe of this bore, dimensionless. [@crane-410]
///
/// Colebrook's formula without its viscous term; K of a fitting is then n·f_T.
pub fn turbulent_factor(bore_m: f64) -> f64 {
    let bore_m = bore_m.max(LEAST_BORE_M);
    let x = -2.0 * (CRANE_ROUGHNESS_M / (3.7 * bore_m)).log10();
    1.0 / (x * x)
}

/// K of a fitting given as a number of diameters: n·f_T. [@crane-410]
pub fn crane_k(diameters: f64, bore_m: f64) -> f64 {
    diameters * turbulent_factor(bore_m)
}

/// K of a sudden expansion, on the velocity in the smaller bore. [@borda-carnot]
///
/// 0 if the second bore is not the larger.
pub fn expansion_k(from_bore_m: f64, to_bore_m: f64) -> f64 {
    let kept = 1.0 - area_ratio(from_bore_m, to_bore_m);
    kept * kept
}

/// K of a sudden contraction, on the velocity in the smaller bore. [@crane-410]
///
/// ½·(1 − β²); 0 if the second bore is not the smaller.
pub fn contraction_k(from_bore_m: f64, to_bore_m: f64) -> f64 {
    0.5 * (1.0 - area_ratio(to_bore_m, from_bore_m))
}

/// K of a flush entrance rounded to `radius_over_bore`, dimensionless. [@crane-410]
///
/// Linear between the printed rows, 0.5 when sharp, 0.04 from 0.15 on.
pub fn entrance_k(radius_over_bore: f64) -> f64 {
    const ROWS: [(f64, f64); 6] = [
        (0.0, 0.5),
        (0.02, 0.28),
        (0.04, 0.24),
        (0.06, 0.15),
        (0.10, 0.09),
        (0.15, 0.04),
    ];
    for pair in ROWS.windows(2) {
        if let [(x0, k0), (x1, k1)] = *pair
            && radius_over_bore <= x1
        {
            let share = ((radius_over_bore - x0) / (x1 - x0)).max(0.0);
            return k0 + share * (k1 - k0);
        }
    }
    0.04
}

/// K of a valve from its Kv (m³/h of water at 1 bar), on the velocity in `bore_m`. [@iec-60534]
pub fn k_from_kv(kv_m3_h: f64, bore_m: f64) -> f64 {
    let velocity_m_s = kv_m3_h.max(1e-9) / 3600.0 / full_area_m2(bore_m);
    2.0 * KV_PRESSURE_PA / (KV_DENSITY_KG_M3 * velocity_m_s * velocity_m_s)
}

/// Kv, m³/h, of a valve from its K on the velocity in `bore_m`. [@iec-60534]
pub fn kv_from_k(k: f64, bore_m: f64) -> f64 {
    let velocity_m_s = (2.0 * KV_PRESSURE_PA / (KV_DENSITY_KG_M3 * k.max(1e-9))).sqrt();
    velocity_m_s * full_area_m2(bore_m) * 3600.0
}

/// Smaller area over larger, from 0 to 1.
fn area_ratio(small_m: f64, large_m: f64) -> f64 {
    let ratio = small_m.max(LEAST_BORE_M) / large_m.max(LEAST_BORE_M);
    (ratio * ratio).min(1.0)
}
