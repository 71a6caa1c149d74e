//! SI inside, text outside: how quantities are written for people.
//!
//! Invariant: knows quantities and nothing else.

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

/// What is written in place of a number that is not one.
pub const NOT_KNOWN: &str = "not known";

/// Writes `value` (SI) with its unit for a reader, in the unit that fits its size.
///
/// Any value is allowed; NaN and the infinities read [`NOT_KNOWN`]. A time is written as a [`span`].
pub fn write(quantity: Quantity, value: f64, system: UnitSystem) -> String {
    match quantity {
        Quantity::Time => span(value),
        _ => unit_for(quantity, value, system).write(value),
    }
}
