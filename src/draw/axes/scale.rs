//! Round scales of drawings on paper.

use crate::units::UnitSystem;

/// Points per metre at full size: a point is 1/72 inch, an inch 0.0254 m.
const FULL_SIZE: f64 = 72.0 / 0.0254;

/// A scale that a scale ruler has.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::draw) struct RoundScale {
    pub points_per_metre: f64,
    /// Text of the scale: `1 : 25`.
    pub words: String,
}

/// Returns the largest round scale not above `most`, points per metre.
///
/// Metric scales are those of a scale ruler and steps between them; US scales are a sixteenth of an inch or more to the
/// foot, or whole feet to the inch. Common practice, no source.
pub(in crate::draw) fn round(most: f64, system: UnitSystem) -> RoundScale {
    let least = FULL_SIZE / most;
    let metric = (-1..6).flat_map(|power| {
        [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 7.5].map(|step| step * 10f64.powi(power))
    });
    let us = [
        1.0, 2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 32.0, 48.0, 64.0, 96.0, 128.0, 192.0, 240.0, 360.0,
        480.0, 600.0, 720.0, 1200.0, 2400.0, 3600.0, 4800.0, 6000.0, 12_000.0, 24_000.0, 60_000.0,
        120_000.0,
    ];
    let mut all: Vec<f64> = match system {
        UnitSystem::Metric => metric.collect(),
        UnitSystem::Us => us.to_vec(),
    };
    // The tolerance keeps a scale that fits exactly but for rounding.
    all.retain(|times| *times >= least * (1.0 - 1e-9));
    match all.first() {
        Some(times) => RoundScale {
            points_per_metre: FULL_SIZE / times,
            words: format!("1 : {times}"),
        },
        None => RoundScale {
            points_per_metre: most,
            words: format!("1 : {least:.0}"),
        },
    }
}
