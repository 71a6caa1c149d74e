//! The solver: limits, closed forms, and layouts that make no sense.

mod books;
mod edges;
mod large;
mod monotone;
mod random;
mod redrawn;
