//! Sizes in SI of the units shown.
//!
//! All are exact by definition [@nist-sp-811], apart from the last digit of a
//! division in floating point, and from the density of water.

/// One millimetre, m.
pub const MILLIMETRE_M: f64 = 0.001;
/// One international foot, m.
pub const FOOT_M: f64 = 0.3048;
/// One inch, m.
pub const INCH_M: f64 = 0.0254;
/// One litre, m³.
pub const LITRE_M3: f64 = 0.001;
/// One US gallon: 231 cubic inches, m³.
pub const US_GALLON_M3: f64 = 0.003_785_411_784;
/// One imperial gallon: 4.546 09 litres, m³.
pub const IMPERIAL_GALLON_M3: f64 = 0.004_546_09;
/// One litre a minute, m³/s.
pub const LITRE_A_MINUTE_M3_S: f64 = LITRE_M3 / MINUTE_S;
/// One cubic metre an hour, m³/s.
pub const CUBIC_METRE_AN_HOUR_M3_S: f64 = 1.0 / HOUR_S;
/// One US gallon a minute, m³/s.
pub const US_GALLON_A_MINUTE_M3_S: f64 = US_GALLON_M3 / MINUTE_S;
/// One pound-force, N.
pub const POUND_FORCE_N: f64 = 4.448_221_615_260_5;
/// One pound-force on a square inch, Pa.
pub const PSI_PA: f64 = POUND_FORCE_N / (INCH_M * INCH_M);
/// One horsepower: 550 foot-pounds a second, W.
pub const HORSEPOWER_W: f64 = 550.0 * FOOT_M * POUND_FORCE_N;
/// Density of fresh water at 20 °C, kg/m³ [@iapws-sr6].
pub const FRESH_WATER_KG_M3: f64 = 998.207;
/// Standard acceleration of free fall, m/s² [@bipm-si].
pub const STANDARD_GRAVITY_M_S2: f64 = 9.806_65;
/// Pressure of one metre of fresh water at 20 °C at standard gravity, Pa.
pub const FRESH_WATER_PA_A_METRE: f64 = FRESH_WATER_KG_M3 * STANDARD_GRAVITY_M_S2;
/// One minute, s.
pub const MINUTE_S: f64 = 60.0;
/// One hour, s.
pub const HOUR_S: f64 = 3_600.0;
/// One day, s.
pub const DAY_S: f64 = 86_400.0;

/// Converts degrees Celsius to degrees Fahrenheit.
pub fn fahrenheit_from_celsius(celsius: f64) -> f64 {
    celsius * 1.8 + 32.0
}
