//! Valves: K fully open, and K against opening.

use serde::{Deserialize, Serialize};

use super::rule::{Choice, FittingContext, chosen};

/// Smaller openings than this count as this one, so that K stays finite until the valve is shut.
pub const LEAST_OPENING: f64 = 1e-6;

/// A kind of valve.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Valve {
    /// Kebab-case, unique among the valves.
    pub key: String,
    /// What people call it.
    pub words: String,
    /// Who moves it.
    pub acts: Actuation,
    /// K fully open; the first is the default and needs no bore.
    pub open: Vec<Choice>,
    /// K against opening; the first is the default. Empty for check valves.
    pub throttled: Vec<Throttle>,
}

/// Who moves a valve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Actuation {
    /// Set by hand, anywhere between open and shut.
    ByHand,
    /// Moved by the flow: passes one way only. Any opening above 0 counts as open.
    Check,
}

/// One published set of K against opening.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Throttle {
    /// Key of the source.
    pub source: String,
    /// (opening, K): opening between 0 and 1, not including either, falling; K rising.
    pub points: Vec<(f64, f64)>,
}

impl Valve {
    /// K at an opening from 0 (shut) to 1 (open), with the default sources; None where it is shut.
    ///
    /// `crane_ft` is the fully turbulent friction factor of clean steel pipe of the valve's bore.
    pub fn k(&self, opening: f64, crane_ft: f64) -> Option<f64> {
        // The default needs neither bore nor friction factor; the catalogue's check holds it to that.
        let at = FittingContext {
            bore_m: f64::NAN,
            crane_ft,
            darcy_f: f64::NAN,
        };
        self.k_chosen(opening, &at, None)
    }

    /// As [`Valve::k`], with the source named by `choice` for as much of the valve as it covers: K fully
    /// open, K against opening, or both. None also where it covers neither.
    ///
    /// ln K is a straight line of the opening between published points, and K·opening² is constant below
    /// the least of them (the gap's area falling with the opening). Both are choices, not findings. A
    /// valve partly shut never loses less than the same valve open.
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

/// A straight line in ln K; from a K of 0, which has no logarithm, a straight line in K.
fn log_between(k_wide: f64, k_narrow: f64, share: f64) -> f64 {
    if k_wide > 0.0 {
        k_wide * (k_narrow / k_wide).powf(share)
    } else {
        k_narrow * share
    }
}
