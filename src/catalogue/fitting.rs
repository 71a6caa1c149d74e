//! Fittings, entrances and exits.

use serde::{Deserialize, Serialize};

use super::rule::{Choice, FittingContext, Rule, chosen};

/// A kind of fitting with all published rules for its loss.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fitting {
    /// Key in kebab-case, unique among the fittings.
    pub key: String,
    /// Name of the fitting in words.
    pub words: String,
    /// Position on a run.
    pub place: FittingPosition,
    /// Published rules; the first is the default.
    pub choices: Vec<Choice>,
}

/// Position on a run where a kind of fitting belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum FittingPosition {
    /// Anywhere along the run.
    Along,
    /// Where water enters the run; replaces the entrance loss of the opening.
    Entrance,
    /// Where water leaves the run.
    Exit,
}

impl Fitting {
    /// Returns the loss coefficient K on the velocity in `bore_m` (metres).
    ///
    /// `crane_ft` is the fully turbulent friction factor of clean steel pipe of that bore, `darcy_f` the friction
    /// factor of the run at its flow, `choice` the key of one of its sources (`None`: the default). `None` if that
    /// source has no rule for this kind, and for a step in bore ([`Fitting::is_step`]).
    pub fn k(&self, bore_m: f64, crane_ft: f64, darcy_f: f64, choice: Option<&str>) -> Option<f64> {
        let at = FittingContext {
            bore_m,
            crane_ft,
            darcy_f,
        };
        chosen(&self.choices, choice)?.k(&at)
    }

    /// Returns true for reducers, whose K follows from two bores (Borda–Carnot).
    pub fn is_step(&self) -> bool {
        chosen(&self.choices, None) == Some(&Rule::StepInBore)
    }
}
