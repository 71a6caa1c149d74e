//! The section: where things stand, what is told, and that no layout breaks it.

pub mod case;
mod details;
mod filling;
mod order;
mod random;
mod told;
mod touched;
mod vents;
