//! Rules for a loss coefficient K (head loss = K·V²/2g) from bore and friction.

use serde::{Deserialize, Serialize};

/// A published rule for K. The bores in its lists are those of the pipe that the table was printed for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Rule {
    /// K = n·fT, with fT the fully turbulent friction factor of clean steel pipe of the same bore (source
    /// `crane-tp-410`).
    TurbulentTimes(f64),
    /// One K for every bore.
    Fixed(f64),
    /// (bore in metres, K), by bore; linear between rows, constant beyond them.
    BySize(Vec<(f64, f64)>),
    /// (bore in metres, length of straight pipe in metres with the same loss), by bore: K = f·L/D. L/D is linear
    /// between rows and constant beyond them.
    LengthBySize(Vec<(f64, f64)>),
    /// Length of straight pipe with the same loss, in diameters: K = f·n.
    Diameters(f64),
    /// A step in bore: K follows from the two bores, not from the catalogue.
    StepInBore,
}

/// One of the published rules for a kind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// Key of the source, by which the user selects it.
    pub source: String,
    /// The rule.
    pub rule: Rule,
}

/// Values that a rule depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FittingContext {
    /// Bore of the pipe, metres.
    pub bore_m: f64,
    /// Fully turbulent friction factor fT of clean steel pipe of this bore.
    pub crane_ft: f64,
    /// Darcy friction factor of the run at its flow.
    pub darcy_f: f64,
}

impl Rule {
    /// Returns K on the velocity in the bore; `None` for a step in bore and where the result is not a number ≥ 0.
    pub fn k(&self, at: &FittingContext) -> Option<f64> {
        let k = match self {
            Rule::TurbulentTimes(n) => n * at.crane_ft,
            Rule::Fixed(k) => *k,
            Rule::BySize(rows) => between(rows.iter().copied(), at.bore_m)?,
            Rule::LengthBySize(rows) => {
                let in_bores = rows
                    .iter()
                    .map(|&(bore_m, length_m)| (bore_m, length_m / bore_m));
                at.darcy_f * between(in_bores, at.bore_m)?
            }
            Rule::Diameters(n) => n * at.darcy_f,
            Rule::StepInBore => return None,
        };
        (k.is_finite() && k >= 0.0).then_some(k)
    }

    /// Returns whether K depends on the bore itself or on the flow, rather than on fT alone.
    pub fn depends_on_bore(&self) -> bool {
        !matches!(self, Rule::TurbulentTimes(_) | Rule::Fixed(_))
    }
}

/// Returns the rule of `source`, or the first if `source` is `None`; `None` if no rule has that source.
pub(super) fn chosen<'a>(choices: &'a [Choice], source: Option<&str>) -> Option<&'a Rule> {
    let found = match source {
        Some(key) => choices.iter().find(|choice| choice.source == key),
        None => choices.first(),
    };
    found.map(|choice| &choice.rule)
}

/// Interpolates linearly between points of ascending x; constant beyond the ends.
pub(super) fn between(points: impl Iterator<Item = (f64, f64)>, x: f64) -> Option<f64> {
    let mut before: Option<(f64, f64)> = None;
    for (x1, y1) in points {
        if x <= x1 {
            return Some(match before {
                Some((x0, y0)) => y0 + (y1 - y0) * (x - x0) / (x1 - x0),
                None => y1,
            });
        }
        before = Some((x1, y1));
    }
    before.map(|(_, y)| y)
}
