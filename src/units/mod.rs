//! Formatting and parsing of quantities: SI inside, text outside.
//!
//! Invariant: depends on quantities and nothing else.

pub mod convert;
mod feet;
mod figures;
mod quantity;
mod read;
mod span;
mod unit;

pub use quantity::{Quantity, UnitSystem, si_symbol};
pub use read::{read, read_in};
pub use span::span;
pub use unit::{Unit, unit_for};

/// Text written in place of NaN and the infinities.
pub const NOT_KNOWN: &str = "not known";

/// Formats `value` (SI) with its unit for a reader, in the unit that suits its size.
///
/// Any value is allowed; NaN and the infinities are written as [`NOT_KNOWN`]. A time is written as a [`span`].
pub fn write(quantity: Quantity, value: f64, system: UnitSystem) -> String {
    match quantity {
        Quantity::Time => span(value),
        _ => unit_for(quantity, value, system).write(value),
    }
}
