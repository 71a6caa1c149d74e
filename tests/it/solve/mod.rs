//! The solver: limits, closed forms, and layouts that make no sense.

mod random;
