//! The laws of water in pipes and openings, each with its source.
//!
//! Plain numbers in SI units in, plain numbers out; every law is a pure function. Where the solver needs a
//! derivative it comes with the value, as a [`Dual`]. One page per law is in `docs/method/`; the keys `[@…]` are
//! in `docs/sources.ron`.
//!
//! Invariant: nothing here knows of a layout, a catalogue or a network.

pub mod channel;
pub mod losses;
pub mod openings;
pub mod profile;
pub mod pump;
pub mod water;

/// Standard acceleration of free fall, m/s² (a convention, exact). [@bipm-si]
pub const STANDARD_GRAVITY_M_S2: f64 = 9.80665;

/// Smallest bore the laws compute with, m: a smaller or missing one is taken as this, so that no
/// input can divide by zero. Nothing that is built comes near it.
pub const LEAST_BORE_M: f64 = 1e-4;

/// Smallest kinematic viscosity the laws compute with, m²/s (water is near 1e-6).
pub(crate) const LEAST_VISCOSITY_M2_S: f64 = 1e-9;

/// A value and its derivative with respect to the argument it was evaluated at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dual {
    /// The value.
    pub value: f64,
    /// Its derivative.
    pub derivative: f64,
}

impl Dual {
    /// Zero, with derivative zero.
    pub const ZERO: Dual = Dual {
        value: 0.0,
        derivative: 0.0,
    };
}

/// Area of a full circular bore, m².
pub(crate) fn full_area_m2(bore_m: f64) -> f64 {
    std::f64::consts::FRAC_PI_4 * bore_m * bore_m
}
