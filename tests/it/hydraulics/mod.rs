//! The laws against outside values (`val_`) and against themselves (`prop_`).
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod circle;
mod deep;
mod fittings;
mod friction;
mod grade;
mod hazen_williams;
mod inlet;
mod loss;
mod loss_prepared;
mod part_full;
mod pump;
mod screen;
mod submerged_weir;
pub mod units;
mod water;

use crate::verification::Row;

/// All outside checks of the laws.
pub fn rows() -> Vec<Row> {
    [
        friction::rows(),
        loss::rows(),
        hazen_williams::rows(),
        fittings::rows(),
        part_full::rows(),
        circle::rows(),
        grade::rows(),
        inlet::rows(),
        pump::rows(),
        screen::rows(),
        water::rows(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The argument at which a rising function reaches a value.
pub fn solve(mut low: f64, mut high: f64, value: f64, rising: impl Fn(f64) -> f64) -> f64 {
    assert!(rising(low) <= value && value <= rising(high));
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if rising(middle) < value {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Central difference of a law at `x`.
fn difference(law: impl Fn(f64) -> f64, x: f64, step: f64) -> f64 {
    (law(x + step) - law(x - step)) / (2.0 * step)
}
