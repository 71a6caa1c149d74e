//! The fraction of a screen that water can pass.

/// Clear fraction below which a screen counts as shut: the flow through a square metre of it is less than a drop. A
/// choice.
pub const SHUT_SHARE: f64 = 1e-6;

/// Fraction of a screen's gross area that water can pass: φ·(1 − β), 0 to 1; 0 where it is shut.
///
/// `open_share` φ above 0 to 1, `blinded` β from 0 to 1.
pub fn clear_share(open_share: f64, blinded: f64) -> f64 {
    let share = open_share * (1.0 - blinded);
    if share > SHUT_SHARE {
        share.min(1.0)
    } else {
        0.0
    }
}
