//! Deeply submerged mouths: an orifice into air limits the flow only where air reaches the mouth.
//!
//! See `docs/method/mouths-under-water.md`.

use super::vortex::SUBMERGENCE_PER_FROUDE;
use crate::hydraulics::{Dual, full_area_m2};

/// What a mouth leads to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum MouthLeadsTo {
    /// A short pipe, a vent or none: air reaches it from behind at every depth.
    #[default]
    ToAir,
    /// A pipe of at least [`CLOSED_BORES`] bores without a vent: air enters only from above.
    ToPipe,
    /// A pump, which draws in any case; insufficient submergence is a finding.
    ToPump,
}

/// Length without a vent above which a pipe keeps air from its mouth, in bores. A choice: the jet behind the mouth
/// touches the wall within two or three.
pub const CLOSED_BORES: f64 = 3.0;

/// W = rate·(h − from): the flow whose required submergence is h. [@hi-9.8]
///
/// From S = D·(1 + 2.3·V/√(gD)): A·√(gD)·(h/D − 1)/2.3 over a lip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Submergence {
    rate_m2_s: f64,
    from_m: f64,
}

impl Submergence {
    /// For a lip.
    pub fn over_lip(bore_m: f64, gravity_m_s2: f64) -> Submergence {
        Submergence {
            rate_m2_s: full_area_m2(bore_m) * (gravity_m_s2 / bore_m).sqrt()
                / SUBMERGENCE_PER_FROUDE,
            from_m: bore_m,
        }
    }

    /// For a hole or a horizontal mouth, whose head counts from its invert: the submergence counts from its centre.
    pub fn over_hole(bore_m: f64, gravity_m_s2: f64) -> Submergence {
        Submergence {
            from_m: 1.5 * bore_m,
            ..Submergence::over_lip(bore_m, gravity_m_s2)
        }
    }
}

/// The larger of the capacity of a mouth with air at it and that without.
pub(super) fn deeper(plain: Dual, deep: Option<Submergence>, head_m: f64) -> Dual {
    let without = deep.map(|deep| Dual {
        value: deep.rate_m2_s * (head_m - deep.from_m),
        derivative: deep.rate_m2_s,
    });
    without
        .filter(|without| without.value > plain.value)
        .unwrap_or(plain)
}

/// The inverse of that: the lesser head.
pub(super) fn shallower(plain: Dual, deep: Option<Submergence>, flow_m3_s: f64) -> Dual {
    let without = deep.map(|deep| Dual {
        value: deep.from_m + flow_m3_s / deep.rate_m2_s,
        derivative: 1.0 / deep.rate_m2_s,
    });
    without
        .filter(|without| without.value < plain.value)
        .unwrap_or(plain)
}
