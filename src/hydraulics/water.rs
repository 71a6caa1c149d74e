//! Density, viscosity and vapour pressure of water and sea water.
//!
//! Fresh water by the IAPWS formulas at 0.1 MPa; salt by the one-atmosphere equation of state
//! of sea water and its companion formulas. The effect of pressure on them is negligible here.

/// The properties of water that the laws use.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Kinematic viscosity, m²/s.
    pub kinematic_viscosity_m2_s: f64,
    /// Vapour pressure, Pa absolute.
    pub vapour_pressure_pa: f64,
}

/// Practical salinity of 35 is 35.16504 g/kg. [@teos-10]
const SALINITY_UNIT_G_KG: f64 = 35.16504 / 35.0;

impl Water {
    /// Water at a temperature, °C, and a salinity, g of salt per kg of sea water.
    ///
    /// `None` outside 0 to 40 °C or 0 to 42 g/kg, the range in which the formulas hold.
    pub fn at(temperature_c: f64, salinity_g_kg: f64) -> Option<Water> {
        if !(0.0..=40.0).contains(&temperature_c) || !(0.0..=42.0).contains(&salinity_g_kg) {
            return None;
        }
        let density_kg_m3 =
            fresh_density(temperature_c) + salt_density(temperature_c, salinity_g_kg);
        let viscosity_pa_s =
            fresh_viscosity(temperature_c) * salt_viscosity(temperature_c, salinity_g_kg);
        Some(Water {
            density_kg_m3,
            kinematic_viscosity_m2_s: viscosity_pa_s / density_kg_m3,
            vapour_pressure_pa: fresh_vapour_pressure(temperature_c)
                * salt_vapour_share(salinity_g_kg),
        })
    }
}

fn kelvin(temperature_c: f64) -> f64 {
    temperature_c + 273.15
}

/// kg/m³ at 0.1 MPa, −20 to 110 °C. [@iapws-sr6]
fn fresh_density(temperature_c: f64) -> f64 {
    const GAS_KJ_KG_K: f64 = 0.46151805;
    const REFERENCE_K: f64 = 10.0;
    const PRESSURE_KPA: f64 = 100.0;
    const CONSTANT: f64 = 1.93763157e-2;
    const HOT: [(f64, i32); 5] = [
        (6.74458446e3, 4),
        (-2.22521604e5, 5),
        (1.00231247e8, 7),
        (-1.63552118e9, 8),
        (8.32299658e9, 9),
    ];
    const COLD: [(f64, i32); 6] = [
        (5.78545292e-3, 1),
        (-1.53195665e-2, 2),
        (3.11337859e-2, 3),
        (-4.23546241e-2, 4),
        (3.38713507e-2, 5),
        (-1.19946761e-2, 6),
    ];
    let t = kelvin(temperature_c);
    let alpha = REFERENCE_K / (593.0 - t);
    let beta = REFERENCE_K / (t - 232.0);
    let sum = CONSTANT + powers(&HOT, alpha) + powers(&COLD, beta);
    PRESSURE_KPA / (GAS_KJ_KG_K * REFERENCE_K * sum)
}

fn powers(terms: &[(f64, i32)], base: f64) -> f64 {
    terms
        .iter()
        .map(|(c, exponent)| c * base.powi(*exponent))
        .sum()
}

/// Pa·s at 0.1 MPa, −20 to 110 °C. [@iapws-sr6]
fn fresh_viscosity(temperature_c: f64) -> f64 {
    const TERMS: [(f64, f64); 4] = [
        (280.68, -1.9),
        (511.45, -7.7),
        (61.131, -19.6),
        (0.45903, -40.0),
    ];
    let t = kelvin(temperature_c) / 300.0;
    1e-6 * TERMS.iter().map(|(a, b)| a * t.powf(*b)).sum::<f64>()
}

/// Pa, 0 to 374 °C: the saturation line of the industrial formulation, eq. 30. [@iapws-if97]
fn fresh_vapour_pressure(temperature_c: f64) -> f64 {
    let t = kelvin(temperature_c);
    let s = t - 0.23855557567849 / (t - 650.17534844798);
    let a = s * s + 1167.0521452767 * s - 724213.16703206;
    let b = -17.073846940092 * s * s + 12020.82470247 * s - 3232555.0322333;
    let c = 14.91510861353 * s * s - 4823.2657361591 * s + 405113.40542057;
    let root = 2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt());
    1e6 * root.powi(4)
}

/// Density increase by salt, kg/m³, −2 to 40 °C, practical salinity to 42. [@millero-poisson-1981]
fn salt_density(temperature_c: f64, salinity_g_kg: f64) -> f64 {
    let t = 1.00024 * temperature_c; // the 1968 temperature scale of the source
    let s = salinity_g_kg / SALINITY_UNIT_G_KG;
    let a = 8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
    let b = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);
    s * (a + b * s.sqrt() + 4.8314e-4 * s)
}

/// Viscosity of sea water over that of fresh water, 0 to 180 °C, to 150 g/kg. [@sharqawy-2010]
fn salt_viscosity(temperature_c: f64, salinity_g_kg: f64) -> f64 {
    let t = temperature_c;
    let s = salinity_g_kg / 1000.0;
    let a = 1.541 + t * (1.998e-2 - t * 9.52e-5);
    let b = 7.974 + t * (-7.561e-2 + t * 4.724e-4);
    1.0 + s * (a + s * b)
}

/// Vapour pressure of sea water over that of fresh water, by Raoult's law. [@sharqawy-2010]
fn salt_vapour_share(salinity_g_kg: f64) -> f64 {
    1.0 / (1.0 + 0.57357 * salinity_g_kg / (1000.0 - salinity_g_kg))
}
