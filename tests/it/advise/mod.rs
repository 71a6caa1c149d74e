//! Cures: what they change, that they work, and that a little less does not.

mod air;
mod band;
mod crests;
pub mod layouts;
mod others;
