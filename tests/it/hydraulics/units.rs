//! Units that sources are printed in, in SI.

pub const FT: f64 = 0.3048;
pub const INCH: f64 = 0.0254;
pub const GPM: f64 = 3.785411784e-3 / 60.0;
pub const FT3_S: f64 = FT * FT * FT;
pub const PSI: f64 = 6894.757293168;
pub const LB_FT3: f64 = 16.01846337396;
pub const HP: f64 = 745.6998715822702;
pub const ATM: f64 = 101325.0;
/// Weight of water in US textbooks, lb/ft³.
pub const US_WATER_LB_FT3: f64 = 62.4;

pub fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}
