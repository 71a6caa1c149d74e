//! Screens and guards: what they lose, and what they leave open.
//!
//! See `docs/method/screen.md`.

use super::LEAST_BORE_M;

/// Least share that the law computes with: a screen blinded for good passes next to nothing.
pub const LEAST_CLEAR_SHARE: f64 = 1e-3;

/// Share of a screen's gross area that water can pass: φ·(1 − β), from [`LEAST_CLEAR_SHARE`] to 1.
///
/// `open_share` φ above 0 to 1, `blinded` β from 0 to 1.
pub fn clear_share(open_share: f64, blinded: f64) -> f64 {
    let share = open_share * (1.0 - blinded);
    share.clamp(LEAST_CLEAR_SHARE, 1.0)
}

/// K_s on the velocity through the openings: 1.45 − 0.45·s − s², the law of trash racks. [@usbr-small-dams]
///
/// `clear_share` s as of [`clear_share`]; 0 where nothing is in the way.
pub fn rack_k(clear_share: f64) -> f64 {
    (1.45 - clear_share * (0.45 + clear_share)).max(0.0)
}

/// K on the velocity over the whole area of the screen: K_s/s².
pub fn gross_k(own_k: f64, clear_share: f64) -> f64 {
    own_k.max(0.0) / (clear_share * clear_share)
}

/// The bore whose area is `area_m2`, m: a K on the velocity in it is a K on the gross velocity.
pub fn equal_bore_m(area_m2: f64) -> f64 {
    (4.0 * area_m2.max(0.0) / std::f64::consts::PI)
        .sqrt()
        .max(LEAST_BORE_M)
}
