//! Ageing of pipes, openings and screens in use.

use super::{Age, LoweringContext};
use crate::hydraulics::LEAST_BORE_M;

impl LoweringContext<'_> {
    /// Whether it is computed as fouled.
    pub(super) fn is_fouled(&self) -> bool {
        self.situation.age == Age::Fouled
    }

    /// Film on every wall, metres; none when new.
    pub(super) fn film_m(&self) -> f64 {
        match self.situation.age {
            Age::New | Age::AtWash => 0.0,
            Age::Fouled => self.layout.ageing.film_m.max(0.0),
        }
    }

    /// A bore less the film on both sides, metres; one that was too small before stays as it is.
    pub(super) fn worn_m(&self, bore_m: f64) -> f64 {
        let left_m = (bore_m - 2.0 * self.film_m()).max(LEAST_BORE_M);
        left_m.min(bore_m)
    }

    /// Whether the film closes a hole of this bore.
    pub(super) fn is_grown_over(&self, bore_m: f64) -> bool {
        self.film_m() > 0.0 && bore_m - 2.0 * self.film_m() <= LEAST_BORE_M
    }

    /// A roughness including growth on it, metres.
    pub(super) fn worn_roughness_m(&self, roughness_m: f64) -> f64 {
        match self.situation.age {
            Age::New | Age::AtWash => roughness_m,
            Age::Fouled => roughness_m.max(self.layout.ageing.roughness_m),
        }
    }

    /// Fraction of a screen that is blinded.
    pub(super) fn blinded(&self, own: f64) -> f64 {
        match self.situation.age {
            Age::New | Age::AtWash => own,
            Age::Fouled => own.max(self.layout.ageing.screens_blinded),
        }
    }
}
