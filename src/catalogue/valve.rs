//! Valves: K fully open and K by degree of opening.

use serde::{Deserialize, Serialize};

use super::rule::{Choice, FittingContext, chosen};

/// Smallest opening used; smaller ones count as this, so that K stays finite until the valve is shut.
pub const LEAST_OPENING: f64 = 1e-6;

/// A kind of valve.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Valve {
    /// Key in kebab-case, unique among the valves.
    pub key: String,
    /// Name of the valve in words.
    pub words: String,
    /// How the valve is operated.
    pub acts: Actuation,
    /// Rules for K fully open; the first is the default and does not depend on the bore.
    pub open: Vec<Choice>,
    /// Tables of K by opening; the first is the default. Empty for check valves.
    pub throttled: Vec<Throttle>,
}

/// How a valve is operated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Actuation {
    /// Set by hand, anywhere between open and shut.
    ByHand,
    /// Moved by the flow, which passes one way only. Any opening above 0 counts as open.
    Check,
}

/// One published table of K by opening.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Throttle {
    /// Key of the source.
    pub source: String,
    /// (opening, K): openings strictly between 0 and 1, falling; K rising.
    pub points: Vec<(f64, f64)>,
}

impl Valve {
    /// Returns K at an opening from 0 (shut) to 1 (open), with the default sources; `None` if the valve is shut.
    ///
    /// `crane_ft` is the fully turbulent friction factor of clean steel pipe of the valve's bore.
    pub fn k(&self, opening: f64, crane_ft: f64) -> Option<f64> {
        // The default rule depends on neither bore nor friction factor; the check of the catalogue ensures that.
        let at = FittingContext {
            bore_m: f64::NAN,
            crane_ft,
            darcy_f: f64::NAN,
        };
        self.k_chosen(opening, &at, None)
    }

    /// Like [`Valve::k`], but uses the source `choice` for as much of the valve as it covers: K fully open, K by
    /// opening, or both. Also `None` if it covers neither.
    ///
    /// ln K is linear in the opening between published points, and K·opening² is constant below the smallest of them
    /// (the area of the gap falls with the opening). Both are choices, not findings. A partly shut valve never loses
    /// less than the same valve open.
    pub fn k_chosen(&self, opening: f64, at: &FittingContext, choice: Option<&str>) -> Option<f64> {
        let named_open = chosen(&self.open, choice);
        let named_throttle = choice.and_then(|key| self.throttled.iter().find(|t| t.source == key));
        if choice.is_some() && named_open.is_none() && named_throttle.is_none() {
            return None;
        }
        let k_open = named_open.or_else(|| chosen(&self.open, None))?.k(at)?;
        if opening.is_nan() || opening <= 0.0 {
            return None;
        }
        match named_throttle.or_else(|| self.throttled.first()) {
            Some(throttle) => Some(throttle.k(opening.clamp(LEAST_OPENING, 1.0), k_open)),
            None => Some(k_open),
        }
    }
}

impl Throttle {
    fn k(&self, opening: f64, k_open: f64) -> f64 {
        let (mut wide, mut k_wide) = (1.0, k_open);
        for &(narrow, k_printed) in &self.points {
            let k_narrow = k_printed.max(k_wide);
            if opening >= narrow {
                let share = (wide - opening) / (wide - narrow);
                return log_between(k_wide, k_narrow, share);
            }
            (wide, k_wide) = (narrow, k_narrow);
        }
        k_wide * (wide / opening).powi(2)
    }
}

/// Interpolates linearly in ln K, or in K if it starts at a K of 0, which has no logarithm.
fn log_between(k_wide: f64, k_narrow: f64, share: f64) -> f64 {
    if k_wide > 0.0 {
        k_wide * (k_narrow / k_wide).powf(share)
    } else {
        k_narrow * share
    }
}
