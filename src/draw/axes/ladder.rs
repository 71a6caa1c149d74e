//! Steps of staffs and rulers: round numbers far enough apart on the page.

use crate::units::UnitSystem;
use crate::units::convert::{FOOT_M, INCH_M};

/// Returns the spacing of steps and of numbered steps in metres, at least `step` and `number` points apart.
pub(in crate::draw) fn steps(
    system: UnitSystem,
    points_per_metre: f64,
    step: f64,
    number: f64,
) -> (f64, f64) {
    let ladder: Vec<f64> = match system {
        UnitSystem::Metric => (-3..6)
            .flat_map(|power| [1.0, 2.0, 5.0].map(|step| step * 10f64.powi(power)))
            .collect(),
        UnitSystem::Us => {
            let inches = [0.0625, 0.125, 0.25, 0.5, 1.0, 3.0, 6.0].map(|step| step * INCH_M);
            let feet = [
                1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0,
            ];
            inches
                .into_iter()
                .chain(feet.map(|step| step * FOOT_M))
                .collect()
        }
    };
    let least = |points: f64| {
        let found = ladder
            .iter()
            .find(|step| **step * points_per_metre >= points);
        found.or(ladder.last()).copied().unwrap_or(1.0)
    };
    let number = least(number);
    let step = least(step);
    // Steps that do not divide the numbered ones would be misread.
    let whole = |one: &&f64| {
        let parts = number / **one;
        (parts - parts.round()).abs() < 1e-6 && **one >= step - 1e-12
    };
    (ladder.iter().find(whole).copied().unwrap_or(number), number)
}
